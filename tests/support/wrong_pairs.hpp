// Pictures that are easily taken for one another: cloth, noise, two pictures in one frame.
#pragma once

#include <cstdint>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

[[nodiscard]] imaging::Raster8 noise(std::uint64_t seed, SizePx size);

// The same carved moulding and wall, of 15 % of each side, around another picture of the same size.
[[nodiscard]] imaging::Raster8 framed(const imaging::Raster8& inner, const imaging::Raster8& surround);

// A woven ground, moved on by whole repeats of its pattern, which are two threads. Of machine cloth it lies on itself
// there; threads spun by hand are each of another width and brightness.
struct Cloth {
    double warp_px = 11.0;
    double weft_px = 9.0;
    double irregular = 0.0;
    int repeats_on = 0;

    [[nodiscard]] double height(int x, int y) const;
};

[[nodiscard]] imaging::Raster8 weave(std::uint64_t seed, const Cloth& cloth, SizePx size);

}  // namespace tedge::test_support
