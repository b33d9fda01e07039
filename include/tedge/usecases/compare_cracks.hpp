// "Is this crack new?": the cracks of two placed photographs of one face against one another.
#pragma once

#include <optional>
#include <string>

#include "tedge/imaging/crack_change.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct ComparedCracks {
    KeptPicture picture;                // crack-change, on the later photograph
    std::optional<Done> measurement{};  // length of new cracks; nothing when the picture was kept already
    imaging::CrackChange change;        // pixels of the grid
    PointMm origin;                     // of the grid's corner, on the frame
    Uuid face_frame;
    double px_per_mm = 1.0;
    double appeared_mm = 0.0;
    double gone_mm = 0.0;
    double same_mm = 0.0;
    double undecided_mm = 0.0;  // of the later photograph
    double error_mm = 0.0;      // how far the two may lie apart
    std::string note;           // what else may look like a change (another light); or ""

    // The nearest crack within reach_mm of a place on the frame; nothing where there is none.
    [[nodiscard]] const imaging::CrackPiece* at(PointMm place, double reach_mm = 1.0) const;
};

// Both originals are read and laid square on the face at the resolution of the coarser (at most 30 megapixels); what
// both cover is compared. Errors: photograph.other-face, photograph.same (one photograph twice),
// photograph.wrong-way-round (`before` is of a later stage than `after`), crack-change.too-coarse (they may lie further
// apart than 4 pixels, the width of islands), those of map_cracks, and the casebook's.
[[nodiscard]] Expected<ComparedCracks> compare_cracks(const Acting& acting, const Uuid& before, const Uuid& after,
                                                      const Progress& progress = {});

}  // namespace tedge::usecases
