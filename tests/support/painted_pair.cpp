#include "painted_pair.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <thread>
#include <vector>

namespace tedge::test_support {
namespace {

// SplitMix64 finaliser (Steele, Lea and Flood, 2014).
std::uint64_t scramble(std::uint64_t x) {
    x += 0x9e3779b97f4a7c15ULL;
    x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
    return x ^ (x >> 31U);
}

// Smooth noise in about -1 to 1 with the given wavelength.
double clouds(std::uint64_t seed, PointPx at, double length) {
    const double u = at.x_px / length;
    const double v = at.y_px / length;
    const double iu = std::floor(u);
    const double iv = std::floor(v);
    const auto smooth = [](double t) { return t * t * t * (t * (6.0 * t - 15.0) + 10.0); };
    const double tu = smooth(u - iu);
    const double tv = smooth(v - iv);
    const auto corner = [&](int i, int j) {
        return 2.0 * counted(seed, static_cast<std::int64_t>(iu) + i, static_cast<std::int64_t>(iv) + j) - 1.0;
    };
    return (1 - tv) * ((1 - tu) * corner(0, 0) + tu * corner(1, 0)) +
           tv * ((1 - tu) * corner(0, 1) + tu * corner(1, 1));
}

// One stroke's cover of a point, 0 to 1, with bristle marks, and its shade.
struct Stroke {
    double cover = 0.0;
    double shade = 0.0;
    double warmth = 0.0;
};

Stroke stroke_at(std::uint64_t seed, std::int64_t column, std::int64_t row, double pitch, PointPx at) {
    const auto draw = [&](std::uint64_t c) { return counted(seed, column, row, c); };
    const double x = at.x_px - (static_cast<double>(column) + draw(0)) * pitch;
    const double y = at.y_px - (static_cast<double>(row) + draw(1)) * pitch;
    Stroke stroke;
    if (x * x + y * y > 0.73 * pitch * pitch) return stroke;  // the longest reaches 0.85 pitches
    const double angle = (draw(2) + 0.7 * clouds(seed + 5, at, 8.0 * pitch)) * std::numbers::pi;
    const double along = (x * std::cos(angle) + y * std::sin(angle)) / ((0.45 + 0.4 * draw(3)) * pitch);
    const double across = (y * std::cos(angle) - x * std::sin(angle)) / ((0.15 + 0.2 * draw(4)) * pitch);
    const double distance = std::sqrt(along * along + across * across);
    if (distance >= 1.0) return stroke;
    stroke.cover = std::min(1.0, (1.0 - distance) * 4.0);
    stroke.shade = draw(5) - 0.5 + 0.12 * std::sin(across * (5.0 + 6.0 * draw(7)));
    stroke.warmth = draw(6) - 0.5;
    return stroke;
}

double to_linear(double v) {
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}
double to_display(double v) {
    v = std::clamp(v, 0.0, 1.0);
    return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1.0 / 2.4) - 0.055;
}

double normal(std::uint64_t seed, std::int64_t x, std::int64_t y, std::uint64_t channel) {
    double sum = 0.0;
    for (std::uint64_t i = 0; i < 4; ++i) sum += counted(seed, x, y, 4 * channel + i);
    return (sum - 2.0) * std::numbers::sqrt3;
}

std::array<double, 3> aged(const PaintedScene& scene, PointPx at, const Ageing& ageing) {
    std::array<double, 3> colour = scene.colour(at);
    if (ageing.repainted_share > 0.0 &&
        clouds(scene.seed + 70, at, 2.0 * scene.stroke_px) > 1.0 - 2.0 * ageing.repainted_share) {
        colour = PaintedScene{scene.seed + 71, scene.stroke_px, scene.layers}.colour(at);
    }
    std::array<double, 3> light{};
    for (std::size_t c = 0; c < 3; ++c) light[c] = to_linear(colour[c]);
    if (ageing.inverted) {
        const double glow = 0.35 * std::exp(-3.0 * std::sqrt(light[1])) + 0.03 * light[2];
        light = {0.5 * glow, glow, 1.2 * glow};
    }
    if (ageing.raking > 0.0) {
        const auto thick = [&](double offset) {
            const auto there = scene.colour({at.x_px + offset, at.y_px});
            return there[0] + there[1] + there[2];
        };
        const double shading = std::max(0.05, 1.0 + ageing.raking * (thick(1.0) - thick(-1.0)));
        for (double& each : light) each *= 0.6 * shading;
    }
    const double thickness = 1.0 + 0.35 * clouds(scene.seed + 90, at, 4.0 * scene.stroke_px);
    for (std::size_t c = 0; c < 3; ++c)
        light[c] =
            to_display(light[c] * std::pow(ageing.transmittance[c], thickness) * (1.0 - ageing.haze) + ageing.haze);
    return light;
}

}  // namespace

double counted(std::uint64_t seed, std::int64_t a, std::int64_t b, std::uint64_t c) {
    const std::uint64_t mixed =
        scramble(scramble(scramble(seed * 0x2545f4914f6cdd1dULL + c) + static_cast<std::uint64_t>(a)) +
                 static_cast<std::uint64_t>(b));
    return static_cast<double>(mixed >> 11U) * 0x1.0p-53;
}

std::array<double, 3> PaintedScene::colour(PointPx at) const {
    if (strays_px > 0.0) {
        const PointPx meant = at;
        at.x_px += strays_px * clouds(seed + 801U + copyist, meant, stroke_px);
        at.y_px += strays_px * clouds(seed + 911U + copyist, meant, stroke_px);
    }
    double shade = 0.45 + 0.25 * clouds(seed, at, 6.0 * stroke_px);
    double warmth = 0.3 * clouds(seed + 1, at, 5.0 * stroke_px);
    double pitch = stroke_px;
    for (int layer = 0; layer < layers; ++layer, pitch /= 2.8) {
        const auto column = static_cast<std::int64_t>(std::floor(at.x_px / pitch));
        const auto row = static_cast<std::int64_t>(std::floor(at.y_px / pitch));
        const std::uint64_t hand = layer < own_layers_from ? seed : seed + 1000U * (copyist + 1U);
        const double depth = 0.9 / (1.0 + 0.45 * layer);
        for (std::int64_t j = row - 1; j <= row + 1; ++j) {
            for (std::int64_t i = column - 1; i <= column + 1; ++i) {
                const Stroke stroke = stroke_at(hand + 10U * static_cast<std::uint64_t>(layer + 1), i, j, pitch, at);
                shade += stroke.cover * 0.75 * (0.5 * (shade + 0.45) + depth * stroke.shade - shade);
                warmth += stroke.cover * 0.75 * (0.4 * stroke.warmth - 0.3 * warmth);
            }
        }
    }
    const auto limited = [](double v) { return std::clamp(v, 0.02, 0.98); };
    return {limited(shade + 0.35 * warmth), limited(shade), limited(shade - 0.45 * warmth)};
}

PointPx KnownMove::operator()(PointPx moving) const {
    const auto q = homography.apply(moving.x_px, moving.y_px);
    const double k = 2.0 * std::numbers::pi / bend_length_px;
    return {q[0] + bend_px * std::sin(k * q[0] + 0.4) * std::cos(0.8 * k * q[1]),
            q[1] + bend_px * std::cos(0.9 * k * q[0]) * std::sin(k * q[1] + 1.1)};
}

Homography seen_from(const Viewpoint& v, SizePx reference, SizePx moving) {
    const double angle = v.degrees * std::numbers::pi / 180.0;
    const double c = std::cos(angle) / v.scale;
    const double s = std::sin(angle) / v.scale;
    const double tilt = v.perspective / std::max(moving.width_px, moving.height_px);
    const double side = v.mirrored ? -1.0 : 1.0;
    const auto turned = Homography::from_row_major({c * side, -s, 0, s * side, c, 0, tilt * side, -0.6 * tilt, 1});
    const auto to_middle = Homography::translation(-0.5 * (moving.width_px - 1), -0.5 * (moving.height_px - 1));
    const auto from_middle = Homography::translation(0.5 * (reference.width_px - 1) + v.shift.x_px,
                                                     0.5 * (reference.height_px - 1) + v.shift.y_px);
    return compose(from_middle, compose(turned.value(), to_middle).value()).value();
}

imaging::Raster8 photograph(const PaintedScene& scene, SizePx size, const KnownMove& move, const Ageing& ageing,
                            std::uint64_t seed, int threads) {
    imaging::Raster8 picture(size.width_px, size.height_px, 3);
    const auto paint_rows = [&](int first) {
        for (int y = first; y < size.height_px; y += threads) {
            for (int x = 0; x < size.width_px; ++x) {
                const auto colour = aged(scene, move({static_cast<double>(x), static_cast<double>(y)}), ageing);
                for (std::size_t c = 0; c < 3; ++c) {
                    const double value = 255.0 * colour[c] + ageing.noise * normal(seed, x, y, c);
                    picture.at(x, y, static_cast<int>(c)) =
                        static_cast<std::uint8_t>(std::clamp(value, 0.0, 255.0) + 0.5);
                }
            }
        }
    };
    std::vector<std::jthread> helpers;
    for (int i = 1; i < threads; ++i) helpers.emplace_back(paint_rows, i);
    paint_rows(0);
    return picture;
}

}  // namespace tedge::test_support
