// A photograph without what lies beside the face: frame, wall, easel.
#pragma once

#include "coloured_pair.hpp"

namespace tedge::usecases {

struct FaceAlone {
    PlacedPixels placed;    // the upright box around the face; its placement is of these pixels
    imaging::Raster8 face;  // 1 channel, the same size: 255 on the face, 0 beside it
    PointPx cut_at;         // its upper left pixel, in the photograph that it was cut from
};

// A photograph that shows none of the face, or nothing else, stays as large as it is. Errors: those of window_mask.
[[nodiscard]] Expected<FaceAlone> cut_to_face(PlacedPixels whole, SizeMm face);

}  // namespace tedge::usecases
