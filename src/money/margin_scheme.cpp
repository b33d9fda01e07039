#include "tedge/money/margin_scheme.hpp"

#include <fmt/format.h>

#include "embedded_tables.hpp"
#include "exact.hpp"
#include "reference_cells.hpp"

namespace tedge::money {

Expected<MarginSale> margin_scheme(const Money& bought, const Money& sold, Decimal vat_percent) {
    if (bought.minor < 0 || sold.minor < 0) {
        return fail("margin.negative-price", "A price is not negative.", "Check both prices.");
    }
    if (vat_percent < Decimal{} || vat_percent > Decimal::from_integer(100)) {
        return fail("margin.rate-out-of-range", fmt::format("{} % is not a rate of VAT.", vat_percent.to_text()),
                    "Give a rate from 0 to 100.", {{"percent", vat_percent.to_text()}});
    }
    const auto margin = subtract(sold, bought);
    if (!margin) return pass_on(margin);
    const Exact taxed = margin->minor > 0 ? exact(margin->minor) : Exact(0);
    const auto vat = to_money(taxed * tax_inside(vat_percent), sold.currency);
    if (!vat) return pass_on(vat);
    return MarginSale{*margin, *vat};
}

Expected<Decimal> standard_vat_percent_on(std::chrono::year_month_day day) {
    const Table table = reference_table(embedded::vat_rates_csv);
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (holds_on(table, row, day)) return Decimal::parse(table.cell(row, "percent")).value();
    }
    return fail("margin.no-rate", fmt::format("No rate of VAT is known for {}.", to_text(day)), "Give the rate.",
                {{"date", to_text(day)}});
}

Decimal current_standard_vat_percent() {
    using namespace std::chrono_literals;
    return standard_vat_percent_on(9999y / 12 / 31).value();  // the row without an end holds then
}

}  // namespace tedge::money
