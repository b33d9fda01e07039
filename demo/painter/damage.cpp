#include "damage.hpp"

#include <cmath>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

Line rectangle(double left, double top, double width, double height) {
    return {{left, top}, {left + width, top}, {left + width, top + height}, {left, top + height}};
}

// A flake breaks along cracks: few corners, sides nearly straight but never quite.
Line flake(PointMm middle, double radius_mm, double stretch, Dice& dice) {
    const int corners = 4 + static_cast<int>(dice.unit() * 4.0F);
    const double turn = static_cast<double>(dice.between(0.0F, 6.2832F));
    Line rough;
    for (int i = 0; i < corners; ++i) {
        const double angle = 6.28318531 * (i + 0.55 * static_cast<double>(dice.unit())) / corners;
        const double out = radius_mm * static_cast<double>(dice.between(0.5F, 1.35F));
        const double x = out * std::cos(angle) * stretch;
        const double y = out * std::sin(angle) / stretch;
        rough.push_back({middle.x_mm + x * std::cos(turn) - y * std::sin(turn),
                         middle.y_mm + x * std::sin(turn) + y * std::cos(turn)});
    }
    Line outline;
    for (std::size_t i = 0; i < rough.size(); ++i) {
        const PointMm& a = rough[i];
        const PointMm& b = rough[(i + 1) % rough.size()];
        const double side = std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
        for (int part = 0; part < 5; ++part) {
            const double t = part / 5.0;
            const double aside = part == 0 ? 0.0 : 0.05 * side * static_cast<double>(dice.normal());
            outline.push_back({a.x_mm + t * (b.x_mm - a.x_mm) - aside * (b.y_mm - a.y_mm) / (side + 1e-9),
                               a.y_mm + t * (b.y_mm - a.y_mm) + aside * (b.x_mm - a.x_mm) / (side + 1e-9)});
        }
    }
    return outline;
}

// A smooth, uneven patch.
Line patch(PointMm middle, double half_width, double half_height, std::uint32_t seed) {
    Line outline;
    for (int i = 0; i < 48; ++i) {
        const double angle = 6.28318531 * i / 48.0;
        const auto c = static_cast<float>(std::cos(angle));
        const auto s = static_cast<float>(std::sin(angle));
        const double out = 1.0 + 0.22 * static_cast<double>(noise(c * 1.7F + 5.0F, s * 1.7F, seed));
        outline.push_back(
            {middle.x_mm + half_width * out * std::cos(angle), middle.y_mm + half_height * out * std::sin(angle)});
    }
    return outline;
}

void add_flakes(Damage& damage, const std::string& name, const Line& zone, PointMm middle, PointMm reach, int count,
                float low, float high, Dice& dice) {
    for (int made = 0, tried = 0; made < count && tried < 400; ++tried) {
        const PointMm at{middle.x_mm + reach.x_mm * static_cast<double>(dice.between(-1.0F, 1.0F)),
                         middle.y_mm + reach.y_mm * static_cast<double>(dice.between(-1.0F, 1.0F))};
        if (!within(zone, at.x_mm, at.y_mm)) continue;
        const float big = dice.unit();
        damage.losses.push_back({name + " " + std::to_string(++made),
                                 flake(at, static_cast<double>(low + (high - low) * big * big), 1.15, dice),
                                 big > 0.72F});
    }
}

// Crumbs that have gone from the edges of cracks inside a zone.
void add_crumbs(Damage& damage, const std::string& name, const Line& zone, const std::vector<Crack>& cracks,
                double chance, Dice& dice) {
    int made = 0;
    for (const Crack& crack : cracks)
        for (const PointMm& p : crack.line)
            if (within(zone, p.x_mm, p.y_mm) && dice.chance(static_cast<float>(chance)))
                damage.losses.push_back({name + " " + std::to_string(++made),
                                         flake(p, static_cast<double>(dice.between(0.35F, 1.1F)), 1.2, dice), false});
}

// The mended tear has lost ground and paint along its way.
void add_tear(Damage& damage, Dice& dice) {
    damage.tear = {{340.0, 92.0}, {346.0, 90.6}, {351.0, 91.4},  {357.0, 89.8},
                   {364.0, 90.4}, {365.2, 96.0}, {364.2, 103.0}, {366.0, 110.0}};
    int made = 0;
    for (std::size_t i = 1; i < damage.tear.size(); ++i)
        for (double t = 0.15; t < 1.0; t += 0.4) {
            const PointMm& a = damage.tear[i - 1];
            const PointMm& b = damage.tear[i];
            damage.losses.push_back({"along the tear " + std::to_string(++made),
                                     flake({a.x_mm + t * (b.x_mm - a.x_mm), a.y_mm + t * (b.y_mm - a.y_mm)},
                                           static_cast<double>(dice.between(0.7F, 1.9F)), 1.3, dice),
                                     false});
        }
}

// Where the rebate of the frame rubbed along the lower and right edges.
void add_edge_losses(Damage& damage, Dice& dice) {
    const double width = face_size.width_mm;
    const double height = face_size.height_mm;
    for (int i = 0; i < 9; ++i) {
        const double x = 30.0 + 62.0 * i + 40.0 * static_cast<double>(dice.unit());
        damage.losses.push_back({"lower edge " + std::to_string(i + 1),
                                 flake({x, height - 2.2}, static_cast<double>(dice.between(1.2F, 2.6F)), 1.7, dice),
                                 dice.chance(0.4F)});
    }
    for (int i = 0; i < 4; ++i) {
        const double y = 90.0 + 95.0 * i + 40.0 * static_cast<double>(dice.unit());
        damage.losses.push_back({"right edge " + std::to_string(i + 1),
                                 flake({width - 1.8, y}, static_cast<double>(dice.between(1.0F, 2.2F)), 0.65, dice),
                                 false});
    }
}

void add_single_losses(Damage& damage, Dice& dice) {
    struct Place {
        double x, y, radius;
        bool to_canvas;
    };
    for (const Place& p : {Place{232, 118, 3.4, false}, Place{478, 171, 2.6, true}, Place{493, 183, 1.9, false},
                           Place{327, 322, 2.8, false}, Place{96, 62, 2.2, false}, Place{418, 402, 3.9, true},
                           Place{262, 206, 1.6, false}, Place{574, 338, 2.4, false}})
        damage.losses.push_back(
            {"loss at " + std::to_string(static_cast<int>(p.x)) + ", " + std::to_string(static_cast<int>(p.y)),
             flake({p.x, p.y}, p.radius, 1.2, dice), p.to_canvas});
}

void add_trials(Damage& damage) {
    damage.trials = {
        {"T1", "sky, upper left", "surface dirt only, water side", rectangle(196, 9, 14, 14), 0.05, 1.0},
        {"T2", "sky, upper left", "varnish thinned", rectangle(218, 9, 14, 14), 0.0, 0.45},
        {"T3", "sky, upper left", "varnish removed", rectangle(240, 9, 14, 14), 0.0, 0.04},
        {"T4", "meadow, right edge", "varnish removed", rectangle(590, 352, 12, 14), 0.0, 0.06},
        {"T5", "dark bank, lower edge", "varnish thinned, stopped early", rectangle(372, 443, 14, 11), 0.1, 0.6},
    };
}

Line half_line() {
    Line outline;
    for (double y = -1.0; y <= face_size.height_mm + 1.0; y += 4.0)
        outline.push_back(
            {303.0 + 5.0 * static_cast<double>(fractal(static_cast<float>(y) / 30.0F, 2.0F, 3, 811U)), y});
    outline.push_back({face_size.width_mm + 1.0, face_size.height_mm + 1.0});
    outline.push_back({face_size.width_mm + 1.0, -1.0});
    return outline;
}

}  // namespace

Damage make_damage(const std::vector<Crack>& cracks) {
    Damage damage;
    Dice dice(801U);
    damage.flaking_zones = {patch({112.0, 424.0}, 42.0, 22.0, 802U), patch({560.0, 84.0}, 24.0, 19.0, 803U)};
    damage.facing_papers = {rectangle(62.0, 396.0, 52.0, 58.0), rectangle(106.0, 395.0, 54.0, 58.0),
                            rectangle(531.0, 58.0, 57.0, 52.0)};
    add_flakes(damage, "flake, lower left", damage.flaking_zones[0], {112.0, 424.0}, {40.0, 21.0}, 17, 0.9F, 5.2F,
               dice);
    add_flakes(damage, "flake, upper right", damage.flaking_zones[1], {560.0, 84.0}, {23.0, 18.0}, 7, 0.7F, 2.8F, dice);
    add_edge_losses(damage, dice);
    add_single_losses(damage, dice);
    add_tear(damage, dice);
    add_crumbs(damage, "crumb, lower left", damage.flaking_zones[0], cracks, 0.055, dice);
    add_crumbs(damage, "crumb, upper right", damage.flaking_zones[1], cracks, 0.035, dice);
    damage.retouchings = {patch({36.0, 300.0}, 7.0, 4.5, 806U), patch({454.0, 30.0}, 9.0, 4.0, 807U),
                          patch({596.0, 190.0}, 5.0, 9.0, 808U), patch({246.0, 452.0}, 12.0, 4.0, 809U)};
    damage.overpaint = patch({354.0, 98.0}, 25.0, 19.0, 804U);
    damage.blanching = patch({520.0, 425.0}, 62.0, 24.0, 805U);
    add_trials(damage);
    damage.cleaned_half = half_line();
    damage.witness = rectangle(432.0, 66.0, 34.0, 24.0);
    damage.signature_box = rectangle(396.0, 447.0, 62.0, 9.0);
    return damage;
}

double area_mm2(const Line& ring) {
    double twice = 0.0;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++)
        twice += ring[j].x_mm * ring[i].y_mm - ring[i].x_mm * ring[j].y_mm;
    return std::fabs(0.5 * twice);
}

}  // namespace tedge::painter
