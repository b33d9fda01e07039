#include "colour.hpp"

#include <algorithm>

#include "tedge/imaging/colour.hpp"

namespace tedge::painter {

float srgb_encoded(float linear) {
    return static_cast<float>(imaging::srgb_encoded(std::clamp(static_cast<double>(linear), 0.0, 1.0)));
}

float srgb_decoded(float encoded) {
    return static_cast<float>(imaging::srgb_decoded(static_cast<double>(encoded)));
}

Rgb from_srgb(std::uint32_t hex) {
    const auto channel = [hex](unsigned shift) {
        return srgb_decoded(static_cast<float>((hex >> shift) & 0xFFU) / 255.0F);
    };
    return {channel(16U), channel(8U), channel(0U)};
}

SrgbTable::SrgbTable() {
    for (std::size_t i = 0; i < values_.size(); ++i)
        values_[i] = srgb_encoded(static_cast<float>(i) / static_cast<float>(steps));
}

Rgb from_lab_d50(double lightness, double a, double b) {
    const imaging::Rgb linear = imaging::linear_srgb_from_xyz(imaging::xyz_from_lab({lightness, a, b}));
    return {static_cast<float>(linear.r), static_cast<float>(linear.g), static_cast<float>(linear.b)};
}

}  // namespace tedge::painter
