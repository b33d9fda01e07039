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

// Takes off the local mean and divides by the local standard deviation, both over (2·radius + 1)² samples; returns the
// mean square of the local standard deviation. floor: added to the deviation so that flat places stay flat.
// scratch is resized as needed. Samples nearer than radius to the edge see a smaller window.
double normalise_locally(std::vector<float>& patch, int side, int radius, float floor, std::vector<float>& scratch);

// Replaces gray values by the logarithm of the gradient magnitude of the smoothed patch (binomial, standard
// deviation 1.5).
void edge_strength(std::vector<float>& patch, int side, std::vector<float>& scratch);

}  // namespace tedge::imaging
