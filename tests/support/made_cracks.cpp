#include "made_cracks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "painted_pair.hpp"

namespace tedge::test_support {
namespace {

using imaging::Raster8;

// A stream of numbers in [0, 1) from counters.
class Numbers {
public:
    explicit Numbers(std::uint64_t seed) : seed_(seed) {}
    double next() { return counted(seed_, ++count_, 7); }
    double between(double least, double most) { return least + (most - least) * next(); }

private:
    std::uint64_t seed_;
    std::int64_t count_ = 0;
};

bool inside(PointPx at, SizePx size) {
    return at.x_px >= 0 && at.y_px >= 0 && at.x_px <= size.width_px - 1 && at.y_px <= size.height_px - 1;
}

std::pair<int, int> pixel(PointPx at) {
    return {static_cast<int>(std::lround(at.x_px)), static_cast<int>(std::lround(at.y_px))};
}

struct Start {
    PointPx at;
    double direction = 0.0;
    double widest = 4.0;
};

class Grower {
public:
    Grower(const CrackHabit& habit, SizePx size)
        : habit_(habit), size_(size), numbers_(habit.seed), taken_(size.width_px, size.height_px, 1) {}

    std::vector<MadeCrack> all() {
        for (int i = 0; i < habit_.stems; ++i)
            waiting_.push_back({{numbers_.between(0, size_.width_px), numbers_.between(0, size_.height_px)},
                                numbers_.between(0, 2 * std::numbers::pi),
                                habit_.widest_px});
        for (std::size_t i = 0; i < waiting_.size() && i < 4000; ++i) grow(Start(waiting_[i]));
        return std::move(cracks_);
    }

private:
    void grow(const Start& start) {
        MadeCrack crack;
        crack.width_px = numbers_.between(habit_.narrowest_px, start.widest);
        crack.depth = numbers_.between(habit_.shallowest, habit_.deepest);
        const double length = numbers_.between(0.3, 1.0) * habit_.longest_px;
        double direction = start.direction;
        double bend = 0.0;
        PointPx at = start.at;
        std::vector<Start> branches;
        for (double walked = 0.0; walked < length && inside(at, size_); walked += 1.0) {
            const auto [x, y] = pixel(at);
            if (walked > 4 && taken_.at(x, y) != 0) {
                crack.tapers = false;
                break;
            }
            crack.line.push_back(at);
            bend = 0.95 * bend + numbers_.between(-0.006, 0.006);
            direction += bend;
            if (numbers_.next() < 1.0 / habit_.branch_every_px)
                branches.push_back({at, direction + (numbers_.next() < 0.5 ? 1.4 : -1.4), crack.width_px});
            at = {at.x_px + std::cos(direction), at.y_px + std::sin(direction)};
        }
        keep(std::move(crack), branches);
    }

    void keep(MadeCrack crack, const std::vector<Start>& branches) {
        if (crack.line.size() < 25) return;
        for (const PointPx at : crack.line) take(at);
        waiting_.insert(waiting_.end(), branches.begin(), branches.end());
        cracks_.push_back(std::move(crack));
    }

    // Two pixels across, so that no line slips through another by a corner.
    void take(PointPx at) {
        const auto [x, y] = pixel(at);
        taken_.at(x, y) = 1;
        taken_.at(std::min(x + 1, size_.width_px - 1), y) = 1;
    }

    CrackHabit habit_;
    SizePx size_;
    Numbers numbers_;
    Raster8 taken_;
    std::vector<Start> waiting_;
    std::vector<MadeCrack> cracks_;
};

// How much of its depth a line has at a distance from its middle: full inside, a soft edge about a pixel wide.
double covered(double distance, double width) {
    const double half = width / 2;
    const auto step = [](double t) { return 0.5 * (1.0 + std::erf(t / (0.6 * std::numbers::sqrt2))); };
    return step(half - distance) - step(-half - distance);
}

double width_at(const MadeCrack& crack, std::size_t i) {
    if (!crack.tapers) return crack.width_px;
    const double left = 1.0 - static_cast<double>(i) / static_cast<double>(crack.line.size());
    return std::max(0.7, crack.width_px * std::sqrt(left));
}

void darken_around(imaging::RasterF& loss, PointPx at, double width, double depth) {
    const int reach = static_cast<int>(width) + 3;
    const auto [cx, cy] = pixel(at);
    for (int y = std::max(0, cy - reach); y <= std::min(loss.height_px() - 1, cy + reach); ++y) {
        for (int x = std::max(0, cx - reach); x <= std::min(loss.width_px() - 1, cx + reach); ++x) {
            const double share = depth * covered(std::hypot(x - at.x_px, y - at.y_px), width);
            float& here = loss.at(x, y);
            if (std::abs(share) > std::abs(here)) here = static_cast<float>(share);
        }
    }
}

PointPx placed(const Moved& moved, PointPx at) {
    return moved ? moved(at) : at;
}

}  // namespace

std::vector<MadeCrack> made_cracks(const CrackHabit& habit, SizePx size) {
    return Grower(habit, size).all();
}

std::vector<MadeCrack> made_hairs(std::uint64_t seed, SizePx size, int bundles) {
    Numbers numbers(seed);
    std::vector<MadeCrack> out;
    for (int i = 0; i < bundles; ++i) {
        const PointPx middle{numbers.between(0, size.width_px), numbers.between(0, size.height_px)};
        const double direction = numbers.between(0, std::numbers::pi);
        const double depth = numbers.between(0.04, 0.14) * (numbers.next() < 0.5 ? -1.0 : 1.0);
        for (int hair = 0; hair < 14; ++hair) {
            MadeCrack one{{}, numbers.between(1.5, 3.5), depth, true};
            double turn = direction + numbers.between(-0.1, 0.1);
            PointPx at{middle.x_px + numbers.between(-25, 25), middle.y_px + numbers.between(-25, 25)};
            for (int step = 0; step < 60; ++step) {
                one.line.push_back(at);
                turn += 0.008;
                at = {at.x_px + std::cos(turn), at.y_px + std::sin(turn)};
            }
            out.push_back(std::move(one));
        }
    }
    return out;
}

void draw_lines(Raster8& picture, const std::vector<MadeCrack>& lines, const Moved& moved) {
    imaging::RasterF loss(picture.width_px(), picture.height_px(), 1);
    for (const MadeCrack& line : lines)
        for (std::size_t i = 0; i < line.line.size(); ++i)
            darken_around(loss, placed(moved, line.line[i]), width_at(line, i), line.depth);
    for (int y = 0; y < picture.height_px(); ++y)
        for (int x = 0; x < picture.width_px(); ++x)
            for (int c = 0; c < picture.channels(); ++c) {
                const double kept = 1.0 - static_cast<double>(loss.at(x, y));
                picture.at(x, y, c) = static_cast<std::uint8_t>(std::clamp(picture.at(x, y, c) * kept, 0.0, 255.0));
            }
}

Raster8 middle_lines(const std::vector<MadeCrack>& lines, SizePx size, const Moved& moved) {
    Raster8 out(size.width_px, size.height_px, 1);
    for (const MadeCrack& line : lines)
        for (const PointPx point : line.line)
            if (const PointPx at = placed(moved, point); inside(at, size)) {
                const auto [x, y] = pixel(at);
                out.at(x, y) = 255;
            }
    return out;
}

double share_within(const Raster8& of, const Raster8& near, double reach_px) {
    const int reach = static_cast<int>(reach_px);
    std::size_t all = 0;
    std::size_t close = 0;
    const auto met = [&](int x, int y) {
        for (int dy = -reach; dy <= reach; ++dy)
            for (int dx = -reach; dx <= reach; ++dx)
                if (const int nx = x + dx, ny = y + dy; std::hypot(dx, dy) <= reach_px && nx >= 0 && ny >= 0 &&
                                                        nx < near.width_px() && ny < near.height_px() &&
                                                        near.at(nx, ny) != 0)
                    return true;
        return false;
    };
    for (int y = 0; y < of.height_px(); ++y)
        for (int x = 0; x < of.width_px(); ++x)
            if (of.at(x, y) != 0) {
                ++all;
                close += met(x, y) ? 1U : 0U;
            }
    return all == 0 ? 0.0 : static_cast<double>(close) / static_cast<double>(all);
}

}  // namespace tedge::test_support
