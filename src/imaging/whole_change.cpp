#include "whole_change.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "linear_light.hpp"

namespace tedge::imaging {
namespace {

constexpr int square_px = 20;

// Sums of linear light of both pictures.
struct Sum {
    std::array<double, 3> before{}, after{};
    std::size_t pixels = 0;

    void add(const std::uint8_t* first, const std::uint8_t* second) {
        const auto& light = linear_light().from_srgb8;
        for (std::size_t c = 0; c < 3; ++c) {
            before[c] += light[first[c]];
            after[c] += light[second[c]];
        }
        ++pixels;
    }
    void add(const Sum& other) {
        for (std::size_t c = 0; c < 3; ++c) {
            before[c] += other.before[c];
            after[c] += other.after[c];
        }
        pixels += other.pixels;
    }
    [[nodiscard]] Lab lab(const std::array<double, 3>& sum) const {
        const double all = 65535.0 * static_cast<double>(pixels);
        return lab_from_xyz(xyz_from_linear_srgb({sum[0] / all, sum[1] / all, sum[2] / all}));
    }
    [[nodiscard]] double delta_e() const { return delta_e00(lab(before), lab(after)); }
};

Sum sum_of_square(const Raster8& before, const Raster8& after, const Raster8& where, int left, int top) {
    Sum sum;
    for (int y = top; y < std::min(top + square_px, where.height_px()); ++y)
        for (int x = left; x < std::min(left + square_px, where.width_px()); ++x)
            if (where.at(x, y) != 0) sum.add(&before.at(x, y), &after.at(x, y));
    return sum;
}

}  // namespace

std::optional<WholeChange> whole_change(const Raster8& before_srgb, const Raster8& after_srgb, const Raster8& where,
                                        double level_delta_e00) {
    Sum whole;
    double above = 0.0;
    for (int top = 0; top < where.height_px(); top += square_px)
        for (int left = 0; left < where.width_px(); left += square_px) {
            const Sum square = sum_of_square(before_srgb, after_srgb, where, left, top);
            if (square.pixels == 0) continue;
            whole.add(square);
            if (square.delta_e() > level_delta_e00) above += static_cast<double>(square.pixels);
        }
    if (whole.pixels == 0) return std::nullopt;
    return WholeChange{whole.lab(whole.before), whole.lab(whole.after), whole.delta_e(),
                       above / static_cast<double>(whole.pixels)};
}

}  // namespace tedge::imaging
