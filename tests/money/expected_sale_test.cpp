#include "tedge/money/expected_sale.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"
#include "tedge/money/ceiling.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

ExpectedSale expected(const char* plan, const char* margin_price) {
    const auto parsed = parse_ceiling_plan(plan);
    REQUIRE(parsed);
    return expected_sale(*parsed, pounds(), gbp(margin_price)).value();
}

}  // namespace

// Worked by hand. PERT mean (a + 4m + b)/6; VAT in a margin at 20 % one sixth.
TEST_CASE("the mean and the least of a sale by the plan's own outcomes") {
    const char* plan = R"({"currency":"GBP","sale":{},"selling":"margin-scheme","vat_percent":20,
      "costs":[{"name":"cleaning","amount":[600,900,1800]},{"name":"lining","amount":450}],
      "outcomes":[{"name":"master","probability":0.4,"price":[15000,20000,31000],"months":[3,8,25]},
                  {"name":"studio","probability":0.6,"price":7000,"months":6,"unsold":0.1}],
      "conditions":[{"name":"sound","probability":0.75},
                    {"name":"skinned","probability":0.25,"price_factor":0.5,"cost_factor":[1,2,3]}],
      "selling_commission_percent":10})";
    const ExpectedSale sale = expected(plan, "5000");
    // 0.4 · 21,000 + 0.6 · 7,000 · 0.95 = 12,390; conditions 0.75 + 0.125 = 0.875
    CHECK(sale.price == gbp("10841.25"));
    // What lies above 5,000: 0.3 · 16,000 + 0.1 · 5,500 + 0.405 · 2,000 = 6,160, of which a sixth
    CHECK(sale.net == gbp("8730.46"));       // 9,757.125 − 1,026.67, rounded once
    CHECK(sale.worst_price == gbp("1750"));  // studio, skinned, unsold: 7,000 · 0.5 · 0.5
    CHECK(sale.worst_net == gbp("1575"));    // a loss brings no VAT
    CHECK(sale.costs == gbp("1812.50"));     // (1,000 + 450) · 1.25
    CHECK(sale.worst_costs == gbp("6750"));
    CHECK(sale.cost_factor == dec("1.25"));
    CHECK(sale.worst_cost_factor == dec("3"));
    CHECK(sale.months == 8);  // 0.4 · 10 + 0.6 · 1.1 · 6 = 7.96
}

// The same plan as a ceiling: bought at 5,000 without any charge, the profit expected there is this net less 5,000.
TEST_CASE("VAT on the margin is expected as the ceiling expects it, though half the prices owe none") {
    const char* plan = R"({"currency":"GBP","sale":{},"selling":"margin-scheme","vat_percent":20,
      "outcomes":[{"probability":0.5,"price":10000},{"probability":0.5,"price":1000}],"target":{"cash":5000}})";
    const ExpectedSale sale = expected(plan, "5000");
    CHECK(sale.net == gbp("5083.33"));  // 5,500 − 0.5 · 5,000 / 6
    const auto report = solve_ceiling(parse_ceiling_plan(plan).value());
    REQUIRE(report);
    REQUIRE(report->at_bid);
    CHECK(report->at_bid->all_in == gbp("5000"));
    CHECK(report->at_bid->expected_profit == gbp("83.33"));
}

TEST_CASE("winner's curse is in the price, and a certain plan gives itself") {
    const char* certain =
        R"({"currency":"GBP","sale":{},"selling":"none","outcomes":[{"name":"x","probability":1,"price":1000}]})";
    const ExpectedSale sale = expected(certain, "1");
    CHECK(sale.price == gbp("1000"));
    CHECK(sale.worst_net == gbp("1000"));
    CHECK_FALSE(sale.months);
    const char* shaded =
        R"({"currency":"GBP","sale":{},"selling":"none","outcomes":[{"name":"x","probability":1,"price":1000}],
      "bidders":{"serious":4,"signal_error":0.2}})";
    CHECK(expected(shaded, "1").price == gbp("900"));
    const auto parsed = parse_ceiling_plan(certain).value();
    CHECK(expected_sale(parsed, pounds(), parse_money("1", Currency::parse("EUR").value()).value()).error().code ==
          "money.mixed-currencies");
}
