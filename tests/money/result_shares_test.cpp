#include "tedge/money/result_shares.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

TEST_CASE("a loss is borne only by those who said so") {
    const std::vector<ResultShare> shares{{dec("50"), true}, {dec("10"), false}};
    const auto profit = share_result(gbp("1000"), shares).value();
    CHECK(profit.shares == std::vector<Money>{gbp("500"), gbp("100")});
    CHECK(profit.ours == gbp("400"));
    const auto loss = share_result(gbp("-1000"), shares).value();
    CHECK(loss.shares == std::vector<Money>{gbp("-500"), gbp("0")});
    CHECK(loss.ours == gbp("-500"));
    CHECK(share_result(gbp("7"), {}).value().ours == gbp("7"));
}

TEST_CASE("the parts add up to the result, to the penny") {
    std::mt19937 random(4);
    for (int round = 0; round < 2000; ++round) {
        std::vector<ResultShare> shares;
        std::int64_t left = 100 * Decimal::units_per_one;
        const int count = std::uniform_int_distribution<int>(0, 6)(random);
        for (int i = 0; i < count; ++i) {
            const auto units = std::uniform_int_distribution<std::int64_t>(0, left)(random);
            left -= units;
            shares.push_back({Decimal::from_units(units), random() % 2 == 0});
        }
        const Money result{std::uniform_int_distribution<std::int64_t>(-99'999'999, 99'999'999)(random), pounds()};
        const auto shared = share_result(result, shares).value();
        Money sum = shared.ours;
        for (const Money& part : shared.shares) sum = add(sum, part).value();
        CHECK(sum == result);
    }
}

TEST_CASE("more than the whole is refused") {
    CHECK(share_result(gbp("1"), {{dec("60"), true}, {dec("40.000000001"), true}}).error().code == "shares.over-100");
    CHECK(share_result(gbp("1"), {{dec("60"), true}, {dec("40"), true}}).has_value());
    CHECK(share_result(gbp("1"), {{dec("-1"), true}}).error().code == "shares.out-of-range");
    CHECK(share_result(gbp("1"), {{dec("101"), true}}).error().code == "shares.out-of-range");
    CHECK(share_result(gbp("1"), std::vector<ResultShare>(200, {dec("100"), true})).error().code == "shares.over-100");
}
