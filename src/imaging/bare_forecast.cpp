#include "bare_forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "coat_forecast.hpp"
#include "encoded_light.hpp"
#include "forecast_lay.hpp"
#include "forecast_notes.hpp"
#include "forecast_pairs.hpp"
#include "forecast_tones.hpp"

namespace tedge::imaging {
namespace {

// Less than this between two photographs of one surface is their noise and light (two good ones differ by some 2).
constexpr double least_change = 1.0;

template <class T>
Expected<void> check(const Raster<T>& uncleaned, const Raster<T>& cleaned, const Raster8& windows,
                     const Raster8* painted) {
    if (uncleaned.size() != cleaned.size() || uncleaned.size() != windows.size() ||
        (painted != nullptr && painted->size() != uncleaned.size()))
        return fail("forecast.sizes-differ", "The photographs and the mask of the windows differ in size.",
                    "Lay the second photograph over the first.");
    if (uncleaned.channels() != 3 || cleaned.channels() != 3 || windows.channels() != 1)
        return fail("forecast.not-colour", "A forecast needs two photographs in colour.",
                    "Give red, green and blue, and a mask of one channel.");
    return {};
}

std::unexpected<Error> nothing_left(const std::vector<WindowPairs>& all) {
    if (all.empty())
        return fail("forecast.no-window", "No cleaned window is given.", "Outline the windows that are cleaned.");
    const std::string& why = all.front().window.why_not;
    const std::string next = "Open a larger window, or photograph it again.";
    const std::map<std::string, std::string> values{{"why", why}};
    if (std::ranges::any_of(all,
                            [](const WindowPairs& each) { return each.window.trouble == WindowTrouble::unchanged; }))
        return fail("forecast.not-cleaned", "Nothing changed in the windows: they were not cleaned, or not seen so.",
                    "Give the photograph taken after the windows were cleaned.", values);
    if (std::ranges::any_of(all,
                            [](const WindowPairs& each) { return each.window.trouble == WindowTrouble::burnt_out; }))
        return fail("forecast.saturated", "The windows are burnt out.", "Photograph them with a shorter exposure.",
                    values);
    return fail("forecast.window-too-small", "The windows are too small to be measured.", next, values);
}

void sort_out(std::vector<WindowPairs>& all) {
    for (WindowPairs& each : all) {
        if (!each.window.used || each.window.seen_change >= least_change) continue;
        each.window.used = false;
        each.window.trouble = WindowTrouble::unchanged;
        each.window.why_not = "Nothing changed in it.";
    }
}

ForecastError error_of(std::vector<double>& differences) {
    std::ranges::sort(differences);
    double sum = 0.0;
    for (const double each : differences) sum += each;
    const auto at = static_cast<std::size_t>(0.95 * static_cast<double>(differences.size() - 1));
    return {sum / static_cast<double>(differences.size()), differences[at]};
}

// Everything a fit and a prediction need beside the windows.
struct Setting {
    Light3 darkest{};
    Light3 noise{};
    double longest_px = 0.0;
};

// A window or a half, foretold without it.
struct Hidden {
    std::vector<double> differences;
    double square = 0.0;  // of differences over the stated uncertainty
};

void tell_hidden(const CoatForecast& forecast, const WindowPairs& window, std::optional<int> half, Hidden& out) {
    std::vector<ThicknessThere> there;
    for (const PointPx& middle : window.middles) there.push_back(forecast.field().at(middle));
    for (std::size_t i = 0; i < window.places.size(); ++i) {
        if (half && window.half[i] != *half) continue;
        const SeenTwice& place = window.places[i];
        const ThicknessThere& here = there[place.patch];
        const Light3 told = CoatThere(forecast.fitted().coat, here.thickness).without(place.uncleaned);
        const double off = light_difference(told, place.cleaned);
        const double stated = forecast.area_sd(place.uncleaned, here);
        out.differences.push_back(off);
        out.square += std::min(25.0, off * off / (stated * stated));  // dirt left behind is no error of the forecast
    }
}

ForecastError error_of(const std::vector<Hidden>& hidden) {
    std::vector<double> all;
    for (const Hidden& each : hidden) all.insert(all.end(), each.differences.begin(), each.differences.end());
    return error_of(all);
}

// Worse than leaving the hidden windows as they are, and by more than was owned to: few windows may foretell each other
// badly and still say together how the coat is.
bool contradict(const std::vector<Hidden>& hidden, double seen_change) {
    constexpr double owned_to = 2.0;
    double square = 0.0;
    for (const Hidden& each : hidden) square += each.square / static_cast<double>(each.differences.size());
    return error_of(hidden).mean >= seen_change && square > owned_to * owned_to * static_cast<double>(hidden.size());
}

// As if the stated uncertainty had been right in as many windows as two already.
double widening(const std::vector<Hidden>& hidden) {
    constexpr double as_stated = 2.0;
    double square = as_stated;
    for (const Hidden& each : hidden) square += each.square / static_cast<double>(each.differences.size());
    return std::max(1.0, std::sqrt(square / (as_stated + static_cast<double>(hidden.size()))));
}

std::vector<Hidden> hide_windows(std::vector<WindowPairs>& used, const Setting& setting, const Progress& progress) {
    std::vector<Hidden> all(used.size());
    for (std::size_t w = 0; w < used.size() && !progress.stopped(); ++w) {
        progress.at(static_cast<double>(w) / static_cast<double>(used.size()), "hiding windows");
        const CoatForecast forecast(used, {.window = w}, setting.darkest, setting.noise, setting.longest_px);
        tell_hidden(forecast, used[w], std::nullopt, all[w]);
        used[w].window.left_out = error_of(all[w].differences);
    }
    return all;
}

std::vector<Hidden> hide_halves(const std::vector<WindowPairs>& used, const Setting& setting) {
    std::vector<Hidden> all(2);
    for (const int half : {0, 1}) {
        const CoatForecast forecast(used, {.half = half}, setting.darkest, setting.noise, setting.longest_px);
        tell_hidden(forecast, used.front(), half, all[static_cast<std::size_t>(half)]);
    }
    return all;
}

double mean_change(const std::vector<WindowPairs>& used) {
    double sum = 0.0;
    for (const WindowPairs& each : used) sum += each.window.seen_change / static_cast<double>(used.size());
    return sum;
}

void tell_coat(const CoatForecast& forecast, CleaningForecast& out) {
    const Coat& coat = forecast.fitted().coat;
    out.absorption.assign(coat.absorption.begin(), coat.absorption.end());
    out.veil.assign(coat.veil.begin(), coat.veil.end());
    out.thickness_variation = forecast.field().variation();
}

}  // namespace

template <class T>
Expected<CleaningForecast> bare_forecast(const Raster<T>& uncleaned, const Raster<T>& cleaned, const Raster8& windows,
                                         const CleaningForecastOptions& options, const Progress& progress) {
    if (auto checked = check(uncleaned, cleaned, windows, options.painted); !checked) return pass_on(checked);
    auto all = pairs_in_windows(uncleaned, cleaned, windows, progress.part(0.0, 0.1));
    if (progress.stopped()) return cancelled();
    sort_out(all);
    std::vector<WindowPairs> used;
    std::ranges::copy_if(all, std::back_inserter(used), [](const WindowPairs& each) { return each.window.used; });
    if (used.empty()) return nothing_left(all);
    const Setting setting{darkest_of(uncleaned, options.painted), noise_of(uncleaned),
                          static_cast<double>(std::max(uncleaned.width_px(), uncleaned.height_px()))};
    CleaningForecast out;
    out.seen_change = mean_change(used);
    const bool alone = used.size() == 1;
    const auto hidden = alone ? hide_halves(used, setting) : hide_windows(used, setting, progress.part(0.1, 0.4));
    if (progress.stopped()) return cancelled();
    (alone ? out.left_out_halves : out.left_out_windows) = error_of(hidden);
    if (!alone && contradict(hidden, out.seen_change)) return windows_disagree(*out.left_out_windows, out.seen_change);
    CoatForecast forecast(used, {}, setting.darkest, setting.noise, setting.longest_px);
    forecast.widen(widening(hidden));
    tell_coat(forecast, out);
    if (auto laid = lay_forecast(uncleaned, forecast, options.painted, options.threads, progress.part(0.4, 1.0), out);
        !laid)
        return pass_on(laid);
    for (const WindowPairs& each : all) {
        out.windows.push_back(each.window);
        const auto same = std::ranges::find(used, each.window.number, [](const auto& u) { return u.window.number; });
        if (same == used.end()) continue;
        out.windows.back() = same->window;
        for (const PointPx& middle : same->middles)
            out.windows.back().thickness +=
                forecast.field().at(middle).thickness / static_cast<double>(same->middles.size());
    }
    out.notes = forecast_notes(out, options);
    return out;
}

template Expected<CleaningForecast> bare_forecast(const Raster8&, const Raster8&, const Raster8&,
                                                  const CleaningForecastOptions&, const Progress&);
template Expected<CleaningForecast> bare_forecast(const Raster16&, const Raster16&, const Raster8&,
                                                  const CleaningForecastOptions&, const Progress&);

}  // namespace tedge::imaging
