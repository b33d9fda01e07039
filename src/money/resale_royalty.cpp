#include "tedge/money/resale_royalty.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "embedded_tables.hpp"
#include "reference_cells.hpp"
#include "royalty_exact.hpp"

namespace tedge::money {

namespace {

std::vector<RoyaltyBand> bands_in(const Table& table, std::chrono::year_month_day day, const Currency& currency) {
    std::vector<RoyaltyBand> bands;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (!holds_on(table, row, day)) continue;
        bands.push_back({amount_cell(table, row, "portion_above", currency),
                         optional_amount_cell(table, row, "portion_to", currency),
                         Decimal::parse(table.cell(row, "percent")).value()});
    }
    return bands;
}

std::int64_t limit_of(std::string_view parameter, std::chrono::year_month_day day, const Currency& currency) {
    const Table table = reference_table(embedded::resale_royalty_limits_csv);
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (table.cell(row, "parameter") == parameter && holds_on(table, row, day)) {
            return amount_cell(table, row, "value", currency);
        }
    }
    throw std::logic_error("resale_royalty_limits.csv does not cover the days of resale_royalty_bands.csv");
}

std::optional<Currency> currency_on(const Table& table, std::chrono::year_month_day day) {
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (holds_on(table, row, day)) return Currency::parse(table.cell(row, "currency")).value();
    }
    return std::nullopt;
}

}  // namespace

Expected<RoyaltyRules> royalty_rules_on(std::chrono::year_month_day day) {
    const Table table = reference_table(embedded::resale_royalty_bands_csv);
    const auto currency = currency_on(table, day);
    if (!currency) {
        return fail("royalty.no-rules", fmt::format("No resale royalty is known for {}.", to_text(day)),
                    "Give the date of the contract of sale.", {{"date", to_text(day)}});
    }
    return RoyaltyRules{*currency, bands_in(table, day, *currency), limit_of("minimum price", day, *currency),
                        limit_of("cap", day, *currency)};
}

RoyaltyRules current_royalty_rules() {
    using namespace std::chrono_literals;
    return royalty_rules_on(9999y / 12 / 31).value();  // rows without an end hold then
}

Exact exact_royalty(const RoyaltyRules& rules, const Exact& price) {
    if (price < exact(rules.minimum_price_minor)) return 0;
    Exact royalty = 0;
    for (const RoyaltyBand& band : rules.bands) {
        const Exact above = exact(band.above_minor);
        if (price <= above) continue;
        const Exact top = band.to_minor ? std::min<Exact>(price, exact(*band.to_minor)) : price;
        royalty += (top - above) * percent(band.percent);
    }
    return std::min<Exact>(royalty, exact(rules.cap_minor));
}

Expected<Money> resale_royalty(const Money& price, const RoyaltyRules& rules) {
    if (price.currency != rules.currency) {
        return fail("money.mixed-currencies",
                    fmt::format("The royalty is reckoned in {} on that day, the price is in {}.", rules.currency.code(),
                                price.currency.code()),
                    "Convert the price at the rate of the day of the contract.",
                    {{"currency", std::string(price.currency.code())},
                     {"royalty_currency", std::string(rules.currency.code())}});
    }
    if (price.minor < 0) return fail("royalty.negative-price", "A sale price is not negative.", "Check the price.");
    return to_money(exact_royalty(rules, exact(price.minor)), price.currency);
}

Expected<Money> resale_royalty(const Money& price, std::chrono::year_month_day contract_date) {
    const auto rules = royalty_rules_on(contract_date);
    if (!rules) return pass_on(rules);
    return resale_royalty(price, *rules);
}

}  // namespace tedge::money
