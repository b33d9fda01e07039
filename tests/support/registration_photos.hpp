// Photographs of real paintings for registration, and what age does to them.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>

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

// Darkened, yellowed and seen askew: the value at a pixel is the reference's at the true point.
inline imaging::Raster8 under_varnish(const imaging::Raster8& picture, const imaging::PixelMap& reference_from_old) {
    // resample() goes the other way round, so the old photograph is made with the inverse plane map.
    imaging::PixelMap inverse;
    inverse.homography = reference_from_old.homography.inverse();
    imaging::Raster8 old = imaging::resample(picture, inverse, picture.size()).value();
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

// RMS distance of a map from the true one, pixels of the reference, at a grid of points that lie inside it.
inline double rms_px(const imaging::PixelMap& found, const imaging::PixelMap& truth, SizePx reference, SizePx moving) {
    double squares = 0.0;
    int count = 0;
    for (int y = 20; y < moving.height_px - 8; y += 30) {
        for (int x = 20; x < moving.width_px - 14; x += 30) {
            const PointPx at{static_cast<double>(x), static_cast<double>(y)};
            const PointPx t = truth.map(at);
            if (t.x_px < 0 || t.y_px < 0 || t.x_px > reference.width_px - 1 || t.y_px > reference.height_px - 1)
                continue;
            const PointPx p = found.map(at);
            squares += std::pow(p.x_px - t.x_px, 2) + std::pow(p.y_px - t.y_px, 2);
            ++count;
        }
    }
    return std::sqrt(squares / count);
}

}  // namespace tedge::test_support
