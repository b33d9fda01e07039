// Single values between sRGB of 8 or 16 bits and linear light.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

// Linear light of every encoded value.
template <class T>
[[nodiscard]] const std::vector<float>& light_of_encoded() {
    static const std::vector<float> table = [] {
        constexpr std::size_t most = std::numeric_limits<T>::max();
        std::vector<float> light(most + 1);
        for (std::size_t v = 0; v <= most; ++v)
            light[v] = static_cast<float>(srgb_decoded(static_cast<double>(v) / static_cast<double>(most)));
        return light;
    }();
    return table;
}

// The nearest encoded value; what is beyond black or white is clipped.
template <class T>
[[nodiscard]] T encoded_of_light(double light) {
    constexpr double most = std::numeric_limits<T>::max();
    return static_cast<T>(std::lround(most * std::clamp(srgb_encoded(std::max(0.0, light)), 0.0, 1.0)));
}

}  // namespace tedge::imaging
