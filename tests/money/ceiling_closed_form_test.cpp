// Plans whose answer can be written down. Unless a line says otherwise the arithmetic is our own, by the rules in
// ceiling.hpp; the margin scheme's share of one sixth is gov.uk's.
#include <catch2/catch.hpp>

#include "plan_texts.hpp"
#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

std::string target_hammer(std::string_view plan) {
    return text(solved(plan).target.value().hammer);
}

// The certain plan sold without any VAT: profit = price − 1.3 H − costs.
std::string untaxed() {
    return exchanged(certain, "margin-scheme", "none");
}

}  // namespace

TEST_CASE("margin scheme: P = S − 1.2 (C + target), then down to the increment") {
    const CeilingReport report =
        solved(exchanged(certain, R"("profit": 4000)", R"("profit": 4000, "loss_probability": 0.2, "cash": 20000)"));
    CHECK(text(report.target->hammer) == "8923.07");  // 11,600 / 1.3 = 8,923.0769…
    CHECK(text(report.target->bid) == "8500.00");
    CHECK(text(report.risk->hammer) == "12615.38");  // 16,400 / 1.3
    CHECK(text(report.cash->hammer) == "13076.92");  // 17,000 / 1.3
    CHECK(text(report.cash->bid) == "13000.00");
    CHECK(report.binding == Limit::target);
    CHECK(text(*report.bid) == "8500.00");
    CHECK(text(report.at_bid->all_in) == "11050.00");
    CHECK(text(report.at_bid->margin_price) == "11050.00");
    CHECK(text(report.at_bid->expected_profit) == "4458.33");
    CHECK(report.at_bid->loss_probability == 0.0);
    CHECK(text(report.at_bid->quantiles.p5) == "4458.33");
    CHECK(text(report.at_bid->quantiles.p95) == "4458.33");
    CHECK(report.remarks.empty());
}

TEST_CASE("a loss under the margin scheme carries no VAT") {
    // S 5,000, C 1,000, a loss of 2,000 accepted: P = 6,000 > S
    auto plan = exchanged(certain, "20000", "5000");
    plan = exchanged(plan, R"("amount": 3000)", R"("amount": 1000)");
    CHECK(target_hammer(exchanged(plan, R"("profit": 4000)", R"("profit": -2000)")) == "4615.38");
}

TEST_CASE("surcharge and fees are paid but never enter the margin") {
    // 5/6 S + (1.3/6) H − 1.33 H − 10 − C = 4,000
    const auto plan =
        exchanged(certain, R"("increments")", R"("surcharge_percent": 3, "fixed_fees": 10, "increments")");
    CHECK(target_hammer(plan) == "8673.65");
    const CeilingReport report = solved(plan);
    CHECK(text(report.at_bid->all_in) == "11315.00");
    CHECK(text(report.at_bid->margin_price) == "11050.00");
}

TEST_CASE("a premium that holds its VAT, and VAT on the hammer, belong to the margin price") {
    CHECK(target_hammer(exchanged(certain, R"([{"percent": 25}])",
                                  R"([{"percent": 30}], "premium_includes_vat": true)")) == "8923.07");
    CHECK(target_hammer(exchanged(certain, R"("increments")", R"("vat_on_hammer_percent": 5, "increments")")) ==
          "8592.59");  // 11,600 / 1.35
}

TEST_CASE("ordinary VAT: a sixth of the price goes, VAT on premium and hammer comes back") {
    auto plan = exchanged(certain, "margin-scheme", "ordinary");
    plan = exchanged(plan, "20000", "24000");
    plan = exchanged(plan, R"("increments")", R"("vat_on_hammer_percent": 20, "increments")");
    const CeilingReport report = solved(plan);
    CHECK(text(report.target->hammer) == "10400.00");  // 24,000 − 4,000 − 3,000 − 4,000 = 13,000 = 1.25 H
    CHECK(text(report.at_bid->all_in) == "15000.00");  // at 10,000
    CHECK(text(report.at_bid->expected_profit) == "4500.00");
    // the VAT inside an inclusive premium comes back too: 1.3 H − 0.05 H + 0.2 H − 0.2 H
    plan = exchanged(plan, R"([{"percent": 25}])", R"([{"percent": 30}], "premium_includes_vat": true)");
    CHECK(target_hammer(plan) == "10400.00");
}

TEST_CASE("export and no VAT") {
    CHECK(target_hammer(untaxed()) == "10000.00");  // 13,000 / 1.3
    CHECK(target_hammer(exchanged(certain, "margin-scheme", "export")) == "10000.00");
    CHECK(target_hammer(exchanged(certain, R"("margin-scheme")", R"("export", "purchase_vat_recovered": true)")) ==
          "10400.00");  // 13,000 / 1.25
    CHECK(target_hammer(exchanged(untaxed(), R"("selling": "none", "vat_percent": 20,)", "")) == "10000.00");
}

TEST_CASE("selling commission is taken from the price, the VAT of the margin is not lowered by it") {
    // 18,000 − (20,000 − P)/6 − P − 3,000 = 4,000: P = 9,200
    CHECK(target_hammer(exchanged(certain, R"("target")", R"("selling_commission_percent": 10, "target")")) ==
          "7076.92");
}

TEST_CASE("finance is simple interest on all-in and costs") {
    auto plan = exchanged(untaxed(), R"("target")", R"("finance_percent_a_year": 12, "target")");
    plan = exchanged(plan, R"("months": 6)", R"("months": 10)");
    CHECK(target_hammer(plan) == "8881.11");  // (P + 3,000)·1.1 = 16,000
    // the interest is reckoned on what was paid, VAT that is recovered later included
    plan = exchanged(plan, R"("none")", R"("export", "purchase_vat_recovered": true)");
    CHECK(target_hammer(plan) == "9202.89");  // 12,700 = (1.1·1.3 − 0.05) H
}

TEST_CASE("an unsold picture brings a share of the price after twice the months") {
    auto plan = exchanged(untaxed(), R"("target")", R"("finance_percent_a_year": 12, "target")");
    plan = exchanged(plan, R"("months": 6)", R"("months": 10, "unsold": 1)");
    plan = exchanged(plan, R"("amount": 3000)", R"("amount": 1000)");
    CHECK(target_hammer(exchanged(plan, R"("profit": 4000)", R"("profit": 1000)")) ==
          "5000.00");  // (P + 1,000)·1.2 = 9,000
    plan = exchanged(plan, R"("target")", R"("unsold_recovers": 0.75, "target")");
    CHECK(target_hammer(exchanged(plan, R"("profit": 4000)", R"("profit": 6000)")) == "5000.00");
}

TEST_CASE("that prices are lowered for the bidders there are is said in a sentence") {
    const auto with = [&](std::string_view bidders) {
        return solved(exchanged(untaxed(), R"("target")", std::string(bidders) + R"(, "target")")).remarks;
    };
    const auto said = with(R"("bidders": {"serious": 4, "signal_error": 0.15})");
    REQUIRE(said.size() == 1);
    CHECK(said[0].code == "ceiling.shade");
    CHECK(said[0].values.at("percent") == "7.5");
    CHECK(with(R"("bidders": {"serious": 2, "signal_error": 0.15})").empty());
}

TEST_CASE("serious bidders shade the price by e (n − 2)/n") {
    const auto with = [&](std::string_view bidders) {
        return target_hammer(exchanged(untaxed(), R"("target")", std::string(bidders) + R"(, "target")"));
    };
    CHECK(with(R"("bidders": {"serious": 4, "signal_error": 0.15})") == "8846.15");  // 18,500 − 7,000
    CHECK(with(R"("bidders": {"serious": 2, "signal_error": 0.15})") == "10000.00");
    CHECK(with(R"("bidders": {"serious": 1, "signal_error": 0.15})") == "10000.00");
    CHECK(with(R"("bidders": {"serious": 3, "signal_error": 0.3})") == "8461.53");  // 18,000 − 7,000
}

TEST_CASE("a condition moves price and costs together, cash counts the largest factor") {
    auto plan = exchanged(untaxed(), "20000", "10000");
    plan = exchanged(plan, R"("amount": 3000)", R"("amount": 1000)");
    plan = exchanged(plan, R"("profit": 4000)", R"("profit": 1000, "cash": 5400)");
    plan = exchanged(plan, R"("target")", R"("conditions": [{"price_factor": 0.55, "cost_factor": 1.5}], "target")");
    CHECK(text(solved(plan).target->hammer) == "2307.69");         // 5,500 − 1,500 − 1,000
    CHECK(text(solved(plan).cash->hammer) == "3000.00");           // 5,400 − 1,500
    CHECK(text(solved(two_outcomes).cash->hammer) == "11576.92");  // 20,000 − (1,800 + 450)·2.2 = 15,050
}

TEST_CASE("certain prices by chance: exact mean, exact chance, quantiles among the values") {
    auto plan = exchanged(untaxed(), R"([{"price": 20000, "months": 6}])",
                          R"([{"probability": 0.4, "price": 20000}, {"probability": 0.6, "price": 7000}])");
    plan = exchanged(plan, R"("amount": 3000)", R"("amount": 1000)");
    const auto with = [&](std::string_view target) { return solved(exchanged(plan, R"("profit": 4000)", target)); };
    CHECK(text(with(R"("profit": 2000)").target->hammer) == "7076.92");  // 12,200 − 1,000 − 2,000
    CHECK(text(with(R"("loss_probability": 0.6)").risk->hammer) == "14615.38");
    CHECK(text(with(R"("loss_probability": 0.599999999)").risk->hammer) == "4615.38");
    CHECK(text(with(R"("loss_probability": 0)").risk->hammer) == "4615.38");
    const auto at = profit_at(plan_of(plan), {gbp("1000"), gbp("4615.39")}).value();
    CHECK(text(at[0].expected_profit) == "9900.00");
    CHECK(text(at[0].quantiles.p5) == "4700.00");
    CHECK(text(at[0].quantiles.p50) == "4700.00");
    CHECK(text(at[0].quantiles.p95) == "17700.00");
    CHECK(at[0].loss_probability == 0.0);
    CHECK(at[1].loss_probability == 0.6);
}

TEST_CASE("a profit of exactly nothing is no loss") {
    const auto plan = exchanged(untaxed(), "20000", "16000");
    for (const auto* accepted : {R"("loss_probability": 0)", R"("loss_probability": 0.3)"}) {
        CHECK(text(solved(exchanged(plan, R"("profit": 4000)", accepted)).risk->hammer) == "10000.00");
    }
}

TEST_CASE("without the margin scheme uncertain prices and costs have an exact mean") {
    auto plan = exchanged(untaxed(), R"("price": 20000)", R"("price": [15000, 20000, 32000])");
    plan = exchanged(plan, R"("amount": 3000)", R"("amount": [600, 900, 1800])");
    CHECK(target_hammer(plan) == "12435.89");  // 21,166.67 − 1,000 − 4,000 = 16,166.67
    // no chance of loss at all: the worst case
    CHECK(text(solved(exchanged(plan, R"("profit": 4000)", R"("loss_probability": 0)")).risk->hammer) ==
          "10153.84");  // 15,000 − 1,800
}

TEST_CASE("under the margin scheme a price wholly above the margin price has an exact mean too") {
    auto plan = exchanged(certain, R"("price": 20000)", R"("price": [15000, 20000, 32000])");
    CHECK(target_hammer(plan) == "9820.51");  // P = 21,166.67 − 1.2·7,000 = 12,766.67 < 15,000
}

TEST_CASE("the answer at a jump of the all-in price is the penny below it") {
    auto plan =
        exchanged(untaxed(), R"("premium": [{"percent": 25}], "vat_on_premium_percent": 20)", R"("royalty": true)");
    plan = exchanged(plan, "20000", "5020");
    plan = exchanged(plan, R"("profit": 4000)", R"("profit": 1000)");
    const CeilingReport report = solved(plan);  // 1,020 may be spent, at 1,000 the royalty makes it 1,040
    CHECK(text(report.target->hammer) == "999.99");
    CHECK(text(report.target->bid) == "950.00");
}

TEST_CASE("where even the smallest price fails the ceiling is 0 and says why") {
    const CeilingReport dear = solved(exchanged(certain, R"("profit": 4000)", R"("profit": 17000, "cash": 2999)"));
    CHECK(dear.target->hammer.minor == 0);
    CHECK(dear.target->bid.minor == 0);
    CHECK(dear.target->reason->code == "ceiling.target-out-of-reach");
    CHECK(dear.cash->reason->code == "ceiling.cash-out-of-reach");
    CHECK(dear.bid->minor == 0);
    CHECK_FALSE(dear.at_bid);
    const CeilingReport loss =
        solved(exchanged(exchanged(certain, "20000", "2000"), R"("profit": 4000)", R"("loss_probability": 0.1)"));
    CHECK(loss.risk->reason->code == "ceiling.risk-out-of-reach");
    // a minimum premium that alone is too much
    auto least = exchanged(certain, R"("increments")", R"("minimum_premium": 50, "increments")");
    least = exchanged(least, R"("profit": 4000)", R"("cash": 3059.99)");
    CHECK(solved(least).cash->hammer.minor == 0);
    CHECK(solved(exchanged(least, "3059.99", "3060.01")).cash->hammer.minor == 1);
}

TEST_CASE("a limit below the first bid gives no bid and says why") {
    const CeilingReport report = solved(exchanged(certain, R"("profit": 4000)", R"("cash": 3012)"));
    CHECK(text(report.cash->hammer) == "9.23");
    CHECK(report.cash->bid.minor == 0);
    CHECK(report.cash->reason->code == "ceiling.below-first-bid");
    CHECK(report.cash->reason->values.at("first_bid") == "GBP 10.00");
}

TEST_CASE("what the plan does not limit has no ceiling") {
    const CeilingReport free = solved(exchanged(certain, R"("profit": 4000)", R"("loss_probability": 1)"));
    CHECK_FALSE(free.target);
    CHECK_FALSE(free.risk);
    CHECK_FALSE(free.cash);
    CHECK_FALSE(free.binding);
    CHECK_FALSE(free.bid);
    CHECK(free.remarks.at(0).code == "ceiling.no-limit");
    CHECK_FALSE(solved(exchanged(certain, R"(,
 "target": {"profit": 4000})",
                                 ""))
                    .bid);
}

TEST_CASE("without increments every penny is a bid, and that is said") {
    const CeilingReport report = solved(exchanged(certain, R"(, "increments": "common")", ""));
    CHECK(text(*report.bid) == "8923.07");
    CHECK(report.remarks.at(0).code == "ceiling.no-increments");
}

TEST_CASE("increments that end or are carried on are said") {
    const CeilingReport ended = solved(exchanged(certain, R"("common")", "[500, 1000]"));
    CHECK(text(*ended.bid) == "1000.00");
    CHECK(ended.remarks.at(0).code == "ceiling.increments-ended");
    const CeilingReport beyond = solved(exchanged(certain, "20000", "900000"));
    CHECK(beyond.remarks.at(0).code == "ceiling.increments-continued");
}

TEST_CASE("probabilities that miss 1 by a hair are made to add up") {
    const auto plan =
        exchanged(untaxed(), R"([{"price": 20000, "months": 6}])",
                  R"([{"probability": 0.333333, "price": 20000}, {"probability": 0.333333, "price": 20000},
                                    {"probability": 0.3333333, "price": 20000}])");
    CHECK(target_hammer(plan) == "10000.00");
}

TEST_CASE("prices of a thousand million are reckoned exactly, larger ones refused") {
    const auto plan = exchanged(untaxed(), "20000", "9000000000");
    CHECK(target_hammer(plan) == "6923071538.46");  // (9e9 − 7,000) / 1.3
    CHECK(parse_ceiling_plan(exchanged(untaxed(), "20000", "1e12")).error().values.at("field") == "outcomes[0].price");
}

// Own arithmetic: at 0.80 pounds a euro and 5 % for safety each euro of the all-in price costs 0.84 pounds.
TEST_CASE("a sale in another currency is reckoned at its rate with a margin, and bid in its own") {
    const auto abroad =
        exchanged(certain, R"({"premium")", R"({"currency": "EUR", "rate": 0.8, "rate_margin_percent": 5, "premium")");
    const CeilingReport report =
        solved(exchanged(abroad, R"("profit": 4000)", R"("profit": 4000, "loss_probability": 0, "cash": 20000)"));
    // margin scheme: P = 11,600 pounds = 13,809.52 euros all-in, 1.3 H
    CHECK(to_display_text(report.target->hammer) == "EUR 10,622.71");
    CHECK(to_display_text(report.target->bid) == "EUR 10,000.00");
    CHECK(to_display_text(report.cash->hammer) == "EUR 15,567.76");  // 17,000 / 0.84 / 1.3
    CHECK(to_display_text(report.risk->hammer) == "EUR 15,018.31");  // 16,400 / 0.84 / 1.3
    CHECK(to_display_text(report.at_bid->all_in) == "GBP 10,920.00");
    CHECK(to_display_text(report.at_bid->margin_price) == "GBP 10,920.00");
    CHECK(to_display_text(report.at_bid->expected_profit) == "GBP 4,566.67");  // 5/6 x 9,080 - 3,000
    // yen have no minor units
    const auto in_yen = exchanged(certain, R"({"premium")", R"({"currency": "JPY", "rate": 0.005, "premium")");
    CHECK(to_display_text(solved(in_yen).target->hammer) == "JPY 1,784,615");  // 11,600 / 0.005 / 1.3
    CHECK(parse_sale_terms(abroad).value().currency.code() == "EUR");
    // a sale in the plan's own currency says so or not
    CHECK(text(solved(exchanged(certain, R"({"premium")", R"({"currency": "GBP", "premium")")).target->hammer) ==
          "8923.07");
}

TEST_CASE("what no price hangs on may stand with the terms") {
    CHECK(plan_of(exchanged(certain, R"({"premium")",
                            R"({"deposit": 500, "pay_within_days": 7, "risk_passes": "fall-of-hammer", "premium")"))
              .sale.premium.size() == 1);
}
