// Fitting the colour models to patches.
#pragma once

#include <optional>
#include <span>

#include "tedge/imaging/colour_fit.hpp"

namespace tedge::imaging {

struct FitPatch {
    Rgb balanced{};  // gains applied
    Lab reference{};
};

// Coefficients in the order of ColourTransform. Nothing when the patches do not span the model.
[[nodiscard]] std::optional<std::array<double, 18>> fitted_coefficients(std::span<const FitPatch> patches,
                                                                        ColourModel model);
[[nodiscard]] Xyz modelled(const std::array<double, 18>& coefficients, const Rgb& balanced);

}  // namespace tedge::imaging
