#include "forecast_notes.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

constexpr double hardly_absorbs = 0.03;     // natural logarithm: three parts in a hundred
constexpr double much_of_the_change = 0.5;  // foretold from the others this badly, windows are of two minds

std::string on_the_error(const CleaningForecast& forecast) {
    if (forecast.left_out_windows)
        return fmt::format(
            "Each window foretold from the others is off by ΔE00 {} on the average, of {} that cleaning "
            "changed.",
            format_fixed(forecast.left_out_windows->mean, 1), format_fixed(forecast.seen_change, 1));
    return fmt::format(
        "One window alone tells nothing of how the coat differs elsewhere; its halves foretold from each "
        "other are off by ΔE00 {} on the average, of {} that cleaning changed.",
        format_fixed(forecast.left_out_halves->mean, 1), format_fixed(forecast.seen_change, 1));
}

}  // namespace

std::vector<std::string> forecast_notes(const CleaningForecast& forecast, const CleaningForecastOptions& options) {
    std::vector<std::string> notes{on_the_error(forecast)};
    for (const ForecastWindow& each : forecast.windows)
        if (!each.used) notes.push_back(fmt::format("Window {} is not used. {}", each.number, each.why_not));
    if (forecast.left_out_windows && forecast.left_out_windows->mean > much_of_the_change * forecast.seen_change)
        notes.emplace_back("The windows disagree: the coat is not one and the same everywhere.");
    if (!options.without_gloss)
        notes.emplace_back(
            "Includes gloss: unless the windows were wetted out or both photographs taken with crossed "
            "polarisers, a matt surface beside a glossy one looks like a change of colour.");
    if (std::ranges::max(forecast.absorption) < hardly_absorbs)
        notes.emplace_back(
            "What was taken off scattered light and hardly absorbed any; a matt surface that became "
            "glossy looks the same.");
    return notes;
}

std::unexpected<Error> windows_disagree(const ForecastError& left_out, double seen_change) {
    return fail("forecast.windows-disagree",
                fmt::format("The windows contradict each other: each foretold from the others is off by ΔE00 {}, and "
                            "cleaning changed {}.",
                            format_fixed(left_out.mean, 1), format_fixed(seen_change, 1)),
                "Look whether all of them were cleaned to the same layer, and forecast from those that were.");
}

}  // namespace tedge::imaging
