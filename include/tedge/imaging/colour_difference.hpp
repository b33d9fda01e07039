// How much the colour of every pixel changed between two registered photographs of one picture: maps of CIEDE2000, and
// of the differences of lightness, chroma and hue that make it up.
//
// Pixels are sRGB (srgb_view.hpp), compared in CIELAB D50. The map is computed in single precision; against the formula
// in double precision (delta_e00 in colour.hpp) it is off by less than 0.01 for 8-bit pixels, which a test holds.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/difference_kind.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct ColourDifferenceOptions {
    LightnessWeight lightness = LightnessWeight::standard;
    // Both taken with crossed polarisers. Otherwise a matt surface against a glossy one is measured as a change of
    // colour, and the report says "includes gloss".
    bool both_cross_polarised = false;
    // 1 channel, the size of the pictures: pixels other than 0 make the gated figures (those where registration is good
    // enough, say). Null: no gate.
    const Raster8* counted = nullptr;
    int threads = 0;  // worker threads; 0: as many as the machine has. The map does not depend on them
};

// Percentiles are linear between neighbours in rank (type 7 of Hyndman and Fan, The American Statistician 50, 1996).
struct DifferenceStatistics {
    double mean = 0.0;
    double p50 = 0.0;
    double p95 = 0.0;
    double max = 0.0;
    std::size_t pixels = 0;
    double p05 = 0.0;  // these two are of use where the map has a sign
    double min = 0.0;
};

struct ColourDifferenceReport {
    DifferenceStatistics all;
    std::optional<DifferenceStatistics> gated;  // nothing when no gate was given or it lets no pixel through
    std::string note;                           // "includes gloss", or empty
    double megapixels = 0.0;
    double seconds = 0.0;  // computing the map and its figures
};

struct ColourDifference {
    RasterF delta_e00;  // 1 channel
    ColourDifferenceReport report;
};

// Errors: colour-difference.sizes-differ, colour-difference.not-colour (not 3 channels),
// colour-difference.gate-differs, colour-difference.empty, cancelled.
[[nodiscard]] Expected<ColourDifference> colour_difference(const Raster8& reference_srgb,
                                                           const Raster8& registered_srgb,
                                                           const ColourDifferenceOptions& options = {},
                                                           const Progress& progress = {});
[[nodiscard]] Expected<ColourDifference> colour_difference(const Raster16& reference_srgb,
                                                           const Raster16& registered_srgb,
                                                           const ColourDifferenceOptions& options = {},
                                                           const Progress& progress = {});

// One map, second minus first (difference_kind.hpp); ΔE00 with the standard weight of lightness. Errors: as above.
// threads as in the options.
[[nodiscard]] Expected<RasterF> difference_map(const Raster8& reference_srgb, const Raster8& registered_srgb,
                                               DifferenceKind kind, int threads = 0, const Progress& progress = {});

// The figures of any map; `counted` as above. Nothing when no pixel counts.
[[nodiscard]] std::optional<DifferenceStatistics> statistics_of(const RasterF& map, const Raster8* counted = nullptr);

}  // namespace tedge::imaging
