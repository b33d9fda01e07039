#include "craquelure.hpp"

#include <algorithm>
#include <cmath>

#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

constexpr double step_mm = 0.45;
constexpr double cells_per_mm = 3.0;

struct Habit {
    int generation;
    float spacing_mm, length_mm, width_mm, clearance_mm, wander;
    std::uint32_t seed;
};

class Growth {
public:
    Growth(SizeMm face, double bar_mm, std::uint32_t seed)
        : face_(face),
          bar_mm_(bar_mm),
          seed_(seed),
          columns_(static_cast<int>(face.width_mm * cells_per_mm) + 1),
          rows_(static_cast<int>(face.height_mm * cells_per_mm) + 1),
          taken_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0) {}

    void generation(const Habit& habit) {
        Dice dice(seed_ + habit.seed, 7U);
        for (const Spot& spot : scatter(0.0F, 0.0F, static_cast<float>(face_.width_mm),
                                        static_cast<float>(face_.height_mm), habit.spacing_mm, seed_ + habit.seed)) {
            // Brittle passages have more of them; some stay whole.
            const float brittle = 0.62F + 0.75F * fractal(spot.x_mm / 120.0F, spot.y_mm / 95.0F, 2, seed_ + 3U);
            if (!dice.chance(clamp01(brittle + (habit.generation == 1 ? 0.25F : 0.0F)))) continue;
            start({static_cast<double>(spot.x_mm), static_cast<double>(spot.y_mm)}, habit, dice);
        }
    }

    // A web about a place that was once struck: uneven arcs that open outwards.
    void impact(PointMm at, double radius_mm) {
        Dice dice(seed_ + 91U, 7U);
        const Habit habit{2, 1.0F, 9.0F, 0.10F, 0.0F, 0.05F, 0U};
        for (double radius = radius_mm / 3.0; radius <= radius_mm; radius += radius_mm / 3.4)
            for (double turn = static_cast<double>(dice.unit()); turn < 6.2;
                 turn += 1.2 + 0.8 * static_cast<double>(dice.unit()))
                keep(arc(at, radius, turn, 0.6 + 0.6 * static_cast<double>(dice.unit())), habit, dice);
    }

    [[nodiscard]] std::vector<Crack> take() { return std::move(cracks_); }

private:
    [[nodiscard]] Line arc(PointMm at, double radius, double turn, double sweep) const {
        Line line;
        for (double a = turn; a < turn + sweep; a += step_mm / radius) {
            const auto fa = static_cast<float>(a);
            const double uneven = 1.0 +
                                  0.16 * static_cast<double>(fractal(fa * 1.6F, static_cast<float>(radius), 3, seed_)) +
                                  0.12 * (a - turn);
            line.push_back({at.x_mm + 1.25 * radius * uneven * std::cos(a), at.y_mm + radius * uneven * std::sin(a)});
        }
        return line;
    }

    [[nodiscard]] std::uint32_t* cell(PointMm p) {
        const int column = static_cast<int>(p.x_mm * cells_per_mm);
        const int row = static_cast<int>(p.y_mm * cells_per_mm);
        if (p.x_mm < 0.0 || p.y_mm < 0.0 || column >= columns_ || row >= rows_) return nullptr;
        return &taken_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                       static_cast<std::size_t>(column)];
    }

    [[nodiscard]] bool crowded(PointMm p, double clearance) {
        for (double dy = -clearance; dy <= clearance; dy += 0.3)
            for (double dx = -clearance; dx <= clearance; dx += 0.3) {
                const std::uint32_t* there = cell({p.x_mm + dx, p.y_mm + dy});
                if (there != nullptr && *there != 0) return true;
            }
        return false;
    }

    // The way the canvas pulls at a place: level or upright, leaning towards the corners, and along the bars' edges.
    [[nodiscard]] double pull(PointMm p, bool upright) const {
        const auto x = static_cast<float>(p.x_mm);
        const auto y = static_cast<float>(p.y_mm);
        double angle = 0.55 * static_cast<double>(fractal(x / 130.0F, y / 130.0F, 2, seed_ + 5U));
        const double left = p.x_mm, right = face_.width_mm - p.x_mm, top = p.y_mm, bottom = face_.height_mm - p.y_mm;
        const double corner = std::hypot(std::min(left, right), std::min(top, bottom));
        if (corner < 110.0) {
            const double sign = (left < right) == (top < bottom) ? -1.0 : 1.0;
            angle += sign * 0.75 * (1.0 - corner / 110.0);
        }
        return angle + (upright ? 1.5707963 : 0.0);
    }

    [[nodiscard]] bool beside_bar(PointMm p) const {
        const double side = std::min(p.x_mm, face_.width_mm - p.x_mm);
        const double end = std::min(p.y_mm, face_.height_mm - p.y_mm);
        return std::fabs(side - bar_mm_) < 5.0 || std::fabs(end - bar_mm_) < 5.0;
    }

    void start(PointMm p, const Habit& habit, Dice& dice) {
        if (crowded(p, static_cast<double>(habit.clearance_mm))) return;
        const bool upright =
            beside_bar(p) ? std::fabs(std::min(p.x_mm, face_.width_mm - p.x_mm) - bar_mm_) < 5.0 : dice.chance(0.5F);
        const double spread = beside_bar(p) ? 0.06 : 0.42;
        const double angle = pull(p, upright) + spread * static_cast<double>(dice.normal());
        // Exponential lengths: most cracks are short, a few run far.
        const double length =
            static_cast<double>(habit.length_mm) * (0.35 - std::log(1.0 - 0.95 * static_cast<double>(dice.unit())));
        Line back = run(p, angle + 3.14159265, 0.5 * length, habit, dice);
        std::reverse(back.begin(), back.end());
        back.pop_back();
        const Line forth = run(p, angle, 0.5 * length, habit, dice);
        back.insert(back.end(), forth.begin(), forth.end());
        keep(back, habit, dice);
    }

    // Walks on until an older crack or the edge is met.
    Line run(PointMm p, double angle, double length, const Habit& habit, Dice& dice) {
        Line line{p};
        const double offset = angle - pull(p, false);
        for (double gone = 0.0; gone < length; gone += step_mm) {
            angle += static_cast<double>(habit.wander) * static_cast<double>(dice.normal());
            angle += 0.05 * (pull(p, false) + offset - angle);
            const double kick = 0.2 * static_cast<double>(dice.normal());
            p = {p.x_mm + step_mm * std::cos(angle + kick), p.y_mm + step_mm * std::sin(angle + kick)};
            line.push_back(p);
            const std::uint32_t* there = cell(p);
            if (there == nullptr || *there != 0) break;
        }
        return line;
    }

    void keep(const Line& line, const Habit& habit, Dice& dice) {
        if (line.size() < 4) return;
        const auto id = static_cast<std::uint32_t>(cracks_.size()) + 1U;
        for (const PointMm& p : line)
            if (std::uint32_t* there = cell(p); there != nullptr && *there == 0) *there = id;
        cracks_.push_back({line, static_cast<double>(habit.width_mm * dice.between(0.6F, 1.5F)), habit.generation});
    }

    SizeMm face_;
    double bar_mm_;
    std::uint32_t seed_;
    int columns_;
    int rows_;
    std::vector<std::uint32_t> taken_;
    std::vector<Crack> cracks_;
};

}  // namespace

std::vector<Crack> grow_cracks(SizeMm face, double bar_width_mm, std::uint32_t seed) {
    Growth growth(face, bar_width_mm, seed);
    growth.impact({486.0, 176.0}, 26.0);
    growth.generation({1, 24.0F, 95.0F, 0.17F, 3.0F, 0.07F, 11U});
    growth.generation({1, 15.0F, 55.0F, 0.13F, 3.0F, 0.09F, 12U});
    growth.generation({2, 7.5F, 42.0F, 0.095F, 2.2F, 0.12F, 13U});
    growth.generation({3, 4.2F, 24.0F, 0.06F, 1.4F, 0.16F, 14U});
    return growth.take();
}

double length_mm(const std::vector<Crack>& cracks) {
    double sum = 0.0;
    for (const Crack& crack : cracks)
        for (std::size_t i = 1; i < crack.line.size(); ++i)
            sum += std::hypot(crack.line[i].x_mm - crack.line[i - 1].x_mm, crack.line[i].y_mm - crack.line[i - 1].y_mm);
    return sum;
}

Field lift_of(const std::vector<Crack>& cracks, SizeMm face) {
    Field lift(face, 2.0, 1, [](float, float) { return 0.0F; });
    const Grid& grid = lift.grid();
    constexpr int reach = 5;
    for (const Crack& crack : cracks) {
        const float size = crack.generation == 1 ? 26.0F : (crack.generation == 2 ? 15.0F : 7.0F);
        for (const PointMm& p : crack.line) {
            const int column = static_cast<int>(p.x_mm * 2.0);
            const int row = static_cast<int>(p.y_mm * 2.0);
            for (int y = std::max(0, row - reach); y <= std::min(grid.height_px - 1, row + reach); ++y)
                for (int x = std::max(0, column - reach); x <= std::min(grid.width_px - 1, column + reach); ++x) {
                    const float away =
                        std::hypot(grid.mm(x) - static_cast<float>(p.x_mm), grid.mm(y) - static_cast<float>(p.y_mm));
                    float& there = lift.samples().at(x, y);
                    there = std::max(there, size * std::exp(-away * 1.1F));
                }
        }
    }
    return lift;
}

}  // namespace tedge::painter
