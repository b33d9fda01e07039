// Totals are those of the published invoices (tests/reference/auction_invoice_examples.csv) or own arithmetic.
#include "tedge/money/sale_presets.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;
using namespace std::chrono_literals;

namespace {

constexpr auto a_day_in_2026 = 2026y / 3 / 1;

SaleTerms preset_terms(std::string_view name) {
    return sale_preset(name, a_day_in_2026).value().terms;
}

}  // namespace

TEST_CASE("presets are sound terms, each with its source and how sure it is") {
    const auto presets = sale_presets_on(a_day_in_2026);
    CHECK(presets.size() >= 8);
    for (const SalePreset& preset : presets) {
        INFO(preset.name);
        CHECK(check(preset.terms));
        CHECK_FALSE(preset.label.empty());
        CHECK_FALSE(preset.status.empty());
        CHECK_FALSE(preset.source.empty());
    }
    for (const BiddingRoute& route : usual_bidding_routes()) CHECK(route.status == "from memory");
}

TEST_CASE("presets give the published totals") {
    CHECK(text(invoice(preset_terms("regional-25"), gbp("1000")).value().total) == "1300.00");       // inv1
    CHECK(text(invoice(preset_terms("ordinary-vat-lot"), gbp("1000")).value().total) == "1500.00");  // inv2
    CHECK(text(invoice(preset_terms("banded-25-20"), gbp("80000")).value().total) == "102200.00");   // inv3, put right
    CHECK(text(invoice(preset_terms("imported-lot"), gbp("8500")).value().total) == "11475.00");     // inv9
    CHECK(text(invoice(preset_terms("regional-30-inclusive"), gbp("1000")).value().total) == "1300.00");
    CHECK(text(invoice(preset_terms("royalty-passed-on"), gbp("1000")).value().total) == "1340.00");
}

TEST_CASE("a preset has its days") {
    CHECK(sale_presets_on(2010y / 12 / 31).empty());
    CHECK(sale_preset("royalty-passed-on", 2024y / 3 / 31).error().code == "sale.unknown-preset");
    CHECK(sale_preset("royalty-passed-on", 2024y / 4 / 1));
    const auto unknown = sale_preset("grand", a_day_in_2026);
    CHECK(unknown.error().values.at("preset") == "grand");
    CHECK(unknown.error().next.find("regional-25") != std::string::npos);
}

TEST_CASE("routes are compared by what they cost in all, and what hammer price costs the same") {
    const auto costs = compare_routes(preset_terms("regional-25"), usual_bidding_routes(), gbp("5000")).value();
    REQUIRE(costs.size() == usual_bidding_routes().size());
    CHECK(text(costs[0].total) == "6500.00");
    CHECK(text(costs[0].dearer_by) == "0.00");
    CHECK(text(costs[0].same_all_in_at) == "5000.00");
    CHECK(costs[4].route.name == "platform-5");
    CHECK(text(costs[4].total) == "6800.00");  // and 5 % of 5,000 with VAT
    CHECK(text(costs[4].dearer_by) == "300.00");
    CHECK(text(costs[4].same_all_in_at) == "4779.41");  // 6,500 / 1.36
    BiddingRoute mad{.name = "mad", .surcharge_percent = dec("200")};
    const auto refused = compare_routes(preset_terms("regional-25"), {mad}, gbp("5000"));
    CHECK(refused.error().code == "sale.out-of-range");
    CHECK(refused.error().values.at("route") == "mad");
    CHECK(compare_routes(preset_terms("regional-25"), {}, gbp("5000")).value().empty());
}

TEST_CASE("what round hammer prices come to") {
    const auto lines = round_hammers(preset_terms("banded-25-20"), 100'000).value();
    REQUIRE(lines.size() == 10);  // 100, 200, 500 … 100,000
    CHECK(text(lines.front().hammer) == "100.00");
    CHECK(text(lines.front().all_in) == "130.00");
    CHECK(lines.front().percent_above_hammer == Approx(30.0));
    CHECK(text(lines.back().all_in) == "127000.00");  // 50,000 x 1.30 + 50,000 x 1.24
    CHECK(lines.back().percent_above_hammer == Approx(27.0));
}

TEST_CASE("a plan may name the ways to bid of its sale") {
    constexpr std::string_view text = R"({"currency": "GBP", "sale": {"premium": [{"percent": 25}], "routes": [
        {"name": "in the room"}, {"name": "the sale's own page", "surcharge_percent": 4.95, "surcharge_vat_percent": 20}]}})";
    const auto routes = parse_bidding_routes(text).value();
    REQUIRE(routes.size() == 2);
    CHECK(routes[1].name == "the sale's own page");
    CHECK(routes[1].surcharge_percent == dec("4.95"));
    CHECK(parse_bidding_routes(R"({"currency": "GBP", "sale": {}})").value().empty());
    const auto fault = [](std::string_view routes_text) {
        const std::string plan = R"({"currency": "GBP", "sale": {"routes": )" + std::string(routes_text) + "}}";
        return parse_bidding_routes(plan).error().values.at("field");
    };
    CHECK(fault("7") == "sale.routes");
    CHECK(fault(R"([{"surcharge_percent": 3}])") == "sale.routes[0].name");
    CHECK(fault(R"([{"name": "x", "surcharge": 3}])") == "sale.routes[0].surcharge");
}
