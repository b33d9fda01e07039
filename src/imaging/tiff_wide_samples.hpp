// Samples of TIFF that no picture of ours has: floating point, whole numbers of 32 bits, CIELAB. Each comes out as 16
// bits.
#pragma once

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// The upper 16 bits.
[[nodiscard]] Raster16 from_32_bits(const Raster<std::uint32_t>& samples);

// IEEE 754 binary16, exact.
[[nodiscard]] RasterF from_half_floats(const Raster16& samples);

// What stands for white in floating-point values. 1 by common practice. Values of a program that reckons in 8 or 16
// bits run to 255 or 65535 instead: that is taken to be so where more than half of those above 0 lie beyond what light
// brighter than white would, and none beyond that top.
enum class FloatTop { one, of_8_bits, of_16_bits };
[[nodiscard]] FloatTop top_of(const RasterF& samples);

struct UnitFloats {
    Raster16 samples;
    bool cut_off_above = false;
    bool black_below = false;  // below 0, or no number
};
[[nodiscard]] UnitFloats from_floats(const RasterF& samples, FloatTop top);

// CIELAB (TIFF 6.0, section 23: L* from 0, a* and b* with a sign) or ICC Lab (Technical Note 4: a* and b* about the
// middle), of 8 or 16 bits a sample, D50, to sRGB. Further channels are left out.
template <class T>
[[nodiscard]] Raster16 srgb_from_lab(const Raster<T>& lab, bool is_icc);

}  // namespace tedge::imaging
