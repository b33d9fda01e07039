#include "coat_forecast.hpp"

#include <algorithm>
#include <cmath>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

struct Chosen {
    std::vector<SeenTwice> places;
    std::vector<PointPx> middles;  // of the patches
};

// Patches are numbered through all windows; those of which nothing is seen are left out.
Chosen chosen_of(const std::vector<WindowPairs>& windows, const HeldBack& held_back) {
    Chosen out;
    for (std::size_t w = 0; w < windows.size(); ++w) {
        if (held_back.window == w) continue;
        std::vector<std::optional<std::size_t>> number(windows[w].middles.size());
        for (std::size_t i = 0; i < windows[w].places.size(); ++i) {
            if (held_back.half == windows[w].half[i]) continue;
            SeenTwice place = windows[w].places[i];
            auto& patch = number[place.patch];
            if (!patch) {
                patch = out.middles.size();
                out.middles.push_back(windows[w].middles[place.patch]);
            }
            place.patch = *patch;
            out.places.push_back(place);
        }
    }
    return out;
}

std::vector<KnownThickness> known_of(const FittedCoat& fitted, const std::vector<PointPx>& middles) {
    // A patch is never known better than the model holds.
    constexpr double least_sd = 0.015;
    std::vector<KnownThickness> known;
    for (std::size_t i = 0; i < middles.size(); ++i)
        known.push_back({middles[i], fitted.thickness[i], std::hypot(fitted.thickness_sd[i], least_sd)});
    return known;
}

// Root mean square of all but the worst tenth, which is dirt left behind.
double misfit_of(const Chosen& chosen, const FittedCoat& fitted) {
    std::vector<double> sizes;
    for (const SeenTwice& each : chosen.places)
        sizes.push_back(light_difference(CoatThere(fitted.coat, fitted.thickness[each.patch]).without(each.uncleaned),
                                         each.cleaned));
    std::ranges::sort(sizes);
    sizes.resize(std::max<std::size_t>(1, sizes.size() * 9 / 10));
    double square = 0.0;
    for (const double each : sizes) square += each * each;
    return std::sqrt(square / static_cast<double>(sizes.size()));
}

}  // namespace

double light_difference(const Light3& first, const Light3& second) {
    const auto lab = [](const Light3& light) {
        return lab_from_xyz(xyz_from_linear_srgb({light[0], light[1], light[2]}));
    };
    return delta_e00(lab(first), lab(second));
}

CoatForecast::CoatForecast(const std::vector<WindowPairs>& windows, const HeldBack& held_back, const Light3& darkest,
                           const Light3& noise, double longest_side_px)
    : noise_(noise) {
    const Chosen chosen = chosen_of(windows, held_back);
    fitted_ = fit_coat(chosen.places, chosen.middles.size(), darkest);
    field_ = ThicknessField(known_of(fitted_, chosen.middles), longest_side_px);
    misfit_ = misfit_of(chosen, fitted_);
}

double CoatForecast::area_sd(const Light3& uncleaned, const ThicknessThere& there) const {
    const Light3 paint = CoatThere(fitted_.coat, there.thickness).without(uncleaned);
    const auto moved_by = [&](const Coat& coat, double thickness) {
        return light_difference(paint, CoatThere(coat, thickness).without(uncleaned));
    };
    const double thicker = moved_by(fitted_.coat, there.thickness + there.sd);
    double square = misfit_ * misfit_ + thicker * thicker;
    for (const CoatParameters& way : fitted_.ways) {
        CoatParameters values = fitted_.values;
        for (std::size_t i = 0; i < values.size(); ++i) values[i] += way[i];
        const double moved = moved_by(coat_of(values), there.thickness);
        square += moved * moved;
    }
    return times_ * std::sqrt(square);
}

double CoatForecast::pixel_sd(const Light3& uncleaned, const ThicknessThere& there) const {
    const CoatThere coat(fitted_.coat, there.thickness);
    const Light3 paint = coat.without(uncleaned);
    double square = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
        Light3 noisy = uncleaned;
        noisy[c] = srgb_decoded(srgb_encoded(uncleaned[c]) + noise_[c] / 255.0);
        const double moved = light_difference(paint, coat.without(noisy));
        square += moved * moved;
    }
    return std::hypot(area_sd(uncleaned, there), std::sqrt(square));
}

}  // namespace tedge::imaging
