// Faint inscriptions made easier to read: local contrast, ratios of channels, principal components over registered
// lights. Each view has a recipe that makes it again to the byte.
//
// Every channel is turned into the logarithm of its light first: what an uneven lamp or a toned varnish multiplies is
// then added, and falls out of a difference. Nothing is drawn in: a view shows what the photographs hold, with more
// contrast and with more noise, and what looks like a letter in it has still to be read by a person.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

enum class LegibilityMethod {
    // One channel, less its local mean, over its local deviation (the filter of Wallis 1976; from memory).
    local_contrast,
    // The logarithm of one channel over another.
    channel_ratio,
    // A linear combination of all channels: axes of the covariance of their logarithms, the widest spread first
    // (Pearson 1901, Hotelling 1933; from memory).
    principal_component
};

// Channels are counted through all lights in order, from 0: of two colour photographs and a grey one 0 to 2, 3 to 5, 6.
struct LegibilityRecipe {
    LegibilityMethod method = LegibilityMethod::principal_component;
    std::size_t channel = 0;    // local_contrast; over `divisor` for channel_ratio
    std::size_t divisor = 1;    // channel_ratio
    std::size_t component = 0;  // principal_component; 0 has the largest variance
    int smooth_px = 0;          // radius of a mean taken first, against noise; 0 none
    // Radius of the surroundings whose mean is taken away (two means one after the other); 0 leaves tones as they are.
    // local_contrast needs one.
    int surroundings_px = 0;
    double clipped_share = 0.005;              // of the pixels made black, and as many white
    std::vector<std::string> inputs_sha256{};  // of the files, in the order of the lights; not looked at here

    friend bool operator==(const LegibilityRecipe&, const LegibilityRecipe&) = default;
};

struct PrincipalComponents {
    std::vector<double> eigenvalues;  // variances of the logarithms (natural), the largest first
    // loadings[component][channel]: orthonormal; the one of largest size is positive, of equal ones the first.
    std::vector<std::vector<double>> loadings;
};

struct LegibilityView {
    Raster8 gray;                    // 1 channel
    PrincipalComponents components;  // of principal_component; empty otherwise
};

// lights: sRGB of one size, 1 or 3 channels each, pixel on pixel (registered and resampled). counted: 1 channel, pixels
// other than 0 count for the statistics; null: all. The same bytes on any number of threads.
// Errors: legibility.no-lights, legibility.sizes-differ, legibility.no-such-channel (or component),
// legibility.parameters, cancelled.
[[nodiscard]] Expected<LegibilityView> legibility_view(std::span<const Raster16> lights, const LegibilityRecipe& recipe,
                                                       const Raster8* counted = nullptr, const Progress& progress = {});

[[nodiscard]] std::string_view name_of(LegibilityMethod method);  // "local-contrast", "channel-ratio", ...
[[nodiscard]] Expected<LegibilityMethod> parse_legibility_method(std::string_view name);  // legibility.method

}  // namespace tedge::imaging
