// What work is reckoned by: the table of hours, and the measures of a picture.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "tedge/base/estimate.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::usecases {

// A row of resources/reference/treatment_hours.csv.
struct HoursRule {
    std::string treatment, name, measure, of;  // of: face, perimeter, losses, loose paint
    double base_hours = 0.0;
    Estimate<double> hours{};  // for one unit of the measure
    double materials_percent = 0.0;
    std::vector<std::string> needed_if_yes{};  // questions of a viewing; none: always
};
[[nodiscard]] const std::vector<HoursRule>& hours_rules();

struct FaceMeasures {
    double area_m2 = 0.0;
    double perimeter_m = 0.0;
};
// By its recorded sides; none where nobody measured it.
[[nodiscard]] std::optional<FaceMeasures> measures_of(const casebook::Record& picture);

// Minor units, rounded. Errors: money.out-of-range.
[[nodiscard]] Expected<Estimate<std::int64_t>> counted_amounts(const std::array<double, 3>& minor);

}  // namespace tedge::usecases
