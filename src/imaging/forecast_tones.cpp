#include "forecast_tones.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "encoded_light.hpp"

namespace tedge::imaging {
namespace {

constexpr int tone_square_px = 4;
constexpr double quiet_share = 0.2;   // of the squares: where noise alone is seen
constexpr double least_noise = 0.29;  // rounding to eight bits

// Calls `use` with the top left corner of squares all over the picture, at most about half a million of them.
template <class Use>
void each_square(SizePx size, const Use& use) {
    const double squares = static_cast<double>(size.width_px) * size.height_px / (tone_square_px * tone_square_px);
    const int step = tone_square_px * std::max(1, static_cast<int>(std::sqrt(squares / 500'000.0)));
    for (int y = 0; y + tone_square_px <= size.height_px; y += step)
        for (int x = 0; x + tone_square_px <= size.width_px; x += step) use(x, y);
}

double at_share(std::vector<float>& values, double share) {
    if (values.empty()) return 0.0;
    const auto rank = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + rank, values.end());
    return static_cast<double>(values[static_cast<std::size_t>(rank)]);
}

bool all_painted(const Raster8& painted, int left, int top) {
    const int right = left + tone_square_px - 1;
    const int bottom = top + tone_square_px - 1;
    return painted.at(left, top) != 0 && painted.at(right, top) != 0 && painted.at(left, bottom) != 0 &&
           painted.at(right, bottom) != 0;
}

// What is left of each pixel by a mask that straight edges and slopes do not pass: Immerkær, Computer Vision and Image
// Understanding 64, 300-302 (1996); from memory. White noise passes it six times as large.
template <class T>
double unforeseen(const Raster<T>& picture, int x, int y, std::size_t c) {
    const auto v = [&](int right, int down) { return static_cast<double>((&picture.at(x + right, y + down))[c]); };
    return (4.0 * v(0, 0) - 2.0 * (v(-1, 0) + v(1, 0) + v(0, -1) + v(0, 1)) + v(-1, -1) + v(1, -1) + v(-1, 1) +
            v(1, 1)) /
           6.0;
}

}  // namespace

template <class T>
Light3 darkest_of(const Raster<T>& picture, const Raster8* painted) {
    const auto& light = light_of_encoded<T>();
    std::array<std::vector<float>, 3> means;
    each_square(picture.size(), [&](int left, int top) {
        if (painted != nullptr && !all_painted(*painted, left, top)) return;
        std::array<float, 3> sum{};
        for (int y = 0; y < tone_square_px; ++y)
            for (int x = 0; x < tone_square_px; ++x)
                for (std::size_t c = 0; c < 3; ++c) sum[c] += light[(&picture.at(left + x, top + y))[c]];
        for (std::size_t c = 0; c < 3; ++c) means[c].push_back(sum[c] / (tone_square_px * tone_square_px));
    });
    if (means[0].empty() && painted != nullptr) return darkest_of(picture, nullptr);
    Light3 darkest{};
    for (std::size_t c = 0; c < 3; ++c) darkest[c] = at_share(means[c], 0.005);
    return darkest;
}

template <class T>
Light3 noise_of(const Raster<T>& picture) {
    constexpr double to_8_bits = 255.0 / std::numeric_limits<T>::max();
    std::array<std::vector<float>, 3> deviations;
    each_square({picture.width_px() - 2, picture.height_px() - 2}, [&](int left, int top) {
        for (std::size_t c = 0; c < 3; ++c) {
            double square = 0.0;
            for (int y = 0; y < tone_square_px; ++y)
                for (int x = 0; x < tone_square_px; ++x) {
                    const double off = to_8_bits * unforeseen(picture, left + x + 1, top + y + 1, c);
                    square += off * off;
                }
            deviations[c].push_back(static_cast<float>(std::sqrt(square) / tone_square_px));
        }
    });
    Light3 noise{};
    for (std::size_t c = 0; c < 3; ++c) noise[c] = std::max(least_noise, at_share(deviations[c], quiet_share));
    return noise;
}

template Light3 darkest_of(const Raster8&, const Raster8*);
template Light3 darkest_of(const Raster16&, const Raster8*);
template Light3 noise_of(const Raster8&);
template Light3 noise_of(const Raster16&);

}  // namespace tedge::imaging
