// What an aged coat does to light, and what lies under it.
//
// Light goes through the coat twice and is weakened by the law of Beer and Lambert; what the coat itself scatters back
// comes on top, weakened on its way as well. With a thickness t in units of the mean one, in linear light:
//     uncleaned = exp(-A·t) · cleaned + t · M · cleaned + V · (1 - exp(-A·t)) / (1 - exp(-A))
// A is the absorption of both passages and V the veil of the mean thickness (single scattering within an absorbing
// layer), each for red, green and blue alone. M is small: what the three of them, being broad and overlapping, take
// from each other where the coat shifts the spectrum within them.
#pragma once

#include <array>
#include <cstddef>

namespace tedge::imaging {

using Light3 = std::array<double, 3>;  // linear red, green, blue; white is 1

struct Coat {
    Light3 absorption{};
    Light3 veil{};
    std::array<Light3, 3> crosstalk{};  // M, row by row; nothing on its diagonal
};

// The darkest light that a painting sends back.
inline constexpr double blackest_light = 0.002;

// A coat of one thickness, ready to be taken off many pixels.
class CoatThere {
public:
    CoatThere(const Coat& coat, double thickness);

    // What lies under it, as the model has it: below black where noise or the veil say so.
    [[nodiscard]] Light3 solved(const Light3& uncleaned) const {
        const Light3 d{uncleaned[0] - veil_[0], uncleaned[1] - veil_[1], uncleaned[2] - veil_[2]};
        Light3 paint{};
        for (std::size_t c = 0; c < 3; ++c) paint[c] = back_[c][0] * d[0] + back_[c][1] * d[1] + back_[c][2] * d[2];
        return paint;
    }
    [[nodiscard]] Light3 without(const Light3& uncleaned) const {
        Light3 paint = solved(uncleaned);
        for (double& each : paint) each = each > blackest_light ? each : blackest_light;
        return paint;
    }

private:
    Light3 veil_{};
    std::array<Light3, 3> back_{};
};

}  // namespace tedge::imaging
