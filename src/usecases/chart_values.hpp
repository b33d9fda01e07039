// What a measurement by a colour chart puts on record.
#pragma once

#include <string_view>

#include "tedge/casebook/record.hpp"
#include "tedge/usecases/measure_chart.hpp"

namespace tedge::usecases {

// `board`: as in chart_fit_json (photograph_chart.hpp).
[[nodiscard]] casebook::FieldValues chart_values(std::string_view what, const ChartFigures& figures,
                                                 const std::string& board);

}  // namespace tedge::usecases
