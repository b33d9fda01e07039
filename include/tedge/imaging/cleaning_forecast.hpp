// How a whole picture may look once it is cleaned, told from windows that are cleaned already. A forecast, and marked
// as one in its pixels: no promise, and nothing for a buyer.
//
// Windows are places seen twice: on a photograph taken before, and on one taken after they were cleaned, laid over the
// first. From their pairs of colours a coat of dirt and varnish is fitted:
//  - it weakens light that goes through it twice by the law of Beer and Lambert, each of red, green and blue in linear
//    light alone, and scatters some of it back (coating_model.hpp beside the source). Layers that absorb and scatter:
//    Kubelka, Journal of the Optical Society of America 38, 448-457 (1948); dirt and aged varnish as filters with a
//    veil have been used for paintings since the 1990s. From memory;
//  - its thickness varies smoothly from window to window and within them; between windows it is what a Gaussian process
//    tells (thickness_field.hpp beside the source), and the further from a window the less it is known.
// Pairs are means over small squares in linear light, so noise, JPEG and a misfit of a pixel count for little; what
// was left in a window (specks, old retouching) is outvoted.
// A coat seen as three numbers is a filter, and real coats are not quite filters: comparisons of such forecasts with
// measured spectra of cleaned pictures (J. K. Delaney, 39th annual meeting of the American Institute for Conservation,
// 2011, as reported) found them good for some colours and poor for others, as here the windows may show.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// What the metadata of every forecast that leaves begins with (PictureWriteOptions::description), so that it is known
// again when it comes back.
inline constexpr std::string_view forecast_description =
    "FORECAST: computed from cleaned windows, not a photograph, no promise of how the picture will look.";

struct CleaningForecastOptions {
    // Both photographs taken with crossed polarisers, or every window wetted out: gloss then plays no part.
    bool without_gloss = false;
    // 1 channel, the size of the pictures: pixels other than 0 show paint, the others a frame or the wall, whose
    // darkest say nothing of the veil and of which nothing is foretold: they stay as they were photographed. Null: all
    // show paint.
    const Raster8* painted = nullptr;
    int threads = 0;  // 0: as many as the machine has
};

// Of square means of colour, CIEDE2000: how far the forecast lies beside what was seen.
struct ForecastError {
    double mean = 0.0;
    double p95 = 0.0;
};

enum class WindowTrouble { none, too_small, burnt_out, unchanged };

struct ForecastWindow {
    int number = 0;  // as in the mask
    std::size_t pixels = 0;
    double seen_change = 0.0;  // mean ΔE00 between uncleaned and cleaned
    double thickness = 0.0;    // of the coat, of which 1 is the mean
    bool used = false;
    WindowTrouble trouble = WindowTrouble::none;
    std::string why_not;                    // a sentence where it is not used
    std::optional<ForecastError> left_out;  // foretold from the other windows
};

struct CleaningForecast {
    std::variant<Raster8, Raster16> picture;  // as the uncleaned one, with the word FORECAST written over it
    // ΔE00, one standard deviation, in square cells from the top left: cell (i, j) begins at pixel (i, j)·cell_px.
    RasterF uncertainty;
    int cell_px = 0;
    double mean_uncertainty = 0.0;  // where there is paint

    std::vector<double> absorption;    // red, green, blue: natural logarithm, both passages, mean thickness
    std::vector<double> veil;          // red, green, blue: share of the light that white sends back
    double thickness_variation = 0.0;  // one standard deviation over the picture, of a mean of 1
    std::vector<ForecastWindow> windows;
    double seen_change = 0.0;                       // mean ΔE00 of all windows used
    std::optional<ForecastError> left_out_windows;  // nothing where one window alone is used
    std::optional<ForecastError> left_out_halves;   // each half of that window foretold from the other
    std::vector<std::string> notes;                 // what a person must know, a sentence each
};

// uncleaned, cleaned: sRGB, 3 channels, of one size, the second laid over the first. windows: 1 channel, the same size;
// 0 beside the windows, else the number of each. At most 255 windows; a window of less than 8 px a side, one in which
// nothing changed and one that is burnt out is not used, and says so.
// Errors: forecast.sizes-differ, forecast.not-colour, forecast.no-window (the mask is empty),
// forecast.window-too-small, forecast.not-cleaned (no window shows a difference), forecast.saturated (they are burnt
// out): these three where no window is left; forecast.windows-disagree (each is foretold from the others worse than by
// leaving it uncleaned, and by more than the stated uncertainty allows), cancelled.
[[nodiscard]] Expected<CleaningForecast> forecast_cleaning(const Raster8& uncleaned_srgb, const Raster8& cleaned_srgb,
                                                           const Raster8& windows,
                                                           const CleaningForecastOptions& options = {},
                                                           const Progress& progress = {});
[[nodiscard]] Expected<CleaningForecast> forecast_cleaning(const Raster16& uncleaned_srgb, const Raster16& cleaned_srgb,
                                                           const Raster8& windows,
                                                           const CleaningForecastOptions& options = {},
                                                           const Progress& progress = {});

}  // namespace tedge::imaging
