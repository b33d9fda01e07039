// A faint inscription made easier to read over photographs of one face, kept with the recipe that makes it again.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "tedge/geometry/region.hpp"
#include "tedge/imaging/legibility.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct LegibilityWanted {
    std::vector<Uuid> photographs;       // placed ones of one face; channels are counted in this order
    imaging::LegibilityRecipe recipe{};  // its inputs are filled in here
    std::optional<Region> region{};      // on the frame of the first photograph: the picture is its box. Left out: all
    std::string caption;
};

struct MadeLegible {
    KeptPicture picture;
    imaging::PrincipalComponents components;  // of principal_component
    imaging::LegibilityRecipe recipe;
    double px_per_mm = 1.0;
};

// Reads the originals, lays them square on the face at the resolution of the coarsest (at most 16 megapixels) and
// makes the picture from its own recipe, so that what is kept is what the recipe makes.
// Errors: legibility.no-lights, photograph.other-face, those of map_cracks for placed photographs, of legibility_view,
// and the casebook's.
[[nodiscard]] Expected<MadeLegible> make_legible(const Acting& acting, const LegibilityWanted& wanted,
                                                 const Progress& progress = {});

struct LegibleFile {
    std::string png;
    imaging::PrincipalComponents components;
};

// The file again from a recipe, to the byte, as long as the casebook has the originals.
// Errors: legibility.recipe (this is none), those of read_picture and legibility_view.
[[nodiscard]] Expected<LegibleFile> made_by_recipe(casebook::Casebook& book, const nlohmann::json& recipe,
                                                   const Progress& progress = {});

}  // namespace tedge::usecases
