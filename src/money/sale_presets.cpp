#include "tedge/money/sale_presets.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "embedded_tables.hpp"
#include "reference_cells.hpp"
#include "tedge/base/text.hpp"

namespace tedge::money {

namespace {

Decimal percent_cell(const Table& table, std::size_t row, std::string_view column) {
    return Decimal::parse(table.cell(row, column)).value();
}

// "25 to 50000; 20"
std::vector<PremiumBand> printed_bands(std::string_view printed, const Currency& currency) {
    std::vector<PremiumBand> bands;
    for (const std::string_view band : split(printed, ';')) {
        const std::string_view words = trimmed(band);
        const std::size_t to = words.find(" to ");
        PremiumBand made{.percent = Decimal::parse(trimmed(words.substr(0, to))).value()};
        if (to != std::string_view::npos)
            made.up_to_minor = parse_money(trimmed(words.substr(to + 4)), currency).value().minor;
        bands.push_back(made);
    }
    return bands;
}

SalePreset preset_in(const Table& table, std::size_t row, std::chrono::year_month_day day) {
    const Currency currency = Currency::parse(table.cell(row, "currency")).value();
    SalePreset preset{.name = table.cell(row, "preset"),
                      .label = table.cell(row, "label"),
                      .terms = SaleTerms{.currency = currency},
                      .premium = table.cell(row, "premium"),
                      .increments = table.cell(row, "increments"),
                      .valid_from = table.cell(row, "valid_from"),
                      .valid_to = table.cell(row, "valid_to"),
                      .status = table.cell(row, "status"),
                      .source = table.cell(row, "source")};
    preset.terms.premium = printed_bands(preset.premium, currency);
    preset.terms.premium_includes_vat = table.cell(row, "premium_includes_vat") == "yes";
    preset.terms.vat_on_premium_percent = percent_cell(table, row, "vat_on_premium");
    preset.terms.vat_on_hammer_percent = percent_cell(table, row, "vat_on_hammer");
    if (table.cell(row, "royalty") == "yes") preset.terms.royalty = royalty_rules_on(day).value();
    preset.terms.increments = Increments::named(preset.increments, currency).value();
    return preset;
}

}  // namespace

std::vector<SalePreset> sale_presets_on(std::chrono::year_month_day day) {
    const Table table = reference_table(embedded::sale_presets_csv);
    std::vector<SalePreset> presets;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (holds_on(table, row, day)) presets.push_back(preset_in(table, row, day));
    }
    return presets;
}

Expected<SalePreset> sale_preset(std::string_view name, std::chrono::year_month_day day) {
    std::vector<std::string> names;
    for (SalePreset& preset : sale_presets_on(day)) {
        if (preset.name == name) return std::move(preset);
        names.push_back(preset.name);
    }
    return fail("sale.unknown-preset",
                fmt::format("There are no preset terms called \"{}\" on {}.", name, to_text(day)),
                names.empty() ? "Enter the terms of the sale." : fmt::format("Use one of {}.", join(names, ", ")),
                {{"preset", std::string(name)}});
}

const std::vector<BiddingRoute>& usual_bidding_routes() {
    static const std::vector<BiddingRoute> routes = [] {
        const Table table = reference_table(embedded::bidding_routes_csv);
        std::vector<BiddingRoute> made;
        for (std::size_t row = 0; row < table.row_count(); ++row) {
            made.push_back({table.cell(row, "route"), table.cell(row, "label"),
                            percent_cell(table, row, "surcharge_percent"),
                            percent_cell(table, row, "surcharge_vat_percent"), table.cell(row, "status"),
                            table.cell(row, "source")});
        }
        return made;
    }();
    return routes;
}

SaleTerms by_route(const SaleTerms& terms, const BiddingRoute& route) {
    SaleTerms changed = terms;
    changed.surcharge_percent = route.surcharge_percent;
    changed.surcharge_vat_percent = route.surcharge_vat_percent;
    return changed;
}

Expected<std::vector<RouteCost>> compare_routes(const SaleTerms& terms, const std::vector<BiddingRoute>& routes,
                                                const Money& hammer) {
    std::vector<RouteCost> costs;
    for (const BiddingRoute& route : routes) {
        const auto made = invoice(by_route(terms, route), hammer);
        if (!made) {
            Error error = made.error();
            error.values["route"] = route.name;
            return std::unexpected(std::move(error));
        }
        costs.push_back({route, made->total, made->total, hammer});
    }
    if (costs.empty()) return costs;
    const Money cheapest =
        std::ranges::min_element(costs, {}, [](const RouteCost& cost) { return cost.total.minor; })->total;
    for (RouteCost& cost : costs) {
        cost.dearer_by = {cost.total.minor - cheapest.minor, terms.currency};
        const auto same = largest_hammer_within(by_route(terms, cost.route), cheapest);
        if (!same) return pass_on(same);
        cost.same_all_in_at = *same;
    }
    return costs;
}

Expected<std::vector<RoundHammer>> round_hammers(const SaleTerms& terms, std::int64_t highest) {
    std::vector<RoundHammer> lines;
    for (std::int64_t decade = 100; decade <= highest; decade *= 10) {
        for (const std::int64_t step : {1, 2, 5}) {
            if (decade * step > highest) break;
            const Money hammer{decade * step * terms.currency.minor_per_major(), terms.currency};
            const auto made = invoice(terms, hammer);
            if (!made) return pass_on(made);
            const double above = static_cast<double>(made->total.minor - hammer.minor);
            lines.push_back({hammer, made->total, 100.0 * above / static_cast<double>(hammer.minor)});
        }
    }
    return lines;
}

}  // namespace tedge::money
