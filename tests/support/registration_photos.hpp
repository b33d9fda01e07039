// Photographs of real paintings for registration, and what age does to them.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <vector>

#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::test_support {

inline imaging::Raster8 photo(const std::filesystem::path& file) {
    return imaging::to_srgb8(imaging::read_picture(file).value()).value();
}

// reference_from_old of the aged view: turned by a degree, a little smaller, seen askew.
inline imaging::PixelMap varnished_view() {
    imaging::PixelMap map;
    map.homography = Homography::from_row_major({0.985, 0.021, 9.3, -0.018, 0.991, -6.4, 6e-6, -9e-6, 1}).value();
    return map;
}

// Seen askew: the value at a pixel is the reference's at the true point, by the cubic kernel of resample().
inline imaging::Raster8 seen_askew(const imaging::Raster8& picture, const imaging::PixelMap& reference_from_old) {
    // resample() goes the other way round, so the old photograph is made with the inverse plane map.
    imaging::PixelMap inverse;
    inverse.homography = reference_from_old.homography.inverse();
    return imaging::resample(picture, inverse, picture.size()).value();
}

// Darkened and yellowed.
inline imaging::Raster8 yellowed(imaging::Raster8 old) {
    constexpr std::array<double, 3> kept{0.80, 0.66, 0.42};
    for (int y = 0; y < old.height_px(); ++y) {
        for (int x = 0; x < old.width_px(); ++x) {
            const double thickness = 1.0 + 0.3 * std::sin(x / 210.0) * std::cos(y / 170.0);
            for (int c = 0; c < 3; ++c)
                old.at(x, y, c) = static_cast<std::uint8_t>(
                    14.0 + 0.93 * old.at(x, y, c) * std::pow(kept[static_cast<std::size_t>(c)], thickness));
        }
    }
    return old;
}

inline imaging::Raster8 under_varnish(const imaging::Raster8& picture, const imaging::PixelMap& reference_from_old) {
    return yellowed(seen_askew(picture, reference_from_old));
}

// Distances of a map from the true one, pixels of the reference.
struct TrueErrors {
    double rms_px = 0.0;
    double most_95_px = 0.0;  // of 95 % of the points
    double largest_px = 0.0;
    std::size_t points = 0;
};

// At a grid of points of the moving picture that lie inside the reference. truth: PointPx to PointPx.
template <class Truth>
TrueErrors errors_at_true_points(const imaging::PixelMap& found, const Truth& truth, SizePx reference, SizePx moving,
                                 int step = 30) {
    std::vector<double> distances;
    double squares = 0.0;
    for (int y = 20; y < moving.height_px - 8; y += step) {
        for (int x = 20; x < moving.width_px - 14; x += step) {
            const PointPx at{static_cast<double>(x), static_cast<double>(y)};
            const PointPx t = truth(at);
            if (t.x_px < 0 || t.y_px < 0 || t.x_px > reference.width_px - 1 || t.y_px > reference.height_px - 1)
                continue;
            const PointPx p = found.map(at);
            distances.push_back(std::hypot(p.x_px - t.x_px, p.y_px - t.y_px));
            squares += distances.back() * distances.back();
        }
    }
    if (distances.empty()) return {};
    std::sort(distances.begin(), distances.end());
    return {std::sqrt(squares / static_cast<double>(distances.size())), distances[distances.size() * 95 / 100],
            distances.back(), distances.size()};
}

inline double rms_px(const imaging::PixelMap& found, const imaging::PixelMap& truth, SizePx reference, SizePx moving) {
    const auto map = [&](PointPx at) { return truth.map(at); };
    return errors_at_true_points(found, map, reference, moving).rms_px;
}

}  // namespace tedge::test_support
