#include "tedge/money/ceiling_plan.hpp"

#include <catch2/catch.hpp>

#include <fmt/format.h>

#include "plan_reader.hpp"
#include "plan_texts.hpp"
#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

struct BadPlan {
    std::string_view piece;
    std::string_view other;
    std::string_view code;
    std::string_view field;
};

std::string fault(std::string_view json) {
    const auto plan = parse_ceiling_plan(json);
    if (plan) return "none";
    CHECK_FALSE(plan.error().message.empty());
    CHECK_FALSE(plan.error().values.at("reason").empty());
    return plan.error().code + " " + plan.error().values.at("field");
}

}  // namespace

TEST_CASE("every field of the example is read") {
    const CeilingPlan plan = plan_of(two_outcomes);
    CHECK(plan.sale.currency == pounds());
    REQUIRE(plan.sale.premium.size() == 2);
    CHECK(plan.sale.premium[0].up_to_minor == gbp("50000").minor);
    CHECK(plan.sale.premium[1].percent == dec("20"));
    CHECK(plan.sale.vat_on_premium_percent == dec("20"));
    CHECK_FALSE(plan.sale.royalty);
    CHECK_FALSE(plan.sale.increments.every_penny());
    CHECK(plan.selling == Selling::margin_scheme);
    CHECK(plan.costs[0].amount_minor == Estimate<std::int64_t>{60'000, 90'000, 180'000});
    CHECK(plan.costs[1].amount_minor.is_certain());
    CHECK(plan.outcomes[1].name == "studio");
    CHECK(plan.outcomes[1].unsold == dec("0.1"));
    CHECK(plan.outcomes[0].months == Estimate<Decimal>{dec("3"), dec("8"), dec("24")});
    CHECK(plan.conditions[0].price_factor == Estimate<Decimal>::certain(dec("1")));
    CHECK(plan.conditions[1].cost_factor.high == dec("2.2"));
    CHECK(plan.target.loss_probability == dec("0.2"));
    CHECK(plan.bidders.serious == dec("4"));
}

TEST_CASE("defaults are those of the format") {
    const CeilingPlan plan = plan_of(certain);
    CHECK(plan.unsold_recovers == dec("0.5"));
    CHECK(plan.conditions.empty());
    CHECK(plan.outcomes[0].probability == dec("1"));
    CHECK(plan.outcomes[0].unsold == dec("0"));
    CHECK_FALSE(plan.target.cash_minor);
    CHECK_FALSE(plan.target.loss_probability);
    CHECK(plan_of(exchanged(certain, R"("profit": 4000)", R"("profit": null, "cash": 5)")).target.profit_minor ==
          std::nullopt);
}

TEST_CASE("amounts are read from their text") {
    const auto price = [](std::string_view number) {
        return plan_of(exchanged(certain, "20000", number)).outcomes[0].price_minor.low;
    };
    CHECK(price("1e3") == 100'000);
    CHECK(price("0.1") == 10);
    CHECK(price("1.15") == 115);
    CHECK(price("2.5E3") == 250'000);
    CHECK(price("12345678.91") == 1'234'567'891);
    CHECK(price("0") == 0);
    CHECK(fault(exchanged(certain, "20000", "0.001")) == "plan.too-many-decimals outcomes[0].price");
    CHECK(fault(exchanged(certain, "20000", "1e-3")) == "plan.too-many-decimals outcomes[0].price");
    CHECK(fault(exchanged(certain, "20000", "20000.005")) == "plan.too-many-decimals outcomes[0].price");
    CHECK(fault(exchanged(exchanged(certain, "GBP", "JPY"), "20000", "20000.5")) ==
          "plan.too-many-decimals outcomes[0].price");
}

TEST_CASE("rates and chances are rounded to nine decimals") {
    const auto rounded = [](std::string_view number) { return rounded_decimal(number).value().to_text(); };
    CHECK(rounded("0.3333333333333333") == "0.333333333");
    CHECK(rounded("0.6666666666666666") == "0.666666667");
    CHECK(rounded("16.666666666666668") == "16.666666667");
    CHECK(rounded("-0.0000000005") == "-0.000000001");
    CHECK(rounded("4.9e-10") == "0");
    CHECK(rounded("1e-300") == "0");
    CHECK(rounded("9e-10") == "0.000000001");
    CHECK(rounded("99.9999999999") == "100");
    CHECK(rounded("20") == "20");
    CHECK(rounded("2.5e1") == "25");
    CHECK_FALSE(rounded_decimal("1e300"));
}

TEST_CASE("what is wrong is refused with the field and why") {
    const BadPlan bad[] = {
        {"\"fixed_fees\": 0", "\"fixed_fees\": 0, \"currency\": \"EUR\"", "money.mixed-currencies", "sale.currency"},
        {"\"fixed_fees\": 0", "\"currency\": \"EUR\", \"rate\": 0", "plan.out-of-range", "sale.rate"},
        {"\"fixed_fees\": 0", "\"currency\": \"EUR\", \"rate\": -0.9", "plan.negative", "sale.rate"},
        {"\"fixed_fees\": 0", "\"currency\": \"EUR\", \"rate\": 1e7", "plan.out-of-range", "sale.rate"},
        {"\"fixed_fees\": 0", "\"currency\": \"EUR\", \"rate\": \"0.9\"", "plan.wrong-kind", "sale.rate"},
        {"\"fixed_fees\": 0", "\"currency\": \"EUR\", \"rate\": 0.9, \"rate_margin_percent\": 101", "plan.out-of-range",
         "sale.rate_margin_percent"},
        {"\"fixed_fees\": 0", "\"rate\": 0.9", "plan.contradiction", "sale.rate"},
        {"\"fixed_fees\": 0", "\"currency\": \"euro\", \"rate\": 0.9", "money.unknown-currency", "sale.currency"},
        // numbers that do not fit together
        {"0.6, \"price\"", "0.5, \"price\"", "plan.probabilities", "outcomes"},
        {"0.6, \"price\"", "0.600002, \"price\"", "plan.probabilities", "outcomes"},
        {"\"probability\": 0.7", "\"probability\": 0.8", "plan.probabilities", "conditions"},
        {"\"probability\": 0.7", "\"probability\": -0.3", "plan.negative", "conditions[0].probability"},
        {"\"probability\": 0.7", "\"probability\": 1.1", "plan.out-of-range", "conditions[0].probability"},
        {"[15000, 20000, 32000]", "[15000, 14000, 32000]", "plan.not-in-order", "outcomes[0].price"},
        {"[15000, 20000, 32000]", "[15000, 33000, 32000]", "plan.not-in-order", "outcomes[0].price"},
        {"[3, 8, 24]", "[8, 3, 24]", "plan.not-in-order", "outcomes[0].months"},
        {"[0.4, 0.55, 0.7]", "[0.4, 0.8, 0.7]", "plan.not-in-order", "conditions[1].price_factor"},
        {"[600, 900, 1800]", "[600, 500, 1800]", "plan.not-in-order", "costs[0].amount"},
        // negative and out of range
        {"[15000, 20000, 32000]", "[-1, 20000, 32000]", "plan.negative", "outcomes[0].price"},
        {"\"amount\": 450", "\"amount\": -450", "plan.negative", "costs[1].amount"},
        {"[3, 8, 24]", "[-3, 8, 24]", "plan.negative", "outcomes[0].months"},
        {"[3, 8, 24]", "[3, 8, 2400]", "plan.out-of-range", "outcomes[0].months"},
        {"\"unsold\": 0.05", "\"unsold\": 1.05", "plan.out-of-range", "outcomes[0].unsold"},
        {"[1.2, 1.5, 2.2]", "[-1.2, 1.5, 2.2]", "plan.negative", "conditions[1].cost_factor"},
        {"\"unsold_recovers\": 0.5", "\"unsold_recovers\": 50", "plan.out-of-range", "unsold_recovers"},
        {"\"vat_percent\": 20", "\"vat_percent\": -20", "plan.negative", "vat_percent"},
        {"\"selling_commission_percent\": 0", "\"selling_commission_percent\": 84", "plan.out-of-range",
         "selling_commission_percent"},
        {"\"finance_percent_a_year\": 0", "\"finance_percent_a_year\": -1", "plan.negative", "finance_percent_a_year"},
        {"\"loss_probability\": 0.2", "\"loss_probability\": 20", "plan.out-of-range", "target.loss_probability"},
        {"\"cash\": 20000", "\"cash\": -20000", "plan.negative", "target.cash"},
        {"\"serious\": 4", "\"serious\": 4.5", "plan.out-of-range", "bidders.serious"},
        {"\"serious\": 4", "\"serious\": -1", "plan.negative", "bidders.serious"},
        {"\"signal_error\": 0.15", "\"signal_error\": 1.5", "plan.out-of-range", "bidders.signal_error"},
        {"\"cash\": 20000", "\"cash\": 1e12", "plan.out-of-range", "target.cash"},
        {"\"cash\": 20000", "\"cash\": 1e400", "plan.out-of-range", "target.cash"},
        // the sale
        {"{\"up_to\": 50000, \"percent\": 25}", "{\"percent\": 25}", "sale.bands-out-of-order",
         "sale.premium[0].up_to"},
        {"{\"percent\": 20}", "{\"up_to\": 40000, \"percent\": 20}, {\"percent\": 9}", "sale.bands-out-of-order",
         "sale.premium[1].up_to"},
        {"{\"percent\": 20}", "{\"up_to\": 60000, \"percent\": 20}", "sale.no-open-band", "sale.premium[1].up_to"},
        {"\"percent\": 25", "\"percent\": -25", "sale.negative", "sale.premium[0].percent"},
        {"\"percent\": 25", "\"percent\": 250", "sale.out-of-range", "sale.premium[0].percent"},
        {"\"fixed_fees\": 0", "\"fixed_fees\": -0.01", "sale.negative", "sale.fixed_fees"},
        {"\"minimum_premium\": 0", "\"minimum_premium\": 0.005", "plan.too-many-decimals", "sale.minimum_premium"},
        {"\"common\"", "\"usual\"", "increments.unknown-table", "sale.increments"},
        {"\"common\"", "[]", "increments.no-bids", "sale.increments"},
        {"\"common\"", "[100, 50]", "increments.not-ascending", "sale.increments"},
        {"\"common\"", "[100, {\"step\": 5}]", "plan.wrong-kind", "sale.increments"},
        {"\"common\"", "[{\"step\": 5}, {\"step\": 10}]", "increments.bad-rule", "sale.increments"},
        {"\"royalty\": false", "\"royalty\": true, \"date\": \"2024-03-31\"", "sale.royalty-currency", "sale.royalty"},
        {"\"royalty\": false", "\"royalty\": true, \"date\": \"2006-01-01\"", "royalty.no-rules", "sale.date"},
        {"\"royalty\": false", "\"date\": \"soon\"", "time.not-a-date", "sale.date"},
        // kinds, names, what is missing
        {"\"probability\": 0.7", "\"probability\": \"0.7\"", "plan.wrong-kind", "conditions[0].probability"},
        {"[15000, 20000, 32000]", "[15000, 32000]", "plan.wrong-kind", "outcomes[0].price"},
        {"[15000, 20000, 32000]", "[15000, null, 32000]", "plan.wrong-kind", "outcomes[0].price[1]"},
        {"\"royalty\": false", "\"royalty\": \"no\"", "plan.wrong-kind", "sale.royalty"},
        {"\"margin-scheme\"", "\"margin\"", "plan.out-of-range", "selling"},
        {"\"margin-scheme\"", "\"margin-scheme\", \"purchase_vat_recovered\": true", "plan.contradiction",
         "purchase_vat_recovered"},
        {"\"unsold\": 0.05", "\"unsolt\": 0.05", "plan.unknown-field", "outcomes[0].unsolt"},
        {"\"bidders\"", "\"biders\"", "plan.unknown-field", "biders"},
        {"\"fixed_fees\"", "\"fixed_fee\"", "plan.unknown-field", "sale.fixed_fee"},
        {"\"unsold\": 0.05", "\"unsold\": 0.05, \"unsold\": 0.06", "plan.repeated-field", "outcomes[0].unsold"},
        {"\"vat_percent\": 20,", "", "plan.missing-field", "vat_percent"},
        {"\"currency\": \"GBP\",", "", "plan.missing-field", "currency"},
        {"\"GBP\"", "\"pounds\"", "money.unknown-currency", "currency"},
        {"\"price\": [5000, 7000, 9000],", "", "plan.missing-field", "outcomes[1].price"},
        {"\"probability\": 0.6,", "", "plan.missing-field", "outcomes[1].probability"},
        {"\"name\": \"lining\", \"amount\": 450", "\"name\": \"lining\"", "plan.missing-field", "costs[1].amount"},
    };
    for (const BadPlan& one : bad) {
        INFO(one.piece << " -> " << one.other);
        CHECK(fault(exchanged(two_outcomes, one.piece, one.other)) == fmt::format("{} {}", one.code, one.field));
    }
    CHECK(fault(exchanged(exchanged(two_outcomes, "\"finance_percent_a_year\": 0", "\"finance_percent_a_year\": 5"),
                          "\"months\": [3, 6, 18],", "")) == "plan.missing-field outcomes[1].months");
    CHECK(fault(exchanged(certain, R"([{"price": 20000, "months": 6}])", "[]")) == "plan.no-outcomes outcomes");
}

TEST_CASE("a number that is too large is named in a sentence") {
    const auto said = [](std::string_view piece, const std::string& number) {
        return parse_ceiling_plan(exchanged(two_outcomes, piece, number)).error().message;
    };
    CHECK(said("\"cash\": 20000", "\"cash\": 1e400") ==
          "The plan cannot be used: target.cash is 1e400, which is too large to be counted.");
    CHECK(said("\"cash\": 20000", "\"cash\": 1e12") ==
          "The plan cannot be used: target.cash is 1e12, which is too large to be counted.");
    CHECK(said("32000]", "-2e999]") ==
          "The plan cannot be used: outcomes[0].price[2] is -2e999, which is too large to be counted.");
    CHECK(said("\"vat_percent\": 20,", "\"vat_percent\": 1e30,") ==
          "The plan cannot be used: vat_percent is 1e30, which is too large.");
    // as many digits as anybody likes to type
    CHECK(said("\"cash\": 20000", "\"cash\": " + std::string(500, '9')) ==
          "The plan cannot be used: target.cash is 999999999999999999999999…, which is too large to be counted.");
    const auto alone = parse_ceiling_plan("1e400").error();
    CHECK(alone.code == "plan.out-of-range");
    CHECK(alone.message == "The plan cannot be used: it is 1e400, which is too large to be counted.");
}

TEST_CASE("what lies at the edge of the tolerance is taken") {
    CHECK(fault(exchanged(two_outcomes, "0.6, \"price\"", "0.600001, \"price\"")) == "none");
    CHECK(fault(exchanged(two_outcomes, "0.6, \"price\"", "0.599999, \"price\"")) == "none");
    CHECK(fault(exchanged(two_outcomes, "\"vat_percent\": 20", "\"vat_percent\": 0")) == "none");
    CHECK(fault(exchanged(two_outcomes, "\"selling_commission_percent\": 0", "\"selling_commission_percent\": 83")) ==
          "none");
}

TEST_CASE("remarks may stand anywhere") {
    CHECK(fault(exchanged(two_outcomes, "\"currency\"", R"("comment": "viewed twice", "currency")")) == "none");
    CHECK(fault(exchanged(two_outcomes, "\"unsold\": 0.05", R"("unsold": 0.05, "note": ["a", {"b": 1}])")) == "none");
}

TEST_CASE("what is not JSON, or not a plan, is refused") {
    for (const std::string_view text : {"", "{", "nonsense", "{\"currency\": }", "\xff\xfe", "{} {}", "[1, 2"}) {
        INFO(text);
        CHECK(fault(text) == "plan.not-json ");
    }
    CHECK(fault("[]") == "plan.wrong-kind ");
    CHECK(fault("12") == "plan.wrong-kind ");
    CHECK(fault("{}") == "plan.missing-field currency");
    CHECK(fault(std::string(100'000, '[')) == "plan.not-json ");
}

TEST_CASE("lists of unreasonable length are refused") {
    std::string lines;
    for (int i = 0; i < 61; ++i) lines += R"({"amount": 1},)";
    CHECK(fault(exchanged(certain, R"({"name": "all", "amount": 3000})", lines + R"({"amount": 1})")) ==
          "plan.too-long costs");
}

TEST_CASE("increments as lists of bids and of rules") {
    const auto next = [](std::string_view increments, std::string_view bid) {
        const CeilingPlan plan = plan_of(exchanged(certain, "\"common\"", increments));
        return plan.sale.increments.lowest_above(gbp(bid).minor).value_or(-1);
    };
    CHECK(next("[10.5, 20]", "0") == 1'050);
    constexpr std::string_view rules = R"([{"up_to": 300, "step": 20}, {"from": 300, "to": 500,
                                            "endings": [0, 20, 50, 80]}, {"step": 50}])";
    CHECK(next(rules, "0") == 2'000);
    CHECK(next(rules, "280") == 30'000);
    CHECK(next(rules, "320") == 35'000);
    CHECK(next(rules, "480") == 50'000);
    CHECK(next(rules, "500") == 55'000);
    CHECK(next("\"fine\"", "18") == 1'900);
}

TEST_CASE("the terms of the sale alone are enough for an invoice") {
    const auto terms = parse_sale_terms(R"({"currency": "EUR", "sale": {"premium": [{"percent": 22.5}]}, "draft": 1})");
    REQUIRE(terms);
    CHECK(terms->currency.code() == "EUR");
    CHECK(terms->premium[0].percent == dec("22.5"));
    CHECK(parse_sale_terms(R"({"currency": "EUR", "sale": {"currency": "EUR", "fixed_fees": 3}})"));
    CHECK(parse_sale_terms(R"({"currency": "EUR"})").error().values.at("field") == "sale");
    CHECK(parse_sale_terms("{").error().code == "plan.not-json");
    CHECK(parse_sale_terms(R"({"currency": "EUR", "sale": {"fixed_fees": -1}})").error().code == "sale.negative");
}

TEST_CASE("a plan put together by hand is checked the same way") {
    CeilingPlan plan = plan_of(two_outcomes);
    CHECK(check(plan));
    plan.outcomes[0].price_minor.low = -1;
    CHECK(check(plan).error().values.at("field") == "outcomes[0].price");
    CHECK(solve_ceiling(plan).error().code == "plan.negative");
}
