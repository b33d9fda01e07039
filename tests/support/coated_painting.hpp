// A painting under an aged coat, and cleaned windows in it, made by the spectrum: what the camera sees is integrated
// from bands of wavelength, so that no formula of three colours holds exactly. The truth is known everywhere.
#pragma once

#include <cstdint>

#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

enum class CoatSort { yellow_resin, brown_resin, gray_dirt };

struct CleaningRecipe {
    CoatSort sort = CoatSort::yellow_resin;
    double variation = 0.0;  // of the thickness, smooth, at most: 0.3 is ±30 %
    int windows = 4;
    double smallest_window = 0.05;  // of a side of the picture
    double largest_window = 0.08;
    double registration_px = 1.0;  // by which the photograph with the windows lies beside the other
    double electrons = 20000.0;    // at white, of each pixel; 0: no camera, rounded to 8 bits
    std::uint64_t seed = 1;
};

struct CleaningPair {
    imaging::Raster8 uncleaned;
    imaging::Raster8 with_windows;  // cleaned in the windows, a few specks of dirt left in them; uncleaned elsewhere
    imaging::Raster8 windows;       // 1 channel: 0 beside them, else the number of the window
    imaging::Raster8 cleaned;       // the truth, without noise, laid as `uncleaned` is
};

// Paint reflects in three bands that blend into each other, as much as the picture's red, green and blue. The coat is a
// layer that absorbs and scatters over it: Kubelka, Journal of the Optical Society of America 38, 448 (1948); from
// memory. The observer: Wyman, Sloan and Shirley, Journal of Computer Graphics Techniques 2(2), 2013; from memory.
// Under light of equal energy; white is (1, 1, 1). Deterministic.
[[nodiscard]] CleaningPair cleaning_pair(const imaging::Raster8& painting, const CleaningRecipe& recipe);

// An invented painting of this size; the seed decides what is on it and how broad and how dark it is.
[[nodiscard]] imaging::Raster8 invented_painting(int width_px, int height_px, std::uint64_t seed);

}  // namespace tedge::test_support
