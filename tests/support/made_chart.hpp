// A made photograph of the 24-patch chart whose place, colours and faults are known exactly.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>

#include "painted_pair.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/imaging/chart_reference.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::test_support {

struct MadeChart {
    SizePx size{900, 700};
    Homography photo_from_chart{};  // the chart frame of chart.hpp
    double patch_share = 0.876;
    double frame = 0.12;      // black frame round the patches, in patches
    double noise = 0.0;       // standard deviation, share of full scale
    double vignetting = 0.0;  // loss of light in the corners
    double exposure = 1.0;
    int samples = 12;  // a side, of a pixel that an edge crosses: the area of a pixel is averaged
    std::uint64_t seed = 1;
    // linear camera = rows · XYZ; the default is linear sRGB
    std::array<std::array<double, 3>, 3> camera_from_xyz = imaging::linear_srgb_from_xyz_d50();
};

// The chart's corners as find_chart gives them.
inline imaging::ChartCorners true_corners(const MadeChart& made) {
    const double h = made.patch_share / 2;
    const std::array<std::array<double, 2>, 4> at{{{-h, -h}, {5 + h, -h}, {5 + h, 3 + h}, {-h, 3 + h}}};
    imaging::ChartCorners out{};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto p = made.photo_from_chart.apply(at[i][0], at[i][1]);
        out[i] = {p[0], p[1]};
    }
    return out;
}

// Linear light at a point of the chart frame.
inline std::array<double, 3> chart_light(const MadeChart& made, double x, double y) {
    const double half = made.patch_share / 2;
    const double rim = half + made.frame;
    imaging::Xyz xyz{};
    if (x < -rim || y < -rim || x > 5 + rim || y > 3 + rim) {
        // a grey wall with a slow ripple
        const double grey = 0.3 + 0.05 * std::sin(1.3 * x) * std::cos(0.9 * y);
        xyz = {grey * 0.9642, grey, grey * 0.8252};
    } else {
        const double column = std::clamp(std::round(x), 0.0, 5.0);
        const double row = std::clamp(std::round(y), 0.0, 3.0);
        if (std::abs(x - column) <= half && std::abs(y - row) <= half)
            xyz = imaging::xyz_from_lab(imaging::chart_reference(imaging::ChartEdition::maker_2005)
                                            .lab[static_cast<std::size_t>(row * 6 + column)]);
        else
            xyz = {0.0193, 0.02, 0.0165};
    }
    std::array<double, 3> out{};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto& m = made.camera_from_xyz[c];
        out[c] = made.exposure * (m[0] * xyz.x + m[1] * xyz.y + m[2] * xyz.z);
    }
    return out;
}

// Whether more than one colour meets in a pixel.
inline bool crossed(const MadeChart& made, const Homography& chart_from_photo, int x, int y) {
    const auto middle = chart_from_photo.apply(x, y);
    const auto light = chart_light(made, middle[0], middle[1]);
    for (const double dy : {-0.5, 0.5})
        for (const double dx : {-0.5, 0.5}) {
            const auto at = chart_from_photo.apply(x + dx, y + dy);
            const auto there = chart_light(made, at[0], at[1]);
            for (std::size_t c = 0; c < 3; ++c)
                if (std::abs(there[c] - light[c]) > 0.002) return true;
        }
    return false;
}

inline imaging::ChartPicture photographed(const MadeChart& made) {
    imaging::ChartPicture out{.linear = imaging::Raster16(made.size.width_px, made.size.height_px, 3)};
    const Homography chart_from_photo = made.photo_from_chart.inverse();
    const double cx = made.size.width_px / 2.0;
    const double cy = made.size.height_px / 2.0;
    for (int y = 0; y < made.size.height_px; ++y) {
        for (int x = 0; x < made.size.width_px; ++x) {
            std::array<double, 3> sum{};
            const int samples = crossed(made, chart_from_photo, x, y) ? made.samples : 1;
            for (int j = 0; j < samples; ++j)
                for (int i = 0; i < samples; ++i) {
                    const auto at =
                        chart_from_photo.apply(x - 0.5 + (i + 0.5) / samples, y - 0.5 + (j + 0.5) / samples);
                    const auto light = chart_light(made, at[0], at[1]);
                    for (std::size_t c = 0; c < 3; ++c) sum[c] += light[c] / (samples * samples);
                }
            const double r2 = ((x - cx) * (x - cx) + (y - cy) * (y - cy)) / (cx * cx + cy * cy);
            for (int c = 0; c < 3; ++c) {
                double n = -6.0;
                for (int k = 0; k < 12 && made.noise > 0; ++k)
                    n += counted(made.seed, x, y, static_cast<std::uint64_t>(c * 12 + k));
                const double v = sum[static_cast<std::size_t>(c)] * (1 - made.vignetting * r2) +
                                 (made.noise > 0 ? n * made.noise : 0.0);
                out.linear.at(x, y, c) = static_cast<std::uint16_t>(std::lround(std::clamp(v, 0.0, 1.0) * 65535.0));
            }
        }
    }
    return out;
}

// The chart turned by degrees about the middle of the photograph, pitch_px between patches, leaning by `lean`.
inline Homography chart_seen(SizePx size, double degrees, double pitch_px, double lean, double shift_x = 0.0,
                             double shift_y = 0.0) {
    const double a = degrees * 3.14159265358979323846 / 180.0;
    const double c = std::cos(a) * pitch_px;
    const double s = std::sin(a) * pitch_px;
    const double mx = size.width_px / 2.0 + shift_x;
    const double my = size.height_px / 2.0 + shift_y;
    const double w = 1.0 - lean * 2.5 - lean * 0.5 * 1.5;
    // The middle of the chart (2.5, 1.5) comes to (mx, my).
    const auto lean_only = Homography::from_row_major({1, 0, 0, 0, 1, 0, -lean / w, -lean * 0.5 / w, 1 / w}).value();
    const auto mid = lean_only.apply(2.5, 1.5);
    const auto place =
        Homography::from_row_major({c, -s, mx - c * mid[0] + s * mid[1], s, c, my - s * mid[0] - c * mid[1], 0, 0, 1})
            .value();
    return compose(place, lean_only).value();
}

// The photograph as an sRGB file.
inline Expected<void> write_photographed(const MadeChart& made, const std::filesystem::path& png) {
    const imaging::ChartPicture linear = photographed(made);
    imaging::Raster8 shown(made.size.width_px, made.size.height_px, 3);
    for (std::size_t i = 0; i < shown.samples().size(); ++i)
        shown.samples()[i] =
            static_cast<std::uint8_t>(std::lround(255 * imaging::srgb_encoded(linear.linear.samples()[i] / 65535.0)));
    return imaging::write_picture(png, shown, imaging::PictureFormat::png);
}

}  // namespace tedge::test_support
