#include "made_weave.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "painted_pair.hpp"

namespace tedge::test_support {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double depth_of_gaps = -0.9;

double around_zero(std::uint64_t seed, std::int64_t a, std::int64_t b, std::uint64_t c) {
    double sum = -6.0;  // twelve uniform numbers: near enough to a normal one
    for (std::uint64_t k = 0; k < 12; ++k) sum += counted(seed, a, b, 12 * c + k);
    return sum;
}

// Smooth, about 1 high, one hill in `length`.
double hills(std::uint64_t seed, double x, double y, double length) {
    const double u = x / length, v = y / length;
    const auto i = static_cast<std::int64_t>(std::floor(u)), j = static_cast<std::int64_t>(std::floor(v));
    const auto ease = [](double t) { return t * t * (3.0 - 2.0 * t); };
    const double s = ease(u - std::floor(u)), t = ease(v - std::floor(v));
    const auto at = [&](std::int64_t a, std::int64_t b) { return 2.0 * counted(seed, a, b) - 1.0; };
    return (1 - t) * ((1 - s) * at(i, j) + s * at(i + 1, j)) + t * ((1 - s) * at(i, j + 1) + s * at(i + 1, j + 1));
}

struct Thread {
    std::int64_t index = 0;
    double off = 0.0;  // of the point from its middle, in pitches
    double half = 0.5;
    double tone = 1.0;
};

Thread nearest(const MadeWeave& made, std::uint64_t set, double at) {
    Thread best;
    double least = 1e9;
    const auto middle = std::llround(at);
    for (std::int64_t i = middle - 1; i <= middle + 1; ++i) {
        const double place = static_cast<double>(i) + made.jitter * around_zero(made.seed + set, i, 0, 0);
        if (std::abs(at - place) >= least) continue;
        least = std::abs(at - place);
        best = {i, at - place, 0.48 * std::max(0.5, 1.0 + made.uneven * around_zero(made.seed + set, i, 1, 0)),
                std::max(0.2, 1.0 + made.uneven * around_zero(made.seed + set, i, 2, 0))};
    }
    return best;
}

double roundness(const Thread& thread) {
    const double t = thread.off / thread.half;
    return std::abs(t) < 1.0 ? std::sqrt(1.0 - t * t) : 0.0;
}

struct Surface {
    double height = 0.0;  // in radii of a thread
    double tone = 1.0;
    double through = 0.0;  // light that comes through
};

std::int64_t floored(std::int64_t number, std::int64_t by) {
    return (number - ((number % by) + by) % by) / by;
}

// 1 where thread a of the one set passes over thread b of the other, -1 where under.
double over(Binding binding, std::int64_t a, std::int64_t b) {
    constexpr std::int64_t turns_after = 10;
    const auto within = [](std::int64_t number, std::int64_t by) { return number - by * floored(number, by); };
    const auto sign = [](bool above) { return above ? 1.0 : -1.0; };
    switch (binding) {
        case Binding::plain:
            break;
        case Binding::twill_two_one:
            return sign(within(a + b, 3) < 2);
        case Binding::twill_two_two:
            return sign(within(a + b, 4) < 2);
        case Binding::herringbone: {
            const std::int64_t there = within(a, 2 * turns_after);
            return sign(within((there < turns_after ? there : 2 * turns_after - 1 - there) + b, 4) < 2);
        }
        case Binding::basket:
            return sign(within(floored(a, 2) + floored(b, 2), 2) == 0);
    }
    return sign(within(a + b, 2) == 0);
}

// How high a thread lies, off the middle of a crossing, in pitches, on its way to the next one.
double between(double here, double next, double off) {
    const double share = 0.5 - 0.5 * std::cos(pi * off);
    return (1.0 - share) * here + share * next;
}

// u and v count threads.
Surface surface_at(const MadeWeave& made, double u, double v) {
    const Thread a = nearest(made, 100, u), b = nearest(made, 200, v);
    const auto crossing = [&](std::int64_t i, std::int64_t j) { return over(made.binding, i, j); };
    const std::int64_t next_a = a.index + (a.off > 0.0 ? 1 : -1), next_b = b.index + (b.off > 0.0 ? 1 : -1);
    const double ra = roundness(a), rb = roundness(b), wave = 0.7 * made.checks;
    const double here = crossing(a.index, b.index);
    const double za = ra > 0.0 ? ra + wave * between(here, crossing(a.index, next_b), b.off) : depth_of_gaps;
    const double zb = rb > 0.0 ? rb - wave * between(here, crossing(next_a, b.index), a.off) : depth_of_gaps;
    return {std::max({za, zb, depth_of_gaps}), za > zb ? a.tone : 0.9 * b.tone, std::exp(-1.5 * (ra + rb))};
}

struct Count {
    double u = 0.0;
    double v = 0.0;
};

Count count_at(const MadeWeave& made, double x_px, double y_px) {
    const double half = 0.5 * made.size.width_px;
    double x = x_px - half, y = y_px - 0.5 * made.size.height_px;
    const double w = 1.0 + made.perspective * x / half;
    x /= w * made.px_per_cm;
    y /= w * made.px_per_cm;
    const double angle = made.degrees * pi / 180.0, other = angle + (90.0 + made.skew_degrees) * pi / 180.0;
    const double along = x * std::cos(angle) + y * std::sin(angle);
    const double down = x * std::cos(other) + y * std::sin(other);
    const double from_top_cm = 0.5 * made.size.height_px / made.px_per_cm + down;
    const double wave = 0.1 * made.cusp_mm * std::exp(-std::max(0.0, from_top_cm) / 2.5) *
                        std::sin(2.0 * pi * along / (0.1 * made.cusp_length_mm));
    return {along * made.across_per_cm + 0.3, (down - wave) * made.down_per_cm + 0.7};
}

double look(const MadeWeave& made, double x, double y) {
    const Count at = count_at(made, x, y);
    const Surface here = surface_at(made, at.u, at.v);
    if (made.transmitted) return 4.0 * here.through - 1.0;
    if (made.raking == 0.0) return here.height * here.tone;
    const Count beside = count_at(made, x + 0.05 * made.px_per_cm / made.across_per_cm, y);
    const double slope = (surface_at(made, beside.u, beside.v).height - here.height) / 0.05;
    return std::clamp(made.raking * slope, -1.5, 1.5) + 0.3 * here.tone;
}

double gray_at(const MadeWeave& made, int x, int y) {
    double weave = 0.0;
    for (const double dy : {-0.25, 0.25})
        for (const double dx : {-0.25, 0.25}) weave += 0.25 * look(made, x + dx, y + dy);
    const double shown = hills(made.seed + 7, x, y, 1.5 * made.px_per_cm) > 2.0 * made.patchy - 1.0 ? 1.0 : 0.0;
    double tone = 128.0 + made.paint * (hills(made.seed + 8, x, y, 1.3 * made.px_per_cm) +
                                        0.4 * hills(made.seed + 9, x, y, 0.4 * made.px_per_cm));
    tone *= 1.0 + made.shading * (2.0 * x / made.size.width_px - 1.0);
    return tone + 2.0 * made.contrast * shown * weave + made.noise * around_zero(made.seed + 10, x, y, 0);
}

}  // namespace

imaging::Raster8 photographed(const MadeWeave& made) {
    imaging::Raster8 out(made.size.width_px, made.size.height_px, 1);
    for (int y = 0; y < made.size.height_px; ++y)
        for (int x = 0; x < made.size.width_px; ++x)
            out.at(x, y) = static_cast<std::uint8_t>(std::lround(std::clamp(gray_at(made, x, y), 0.0, 255.0)));
    return out;
}

imaging::Raster16 photographed_in_colour(const MadeWeave& made) {
    imaging::Raster16 out(made.size.width_px, made.size.height_px, 3);
    constexpr std::array tint{1.0, 0.85, 0.65};
    for (int y = 0; y < made.size.height_px; ++y)
        for (int x = 0; x < made.size.width_px; ++x)
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = static_cast<std::uint16_t>(std::lround(
                    std::clamp(257.0 * tint[static_cast<std::size_t>(c)] * gray_at(made, x, y), 0.0, 65535.0)));
    return out;
}

}  // namespace tedge::test_support
