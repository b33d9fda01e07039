// A photograph as one plane of values at full size and at halves of it, without a full-size copy.
#pragma once

#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// Level 0 is the picture itself, read when asked for. Level k + 1 halves level k with the binomial filter 1-3-3-1 in
// both directions, so its pixel (i, j) is centred at (2i + 0.5, 2j + 0.5) of level k: pixel i of level k stands at (i +
// 0.5)·2^k − 0.5 of the picture.

// Gray, or how warm or cool: 100·ln of red over blue, which a picture in gray has not.
enum class Plane { gray, warmth };

// The levels that are wanted. Finer ones than the finest cannot be read; it is made from averages of red and of blue
// over squares, which say more of a dark passage's colour than an average of ratios would.
struct LevelRange {
    int finest = 0;
    int coarsest = 30;
};

class GrayPyramid {
public:
    // Halves until the longer side is at most 256 px or the coarsest level is reached. Stops early, incomplete, when
    // progress says stop. A finest level above 0 is for warmth only.
    GrayPyramid(PictureView picture, int workers, const Progress& progress, Plane plane = Plane::gray,
                LevelRange range = {});

    [[nodiscard]] SizePx size(int level) const;
    [[nodiscard]] int finest_level() const { return finest_; }
    [[nodiscard]] int levels() const { return static_cast<int>(halves_.size()) + 1; }
    // Copies the box with its top-left pixel at (x0, y0), edge pixels repeated outside.
    void read(int level, int x0, int y0, int width, int height, float* gray) const;
    // level >= 1
    [[nodiscard]] const RasterF& half(int level) const { return halves_[static_cast<std::size_t>(level - 1)]; }
    // The level to look at for an image whose longer side is wanted to be at least `side` px.
    [[nodiscard]] int level_for_side(int side) const;

private:
    PictureView picture_;
    Plane plane_;
    int finest_;
    std::vector<RasterF> halves_;
};

[[nodiscard]] inline double level_scale(int level) {
    return static_cast<double>(1 << level);
}

}  // namespace tedge::imaging
