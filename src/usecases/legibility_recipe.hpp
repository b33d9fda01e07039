// The recipe of a legible picture as it stands in a record.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "on_face.hpp"
#include "tedge/imaging/legibility.hpp"

namespace tedge::usecases {

// All that the bytes of the picture depend on.
struct FaceRecipe {
    imaging::LegibilityRecipe view;          // with the digest of every input
    std::vector<Placement> face_from_photo;  // of every input
    std::vector<SizePx> sizes;               // of every input
    FaceGrid grid;
};

[[nodiscard]] nlohmann::json to_json(const FaceRecipe& recipe);
[[nodiscard]] Expected<FaceRecipe> recipe_from_json(const nlohmann::json& json);  // legibility.recipe

}  // namespace tedge::usecases
