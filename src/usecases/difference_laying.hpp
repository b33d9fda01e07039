// Two photographs of one face, read for comparing, laid on each other and compared pixel by pixel: what is shown of it,
// and what of it counts.
#pragma once

#include <functional>

#include "change_evidence.hpp"
#include "coloured_pair.hpp"
#include "local_error.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_kind.hpp"
#include "tedge/imaging/difference_scale.hpp"

namespace tedge::usecases {

struct DifferenceSetting {
    SizeMm face;
    LocalError local;  // in pixels of the first
    bool both_cross_polarised = false;
    // Of both in the pixels of the first, where `shown` is not 0.
    std::function<Floor(const imaging::Raster8& first, const imaging::Raster8& second, const imaging::Raster8& shown)>
        floor;
};

// Both in the pixels of the first, with what of them counts.
struct DifferenceLaid {
    PlacedPixels first;
    imaging::Raster8 second;
    imaging::Raster8 gated;
    imaging::ColourDifference difference;
    Floor floor;
};

// Errors: those of resample, colour_difference and gate_differences.
[[nodiscard]] Expected<DifferenceLaid> laid_and_gated(PlacedPixels first, const PlacedPixels& second,
                                                      const DifferenceSetting& setting, const Progress& progress);

// Errors: those of difference_map.
[[nodiscard]] Expected<imaging::RasterF> map_of_kind(const DifferenceLaid& laid, imaging::DifferenceKind kind,
                                                     const Progress& progress);

// By the scale, grey where nothing counts. Where ΔE00 is below its floor no kind of difference is drawn.
[[nodiscard]] imaging::Raster8 drawn_difference(imaging::RasterF map, const DifferenceLaid& laid,
                                                const imaging::DifferenceScale& scale);

}  // namespace tedge::usecases
