#include "tedge/imaging/cleaning_forecast.hpp"

#include "bare_forecast.hpp"
#include "forecast_words.hpp"

namespace tedge::imaging {
namespace {

template <class T>
Expected<CleaningForecast> marked(const Raster<T>& uncleaned, const Raster<T>& cleaned, const Raster8& windows,
                                  const CleaningForecastOptions& options, const Progress& progress) {
    auto forecast = bare_forecast(uncleaned, cleaned, windows, options, progress);
    if (!forecast) return forecast;
    write_forecast_words(std::get<Raster<T>>(forecast->picture));
    return forecast;
}

}  // namespace

Expected<CleaningForecast> forecast_cleaning(const Raster8& uncleaned_srgb, const Raster8& cleaned_srgb,
                                             const Raster8& windows, const CleaningForecastOptions& options,
                                             const Progress& progress) {
    return marked(uncleaned_srgb, cleaned_srgb, windows, options, progress);
}

Expected<CleaningForecast> forecast_cleaning(const Raster16& uncleaned_srgb, const Raster16& cleaned_srgb,
                                             const Raster8& windows, const CleaningForecastOptions& options,
                                             const Progress& progress) {
    return marked(uncleaned_srgb, cleaned_srgb, windows, options, progress);
}

}  // namespace tedge::imaging
