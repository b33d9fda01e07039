// Placed photographs as use cases read them: one way in, one set of refusals.
#pragma once

#include "existing_photograph.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::usecases {

// A photograph as it stands in the casebook, and where its pixels lie on a frame of its face.
struct PlacedPhotograph {
    casebook::Record record;
    Placement face_from_photo;
    SizePx size;  // as the record says
};

// A photograph that is there and placed. frame: of the face; nil takes the photograph's own. Errors: those of
// existing_photograph, photograph.not-placed
// (or the frames are not joined).
[[nodiscard]] Expected<PlacedPhotograph> placed_photograph(casebook::Casebook& book,
                                                           const casebook::CaseSnapshot& snapshot, const Uuid& id,
                                                           const Uuid& frame = {});

// What is said of one that is not.
[[nodiscard]] std::unexpected<Error> not_placed(const Uuid& photograph);

// The pixels of a stored original as they look on a screen. Errors: those of read_picture and to_srgb8.
[[nodiscard]] Expected<imaging::Raster8> srgb_of(const casebook::Casebook& book, const std::string& sha256,
                                                 const Progress& progress);
[[nodiscard]] Expected<imaging::Raster16> srgb16_of(const casebook::Casebook& book, const std::string& sha256,
                                                    const Progress& progress);

}  // namespace tedge::usecases
