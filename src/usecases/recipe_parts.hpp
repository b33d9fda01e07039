// What recipes of pictures made from photographs have in common, written and read back: from what is kept, and from
// that alone, the same picture is made again.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "local_error.hpp"
#include "on_face.hpp"

namespace tedge::usecases {

// The fields "px_per_mm", "origin_mm", "width_px", "height_px" and "face_frame" put beside what a recipe has.
void add_grid(nlohmann::json& recipe, const FaceGrid& grid);
[[nodiscard]] std::optional<FaceGrid> grid_in(const casebook::Body& recipe);

// A photograph that a recipe starts from (recipe_input).
struct RecipeInput {
    std::string sha256;
    Placement face_from_photo;
    SizePx size;  // {0, 0} where the recipe does not say
};
// `at`: "before", or "" where it stands in the recipe itself under "input_sha256" and beside it.
[[nodiscard]] std::optional<RecipeInput> input_in(const casebook::Body& recipe, const std::string& at);

// The field "error_by_place" (recipe_json).
[[nodiscard]] std::optional<LocalError> local_error_in(const casebook::Body& recipe);

}  // namespace tedge::usecases
