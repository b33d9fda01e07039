// Where relief changed between two placed photographs of one face in raking light: cupping laid down, paint that lifted
// anew (imaging/relief_change.hpp says how it is told).
#pragma once

#include <string>

#include "tedge/imaging/difference_scale.hpp"
#include "tedge/imaging/relief_change.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct ReliefChangeMap {
    imaging::ReliefChange change;    // pixels of the map; places on the face
    imaging::Raster8 drawn;          // by the scale; grey where nothing can be said
    imaging::DifferenceScale scale;  // times the floor: begins at 1
    double total_cm2 = 0.0;          // of the places
    double px_per_mm = 1.0;
    double error_mm = 0.0;      // how far the two may lie apart, one standard deviation
    NewDerivedPicture picture;  // what would be kept: case, photographs, where it lies
    std::string recipe;         // JSON
};

// Both originals are read and laid square on the face at the resolution of the coarser (at most 9 megapixels); what
// both cover is compared. Nothing is recorded.
// Errors: photograph.not-a-photograph, casebook.deleted-record, photograph.same, photograph.other-case,
// photograph.other-face, photograph.not-placed, photograph.wrong-way-round (`before` is of a later stage than `after`),
// relief.not-raking (one of them), relief.not-registered (they lie on the face by corners only, which is too loose for
// shading), relief.side-unknown, relief.sides-differ, relief.angles-differ, relief.too-coarse, photograph.no-overlap,
// those of read_picture, to_srgb8 and resample, cancelled.
[[nodiscard]] Expected<ReliefChangeMap> map_relief_change(casebook::Casebook& book, const Uuid& before,
                                                          const Uuid& after, const Progress& progress = {});

// Keeps the drawn map as a derived picture with the recipe that makes it again. Errors: those of keep_derived_picture.
[[nodiscard]] Expected<KeptPicture> keep_relief_change(const Acting& acting, const ReliefChangeMap& map);

}  // namespace tedge::usecases
