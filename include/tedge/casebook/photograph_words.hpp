// What follows from the words by which a photograph is filed.
#pragma once

#include <array>
#include <string_view>

namespace tedge::casebook {

// Where a stage (the photograph's "when") stands in the order of the work, from 0; -1 for a word of a newer program.
[[nodiscard]] int stage_rank(std::string_view stage);

// Whether a surface shows its own colour in such light: normal and cross-polarised alone. In specular light the lamp's
// own reflection lies over the paint: that is gloss. Raking light shades relief; ultraviolet, infrared and transmitted
// light show something else.
[[nodiscard]] bool shows_colour(std::string_view light);

// The kinds of record that hold a picture computed from photographs.
inline constexpr std::array<std::string_view, 2> made_picture_kinds{"derived_picture", "cleaning_forecast"};
[[nodiscard]] bool is_made_picture(std::string_view kind);

}  // namespace tedge::casebook
