// Lengths as people in the trade write them, held in millimetres.
#pragma once

#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

inline constexpr double mm_per_inch = 25.4;  // exact: international yard and pound agreement, 1959

// "812", "812 mm", "81.2 cm", "0.812 m", "32 in", "32 1/4 in", "32\"", "1 ft 2 in". A bare number is millimetres.
// The decimal sign is a point. Errors: length.not-a-length, length.negative.
[[nodiscard]] Expected<double> parse_length_mm(std::string_view text);

// "812 mm" or "81.2 mm": at most one decimal, as far as a tape measures.
[[nodiscard]] std::string format_length_mm(double length_mm);

// "812 × 1016 mm (32 × 40 in)": height first, as the trade writes a picture's size; inches to the nearest eighth.
[[nodiscard]] std::string format_size_height_first(double height_mm, double width_mm);

}  // namespace tedge
