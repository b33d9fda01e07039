#include "tedge/imaging/forecast_sheet.hpp"

#include <fmt/format.h>

#include "forecast_words.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_sheet.hpp"

namespace tedge::imaging {
namespace {

constexpr DifferenceScale uncertainty_scale{0.0, 10.0};

// Cells as large as they are on the forecast, so that both lie on the face alike.
RasterF over_the_picture(const CleaningForecast& forecast, SizePx size) {
    RasterF out(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            out.at(x, y) = forecast.uncertainty.at(x / forecast.cell_px, y / forecast.cell_px);
    return out;
}

}  // namespace

Raster8 uncertainty_sheet(const CleaningForecast& forecast, const Raster8* painted) {
    const SizePx size = std::visit([](const auto& pixels) { return pixels.size(); }, forecast.picture);
    Raster8 map = draw_differences(over_the_picture(forecast, size), uncertainty_scale, painted);
    write_forecast_words(map);
    std::vector<std::string> lines{
        fmt::format("How far the cleaned picture may lie from the forecast, place by place: one standard deviation of "
                    "ΔE00, {} on the average. A forecast, no promise.",
                    format_fixed(forecast.mean_uncertainty, 1))};
    if (painted != nullptr) lines.emplace_back("Grey is not the face of the painting.");
    lines.insert(lines.end(), forecast.notes.begin(), forecast.notes.end());
    return with_legend(map, uncertainty_scale, "ΔE00", lines);
}

}  // namespace tedge::imaging
