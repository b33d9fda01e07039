// Steps that work on the samples of one tile before it is transformed.
#pragma once

#include <vector>

namespace tedge::imaging {

// A view of a gray patch whose sample (0, 0) stands at (x0, y0) of its level.
struct GrayPatch {
    const float* samples;
    int width;
    int height;
};

// Reads side × side samples at origin + column·(xx, yx) + row·(xy, yy) of the patch with the cubic kernel of Keys, a =
// -0.5. Every sample must lie at least 1 px inside the left and top edge and 2 px inside the right and bottom edge.
struct SampleGrid {
    double x, y;    // of sample (0, 0)
    double xx, yx;  // step along a row
    double xy, yy;  // step along a column
};
void sample_patch(const GrayPatch& patch, const SampleGrid& grid, int side, float* out);

// A square patch with a margin of at least `radius` samples around the tile in its middle.
struct LocalWindow {
    int patch_side;
    int margin;
    int radius;
    float floor;  // added to the deviation, so that flat places stay flat
};

// Writes the tile with the local mean taken off and divided by the local standard deviation, both over (2·radius + 1)²
// samples; returns the mean square of the local standard deviation.
double normalise_locally(const std::vector<float>& patch, const LocalWindow& window, std::vector<float>& tile);

// Replaces gray values by the logarithm of the gradient magnitude of the smoothed patch (binomial, standard
// deviation 1.5).
void edge_strength(std::vector<float>& patch, int side, std::vector<float>& scratch);

}  // namespace tedge::imaging
