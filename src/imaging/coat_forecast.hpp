// A fitted coat and its thickness everywhere: what lies under a place, and how sure that is.
#pragma once

#include <optional>
#include <vector>

#include "coating_fit.hpp"
#include "forecast_pairs.hpp"
#include "thickness_field.hpp"

namespace tedge::imaging {

// What of the windows the fit may see.
struct HeldBack {
    std::optional<std::size_t> window{};  // left out altogether
    std::optional<int> half{};            // of every window, left out
};

class CoatForecast {
public:
    // windows: those in use. noise: of a pixel (noise_of).
    CoatForecast(const std::vector<WindowPairs>& windows, const HeldBack& held_back, const Light3& darkest,
                 const Light3& noise, double longest_side_px);

    [[nodiscard]] const FittedCoat& fitted() const { return fitted_; }
    [[nodiscard]] const ThicknessField& field() const { return field_; }
    [[nodiscard]] const Light3& noise() const { return noise_; }

    // ΔE00, one standard deviation, of a mean over an area, and of a single pixel with its noise on top.
    [[nodiscard]] double area_sd(const Light3& uncleaned, const ThicknessThere& there) const;
    [[nodiscard]] double pixel_sd(const Light3& uncleaned, const ThicknessThere& there) const;

    // What hidden windows say of the stated uncertainty: all of it times this, at least 1.
    void widen(double times) { times_ = times; }

private:
    FittedCoat fitted_;
    ThicknessField field_;
    Light3 noise_{};
    double misfit_ = 0.0;  // ΔE00 that the model leaves over in its own windows
    double times_ = 1.0;
};

// CIEDE2000 between two lights.
[[nodiscard]] double light_difference(const Light3& first, const Light3& second);

}  // namespace tedge::imaging
