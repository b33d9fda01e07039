#include "line_character.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <numeric>
#include <unordered_map>

#include "crack_evidence.hpp"
#include "crack_profile.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr double beside_from_px = 3.0;
constexpr double beside_to_px = 15.0;
constexpr int alike_deg = 20;

using Light = std::array<double, 3>;

Light light_at(const Raster8& srgb, PointPx at) {
    const double x = std::clamp(at.x_px, 0.0, srgb.width_px() - 1.0);
    const double y = std::clamp(at.y_px, 0.0, srgb.height_px() - 1.0);
    const int i = static_cast<int>(x), j = static_cast<int>(y);
    const int right = std::min(i + 1, srgb.width_px() - 1), below = std::min(j + 1, srgb.height_px() - 1);
    const double f = x - i, g = y - j;
    Light out{};
    for (int c = 0; c < 3; ++c) {
        const int channel = srgb.channels() == 3 ? c : 0;
        out[static_cast<std::size_t>(c)] =
            (1 - g) * ((1 - f) * srgb.at(i, j, channel) + f * srgb.at(right, j, channel)) +
            g * ((1 - f) * srgb.at(i, below, channel) + f * srgb.at(right, below, channel));
    }
    return out;
}

PointPx moved_by(PointPx from, PointPx direction, double by) {
    return {from.x_px + by * direction.x_px, from.y_px + by * direction.y_px};
}

std::vector<PointPx> course_of(const Crack& crack) {
    std::vector<PixelXY> pixels;
    for (const CrackPixel& pixel : crack.pixels) pixels.push_back(pixel.at);
    return smoothed(pixels);
}

// Axial, 1 to 180.
int axis_deg(PointPx across) {
    const double degrees = std::atan2(across.x_px, -across.y_px) * 180.0 / std::numbers::pi + 360.0;
    return 1 + static_cast<int>(std::lround(degrees)) % 180;
}

// The direction of the line at every pixel of one, 0 elsewhere.
Raster8 directions_of(const CrackMap& map) {
    Raster8 out(map.size.width_px, map.size.height_px, 1);
    for (const Crack& crack : map.cracks) {
        const auto line = course_of(crack);
        for (std::size_t i = 0; i < line.size(); ++i)
            out.at(crack.pixels[i].at.x, crack.pixels[i].at.y) =
                static_cast<std::uint8_t>(axis_deg(unit_across(line, i)));
    }
    return out;
}

bool runs_beside(const Raster8& directions, PointPx at, PointPx across, double side) {
    const int own = axis_deg(across);
    for (double away = beside_from_px; away <= beside_to_px; away += 0.7) {
        const PointPx there = moved_by(at, across, side * away);
        const int x = static_cast<int>(std::lround(there.x_px)), y = static_cast<int>(std::lround(there.y_px));
        if (x < 0 || y < 0 || x >= directions.width_px() || y >= directions.height_px()) return false;
        const int other = directions.at(x, y);
        if (other != 0 && std::abs((other - own + 270) % 180 - 90) <= alike_deg) return true;
    }
    return false;
}

struct Sides {
    Light middle{};
    Light left{};
    Light right{};
};

Sides sides_at(const Raster8& srgb, PointPx at, PointPx across, double width_px) {
    const double off = 0.5 * width_px + 2.0;
    Sides out{.middle = light_at(srgb, at)};
    const auto mean_of = [&](double side) {
        const Light near = light_at(srgb, moved_by(at, across, side * off));
        const Light far = light_at(srgb, moved_by(at, across, side * (off + 1.0)));
        return Light{0.5 * (near[0] + far[0]), 0.5 * (near[1] + far[1]), 0.5 * (near[2] + far[2])};
    };
    out.left = mean_of(1.0);
    out.right = mean_of(-1.0);
    return out;
}

double angle_deg(const Light& p, const Light& q) {
    const auto product = [](const Light& a, const Light& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; };
    const double lengths = std::sqrt(product(p, p) * product(q, q));
    return lengths > 0.0 ? std::acos(std::clamp(product(p, q) / lengths, -1.0, 1.0)) * 180.0 / std::numbers::pi : 0.0;
}

// Sums along a line.
class Along {
public:
    void add(const Sides& here, double depth) {
        double beside = 0.0;
        for (std::size_t c = 0; c < 3; ++c) {
            const double mean = 0.5 * (here.left[c] + here.right[c]);
            lost_[c] += mean - here.middle[c];
            sides_[c] += mean;
            stepped_ += here.left[c] - here.right[c];
            deep_ += mean - here.middle[c];
            beside += mean / 3.0;
        }
        depths_.push_back(depth / std::max(1.0, beside));
    }
    void fill(LineCharacter& out, bool colour) {
        std::ranges::sort(depths_);
        const auto at = [&](double share) {
            return depths_[static_cast<std::size_t>(share * static_cast<double>(depths_.size() - 1))];
        };
        out.depth_spread = (at(0.75) - at(0.25)) / std::max(1e-6, at(0.5));
        out.sides_differ = std::abs(stepped_) / std::max(1.0, std::abs(deep_));
        if (colour) out.off_hue_deg = angle_deg(lost_, sides_);
    }

private:
    Light lost_{};
    Light sides_{};
    double stepped_ = 0.0;
    double deep_ = 0.0;
    std::vector<double> depths_;
};

LineCharacter alone(const Raster8& srgb, const Raster8& evidence, const Raster8& directions, const Crack& crack) {
    LineCharacter out;
    const auto line = course_of(crack);
    Along along;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const CrackPixel& pixel = crack.pixels[i];
        const PointPx across = unit_across(line, i);
        along.add(sides_at(srgb, line[i], across, static_cast<double>(pixel.width_px)),
                  static_cast<double>(pixel.depth));
        out.evidence += static_cast<double>(evidence.at(pixel.at.x, pixel.at.y)) / evidence_unit;
        const bool one = runs_beside(directions, line[i], across, 1.0);
        const bool other = runs_beside(directions, line[i], across, -1.0);
        out.abreast_one += one != other ? 1.0 : 0.0;
        out.abreast_both += one && other ? 1.0 : 0.0;
    }
    const auto length = static_cast<double>(line.size());
    out.evidence /= length;
    out.abreast_one /= length;
    out.abreast_both /= length;
    along.fill(out, srgb.channels() == 3);
    return out;
}

// Which lines hang together: their ends lie on one another or touch.
class Joined {
public:
    explicit Joined(const CrackMap& map) : parent_(map.cracks.size()), width_(map.size.width_px + 2) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
        std::unordered_map<std::int64_t, std::size_t> ends;
        for (std::size_t i = 0; i < map.cracks.size(); ++i)
            for (const PixelXY at : {map.cracks[i].pixels.front().at, map.cracks[i].pixels.back().at}) {
                for (int y = at.y - 1; y <= at.y + 1; ++y)
                    for (int x = at.x - 1; x <= at.x + 1; ++x)
                        if (const auto found = ends.find(key(x, y)); found != ends.end())
                            parent_[root(i)] = root(found->second);
                ends.emplace(key(at.x, at.y), i);
            }
    }
    [[nodiscard]] std::size_t root(std::size_t i) {
        while (parent_[i] != i) {
            parent_[i] = parent_[parent_[i]];
            i = parent_[i];
        }
        return i;
    }

private:
    [[nodiscard]] std::int64_t key(int x, int y) const { return static_cast<std::int64_t>(y) * width_ + x; }

    std::vector<std::size_t> parent_;
    int width_;
};

}  // namespace

std::vector<LineCharacter> line_characters(const Raster8& srgb, const Raster8& evidence, const CrackMap& map) {
    const Raster8 directions = directions_of(map);
    std::vector<LineCharacter> out(map.cracks.size());
    for_each_index(
        static_cast<int>(out.size()), worker_count(0), [] { return false; },
        [&](int index, int) {
            const auto i = static_cast<std::size_t>(index);
            out[i] = alone(srgb, evidence, directions, map.cracks[i]);
        });
    Joined joined(map);
    std::vector<double> lengths(map.cracks.size());
    for (std::size_t i = 0; i < out.size(); ++i) lengths[joined.root(i)] += map.cracks[i].length_px;
    for (std::size_t i = 0; i < out.size(); ++i) out[i].network_px = lengths[joined.root(i)];
    return out;
}

double rather_crack(const LineCharacter& line) {
    return -1.6 - 0.4 * std::log(std::clamp(line.depth_spread, 0.05, 3.0)) - 0.6 * std::min(line.sides_differ, 1.5) -
           0.08 * std::min(line.off_hue_deg, 30.0) - 1.7 * line.abreast_one - 2.3 * line.abreast_both +
           0.35 * std::log(std::clamp(line.network_px, 20.0, 3000.0)) + 1.5 * std::log(std::max(0.3, line.evidence));
}

}  // namespace tedge::imaging
