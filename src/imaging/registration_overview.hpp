// Where a photograph may lie on another, judged by the lie of its edges over the whole picture at once.
#pragma once

#include <vector>

#include "registration_gray.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/homography.hpp"

namespace tedge::imaging {

// One place, good to a few hundredths of the longer side.
struct OverviewPlace {
    Homography reference_from_moving;
    bool mirrored = false;
    double significance = 0.0;  // of its correlation, in standard deviations of that elsewhere
};

// Light through canvas shows outlines faintly, dark for bright here and there, under weave and stretcher: no single
// feature is worth much, but all edges together are. Small copies of the whole are turned, enlarged and mirrored in
// steps and laid on each other by correlation of the directions of their edges, whichever side of an edge is bright.
// For photographs that show about the same part of a painting, upright or turned by right angles to within eight
// degrees. The best places that differ from one another, best first; few or none when nothing stands out. Incomplete
// when progress says stop.
[[nodiscard]] std::vector<OverviewPlace> places_at_first_sight(const GrayPyramid& reference, const GrayPyramid& moving,
                                                               int workers, const Progress& progress);

}  // namespace tedge::imaging
