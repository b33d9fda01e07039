#include "hours_table.hpp"

#include <cmath>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"

namespace tedge::usecases {

namespace {

constexpr double mm2_in_a_m2 = 1e6;
constexpr double largest_counted = 9e15;  // minor units, as Money has it

double table_number(const Table& table, std::size_t row, std::string_view column) {
    return parse_number(table.cell(row, column)).value();
}

Expected<std::int64_t> counted_minor(double minor) {
    if (std::isfinite(minor) && minor >= 0.0 && minor <= largest_counted) return std::llround(minor);
    return fail("money.out-of-range", "The amount is too large to be counted safely.", "Check the rate and the size.");
}

}  // namespace

const std::vector<HoursRule>& hours_rules() {
    static const std::vector<HoursRule> rules = [] {
        const Table table = Table::parse(embedded::treatment_hours_csv).value();
        std::vector<HoursRule> made;
        for (std::size_t row = 0; row < table.row_count(); ++row) {
            HoursRule rule{.treatment = table.cell(row, "treatment"),
                           .name = table.cell(row, "name"),
                           .measure = table.cell(row, "measure"),
                           .of = table.cell(row, "of"),
                           .base_hours = table_number(table, row, "base_hours"),
                           .hours = {table_number(table, row, "hours_low"), table_number(table, row, "hours_likely"),
                                     table_number(table, row, "hours_high")},
                           .materials_percent = table_number(table, row, "materials_percent")};
            for (const std::string_view question : split(table.cell(row, "needed_if_yes"), ' ')) {
                if (!question.empty()) rule.needed_if_yes.emplace_back(question);
            }
            made.push_back(std::move(rule));
        }
        return made;
    }();
    return rules;
}

std::optional<FaceMeasures> measures_of(const casebook::Record& picture) {
    const auto width = picture.body.number("width_mm");
    const auto height = picture.body.number("height_mm");
    if (!width || !height || *width <= 0.0 || *height <= 0.0) return std::nullopt;
    return FaceMeasures{*width * *height / mm2_in_a_m2, 2.0 * (*width + *height) / 1000.0};
}

Expected<Estimate<std::int64_t>> counted_amounts(const std::array<double, 3>& minor) {
    std::array<std::int64_t, 3> counted{};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto one = counted_minor(minor[i]);
        if (!one) return pass_on(one);
        counted[i] = *one;
    }
    return Estimate<std::int64_t>{counted[0], counted[1], counted[2]};
}

}  // namespace tedge::usecases
