// When an 8-bit sRGB pixel is burnt out to white: nothing can be read from it.
#pragma once

#include <algorithm>
#include <cstdint>

namespace tedge::imaging {

struct Extremes {
    int least, most;
};

[[nodiscard]] inline Extremes extremes(const std::uint8_t* rgb) {
    return {std::min({rgb[0], rgb[1], rgb[2]}), std::max({rgb[0], rgb[1], rgb[2]})};
}

[[nodiscard]] inline bool burnt_out(const Extremes& e) {
    constexpr int white_from = 240, burnt_from = 250;
    return e.least >= white_from && e.most >= burnt_from;
}

}  // namespace tedge::imaging
