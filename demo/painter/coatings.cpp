#include "coatings.hpp"

#include <cmath>

namespace tedge::painter {

Rgb transmittance(const Matter& matter, float thickness_um) {
    const Rgb& a = matter.absorption_per_um;
    return {std::exp(-a.r * thickness_um), std::exp(-a.g * thickness_um), std::exp(-a.b * thickness_um)};
}

DoublePassage::DoublePassage(const Matter& matter) : matter_(matter) {
    const auto count = static_cast<std::size_t>(last) + 2;
    table_.reserve(count);
    for (std::size_t i = 0; i < count; ++i)
        table_.push_back(transmittance(matter, 2.0F * static_cast<float>(i) / per_um));
}

}  // namespace tedge::painter
