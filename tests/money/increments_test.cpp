#include "tedge/money/increments.hpp"

#include <catch2/catch.hpp>
#include <limits>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

std::int64_t minor(std::string_view amount) {
    return gbp(amount).minor;
}

}  // namespace

// Source: a saleroom's published table of increments, 10 to 140,000, and the same pattern continued to 1,000,000.
TEST_CASE("the common table calls every published bid and no other") {
    const Increments common = Increments::named("common", pounds()).value();
    const Table rows = reference_rows("bid_increments.csv");
    std::int64_t before = 0;
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        const std::int64_t rung = minor(rows.cell(row, "rung"));
        INFO(rows.cell(row, "rung"));
        CHECK(common.lowest_above(before) == rung);
        CHECK(common.highest_not_above(rung) == rung);
        if (before > 0) CHECK(common.highest_not_above(rung - 1) == before);
        CHECK(common.is_beyond_published(rung) == (rows.cell(row, "status") != "published"));
        before = rung;
    }
    CHECK(before == minor("1000000"));
}

TEST_CASE("beyond the published range the rule is carried on by decades") {
    const Increments common = Increments::named("common", pounds()).value();
    CHECK(common.highest_not_above(minor("3499999.99")) == minor("3200000"));
    CHECK(common.highest_not_above(minor("3500000")) == minor("3500000"));
    CHECK(common.highest_not_above(minor("47999999")) == minor("45000000"));
    CHECK(common.lowest_above(minor("9500000")) == minor("10000000"));
    CHECK_FALSE(common.last_bid());
}

TEST_CASE("below the first bid there is none") {
    const Increments common = Increments::named("common", pounds()).value();
    CHECK_FALSE(common.highest_not_above(minor("9.99")));
    CHECK_FALSE(common.highest_not_above(0));
    CHECK_FALSE(common.highest_not_above(-5));
    CHECK(common.lowest_above(0) == minor("10"));
}

TEST_CASE("common bids are whole units of any currency") {
    const Increments yen = Increments::named("common", Currency::parse("JPY").value()).value();
    CHECK(yen.highest_not_above(349) == 320);
    const Increments dinars = Increments::named("common", Currency::parse("TND").value()).value();
    CHECK(dinars.highest_not_above(349'999) == 320'000);
}

// Source: another saleroom's published steps: by 1 to 20, by 2 to 40, 2/5/8 to 60, by 5 to 160, by 10 to 400, by 20
// above.
TEST_CASE("the fine table follows its published steps") {
    const Increments fine = Increments::named("fine", pounds()).value();
    const auto next = [&](std::string_view bid) { return text({fine.lowest_above(minor(bid)).value(), pounds()}); };
    CHECK(next("0") == "1.00");
    CHECK(next("19") == "20.00");
    CHECK(next("20") == "22.00");
    CHECK(next("38") == "40.00");
    CHECK(next("40") == "42.00");
    CHECK(next("42") == "45.00");
    CHECK(next("45") == "48.00");
    CHECK(next("48") == "50.00");
    CHECK(next("58") == "60.00");
    CHECK(next("60") == "65.00");
    CHECK(next("155") == "160.00");
    CHECK(next("160") == "170.00");
    CHECK(next("390") == "400.00");
    CHECK(next("400") == "420.00");
    CHECK(next("1980") == "2000.00");
}

TEST_CASE("an unknown table is refused by its name") {
    const auto refused = Increments::named("usual", pounds());
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "increments.unknown-table");
    CHECK(refused.error().values.at("table") == "usual");
}

TEST_CASE("a list of bids is used as it stands") {
    const Increments list = Increments::from_bids({minor("50"), minor("60"), minor("75.50")}).value();
    CHECK(list.highest_not_above(minor("75.49")) == minor("60"));
    CHECK(list.highest_not_above(minor("99999")) == minor("75.50"));
    CHECK_FALSE(list.highest_not_above(minor("49.99")));
    CHECK(list.lowest_above(minor("50")) == minor("60"));
    CHECK_FALSE(list.lowest_above(minor("75.50")));
    CHECK(list.last_bid() == minor("75.50"));
    CHECK(Increments::from_bids({}).error().code == "increments.no-bids");
    CHECK(Increments::from_bids({0, 5}).error().code == "increments.not-positive");
    CHECK(Increments::from_bids({5, 5}).error().code == "increments.not-ascending");
    CHECK(Increments::from_bids({7, 5}).error().code == "increments.not-ascending");
}

TEST_CASE("rules with an end include it and end there") {
    const Increments rules =
        Increments::from_rules({{.from_minor = 0, .to_minor = 100, .step_minor = 30},
                                {.from_minor = 100, .to_minor = 200, .endings_minor = {0, 50}, .within_minor = 100}})
            .value();
    CHECK(rules.lowest_above(0) == 30);
    CHECK(rules.highest_not_above(99) == 90);
    CHECK(rules.lowest_above(90) == 100);
    CHECK(rules.lowest_above(100) == 150);
    CHECK(rules.lowest_above(150) == 200);
    CHECK_FALSE(rules.lowest_above(200));
    CHECK(rules.highest_not_above(1'000'000) == 200);
    CHECK(rules.last_bid() == 200);
}

TEST_CASE("rules that do not fit together are refused with the rule and the reason") {
    const auto code = [](std::vector<IncrementRule> rules) { return Increments::from_rules(std::move(rules)).error(); };
    CHECK(code({}).code == "increments.no-bids");
    CHECK(code({{.from_minor = 0, .to_minor = 100, .step_minor = 10}, {.from_minor = 90, .step_minor = 10}})
              .values.at("rule") == "1");
    CHECK(code({{.from_minor = 0, .to_minor = 100, .step_minor = 10}, {.from_minor = 110, .step_minor = 10}}).code ==
          "increments.bad-rule");
    CHECK(code({{.from_minor = 0, .to_minor = 100}}).values.at("reason") == "it has neither a step nor endings");
    CHECK(code({{.from_minor = 0, .step_minor = -5}}).code == "increments.bad-rule");
    CHECK(code({{.from_minor = 0, .step_minor = 5}, {.from_minor = 10, .step_minor = 5}}).code ==
          "increments.bad-rule");
    CHECK(code({{.from_minor = 10, .endings_minor = {20, 120}, .within_minor = 100}}).code == "increments.bad-rule");
    CHECK(code({{.from_minor = 10, .endings_minor = {50, 20}, .within_minor = 100}}).code == "increments.bad-rule");
    CHECK(code({{.from_minor = 10, .to_minor = 200, .step_minor = 5, .each_decade = true}}).code ==
          "increments.bad-rule");
    CHECK(code({{.from_minor = 10, .step_minor = 5, .each_decade = true}}).code == "increments.bad-rule");
    CHECK(code({{.from_minor = 10, .to_minor = 20, .step_minor = 50, .each_decade = true}}).values.at("reason") ==
          "its steps pass its end");
    CHECK(code({{.from_minor = 0, .endings_minor = {5}, .within_minor = std::numeric_limits<std::int64_t>::max()}})
              .values.at("reason") == "what the endings lie within is too large");
    CHECK(code({{.from_minor = 0, .to_minor = 0, .step_minor = 5}}).code == "increments.bad-rule");
}

TEST_CASE("highest and lowest agree with each other on every table") {
    for (const Increments& table :
         {Increments::named("common", pounds()).value(), Increments::named("fine", pounds()).value(), Increments()}) {
        std::int64_t bid = 0;
        for (int i = 0; i < 400; ++i) {
            const auto next = table.lowest_above(bid);
            REQUIRE(next);
            REQUIRE(*next > bid);
            REQUIRE(table.highest_not_above(*next) == next);
            if (bid > 0) REQUIRE(table.highest_not_above(*next - 1) == bid);
            bid = *next;
        }
    }
}

TEST_CASE("the walk over a table goes on to the end of what money counts, and ends there") {
    constexpr std::int64_t largest = 9'000'000'000'000'000;  // base/money.hpp
    const Increments common = Increments::named("common", pounds()).value();
    std::vector<std::int64_t> bids;
    for (auto bid = common.lowest_above(0); bid; bid = common.lowest_above(*bid)) bids.push_back(*bid);
    // 9 bids by tens up to 90, then 33 in each decade: 10 by tens, 5 by twenties, 8 by endings, 10 by fifties.
    REQUIRE(bids.size() == 404);
    for (std::size_t i = 9; i + 33 < bids.size(); ++i) REQUIRE(bids[i + 33] == 10 * bids[i]);
    CHECK(bids.back() == largest);
    for (const Increments& table : {common, Increments::named("fine", pounds()).value(), Increments()}) {
        CHECK(table.highest_not_above(std::numeric_limits<std::int64_t>::max()) == largest);
        CHECK_FALSE(table.lowest_above(largest));
        CHECK_FALSE(table.lowest_above(std::numeric_limits<std::int64_t>::max()));
        CHECK(table.lowest_above(table.highest_not_above(largest - 1).value()) == largest);
    }
}

TEST_CASE("a rule whose steps are wider than its stretch calls its beginning alone") {
    const Increments rules = Increments::from_rules({{.from_minor = 10, .to_minor = 20, .step_minor = 50},
                                                     {.from_minor = 20, .to_minor = 200, .step_minor = 90}})
                                 .value();
    CHECK(rules.lowest_above(0) == 10);
    CHECK(rules.lowest_above(10) == 20);
    CHECK(rules.lowest_above(20) == 110);
    CHECK(rules.last_bid() == 200);
}

TEST_CASE("the last bids on the way to a limit") {
    const Increments common = Increments::named("common", pounds()).value();
    CHECK(common.last_bids_up_to(minor("340"), 4) ==
          std::vector{minor("260"), minor("280"), minor("300"), minor("320")});
    CHECK(common.last_bids_up_to(minor("25"), 4) == std::vector{minor("10"), minor("20")});
    CHECK(common.last_bids_up_to(minor("5"), 4).empty());
}
