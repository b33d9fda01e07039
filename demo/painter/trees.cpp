#include <algorithm>
#include <cmath>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

struct Lobe {
    float x, y, radius;
};

struct Foliage {
    std::uint32_t dark, middle, light, bright;
    float leaf_mm, haze;  // haze: how far off it stands, 0 near, 1 far
};

constexpr Foliage oak_leaves{0x24241a, 0x484723, 0x827a38, 0xbca95a, 2.1F, 0.0F};
constexpr Foliage shore_leaves{0x2e3020, 0x565a30, 0x8b8545, 0xb5a862, 1.5F, 0.12F};
constexpr Foliage autumn_leaves{0x33281a, 0x6e5527, 0xa17a35, 0xc9a157, 1.5F, 0.12F};
constexpr Foliage far_leaves{0x4e5a48, 0x6c7656, 0x8f9166, 0xa9a376, 1.1F, 0.5F};

Stroke leaf(float x, float y, Rgb colour, float size, float angle, float body_um, Dice& dice) {
    Stroke s;
    s.x_mm = x;
    s.y_mm = y;
    s.angle_rad = angle;
    s.length_mm = size * dice.between(0.9F, 1.9F);
    s.width_mm = size * dice.between(0.5F, 0.95F);
    s.bend_mm = 0.12F * s.length_mm * dice.normal();
    s.paint = mixed(colour * (1.0F + 0.10F * dice.normal()), Body::green);
    s.second = colour * (1.0F + 0.22F * dice.normal());
    s.load = dice.between(0.75F, 1.0F);
    s.dryness = dice.between(0.15F, 0.55F);
    s.body_um = body_um;
    s.bristles = dice.word();
    return s;
}

// A crown is a heap of lobes, each lit from the upper left like a ball: dark masses first, then the half tones, then
// the lights where the sun falls, a few leaves loose at the rim.
class Crown {
public:
    Crown(std::vector<Lobe> lobes, const Foliage& foliage, std::uint32_t seed)
        : lobes_(std::move(lobes)), foliage_(foliage), dice_(seed) {
        for (const Lobe& lobe : lobes_) {
            top_ = std::min(top_, lobe.y - lobe.radius);
            bottom_ = std::max(bottom_, lobe.y + lobe.radius);
        }
    }

    void paint(Strokes& strokes) {
        for (const Lobe& lobe : lobes_) masses(strokes, lobe);
        for (const Lobe& lobe : lobes_) clusters(strokes, lobe);
        for (const Lobe& lobe : lobes_) rim(strokes, lobe);
    }

private:
    void masses(Strokes& strokes, const Lobe& lobe) {
        const float size = foliage_.leaf_mm * 2.1F;
        const auto count = static_cast<int>(5.5F * lobe.radius * lobe.radius / (size * size));
        for (int i = 0; i < count; ++i) {
            const float angle = dice_.between(0.0F, 6.2832F);
            const float out = lobe.radius * std::sqrt(dice_.unit()) * 0.94F;
            const float x = lobe.x + out * std::cos(angle);
            const float y = lobe.y + out * std::sin(angle) * 0.86F;
            const float ragged = fractal(x / (5.0F * foliage_.leaf_mm), y / (4.0F * foliage_.leaf_mm), 3, 611U);
            if (out > lobe.radius * (0.74F + 0.42F * ragged)) continue;
            const Rgb c = mix(from_srgb(foliage_.dark), from_srgb(foliage_.middle), dice_.unit() * 0.35F);
            strokes.push_back(leaf(x, y, c, size, dice_.between(0.0F, 3.14F), 18.0F, dice_));
        }
    }

    // Leaves come in sprays: little heads of touches that share their light.
    void clusters(Strokes& strokes, const Lobe& lobe) {
        const float spray = foliage_.leaf_mm * 3.4F;
        const auto count = static_cast<int>(2.6F * lobe.radius * lobe.radius / (spray * spray) * 3.0F);
        for (int i = 0; i < count; ++i) {
            const float angle = dice_.between(0.0F, 6.2832F);
            const float out = std::sqrt(dice_.unit());
            const float nx = out * std::cos(angle);
            const float ny = out * std::sin(angle);
            const float x = lobe.x + lobe.radius * nx;
            const float y = lobe.y + lobe.radius * ny * 0.86F;
            const float ragged = fractal(x / (5.0F * foliage_.leaf_mm), y / (4.0F * foliage_.leaf_mm), 3, 611U);
            if (out > 0.80F + 0.42F * ragged) continue;
            const float nz = std::sqrt(std::max(0.0F, 1.0F - nx * nx - ny * ny));
            const float high = 1.0F - (y - top_) / (bottom_ - top_);
            const float lit = 0.62F * (-0.62F * nx - 0.66F * ny + 0.42F * nz) + 0.38F * high + 0.34F * ragged;
            one_spray(strokes, x, y, spray, lit);
        }
    }

    void one_spray(Strokes& strokes, float x, float y, float spray, float lit) {
        const int touches = 4 + static_cast<int>(dice_.unit() * 5.0F);
        for (int t = 0; t < touches; ++t) {
            const float dx = spray * 0.5F * dice_.normal();
            const float dy = spray * 0.34F * dice_.normal();
            const float light = lit - 0.16F * (dx + dy) / spray + 0.13F * dice_.normal();
            if (light < 0.0F && dice_.chance(0.6F)) continue;
            const float hang = 0.55F + 0.6F * dice_.normal() + (dx > 0.0F ? 0.0F : 1.9F);
            const float body = light > 0.5F ? 75.0F : 34.0F;
            strokes.push_back(
                leaf(x + dx, y + dy, tone(light), foliage_.leaf_mm * (light > 0.5F ? 0.8F : 1.0F), hang, body, dice_));
        }
    }

    void rim(Strokes& strokes, const Lobe& lobe) {
        const auto count = static_cast<int>(lobe.radius * 1.6F / foliage_.leaf_mm);
        for (int i = 0; i < count; ++i) {
            const float angle = dice_.between(0.0F, 6.2832F);
            const float out = lobe.radius * (1.0F + 0.10F * std::fabs(dice_.normal()));
            const float x = lobe.x + out * std::cos(angle);
            const float y = lobe.y + out * std::sin(angle) * 0.86F;
            strokes.push_back(leaf(x, y, tone(0.15F + 0.25F * dice_.unit()), foliage_.leaf_mm * 0.75F,
                                   dice_.between(0.0F, 3.14F), 25.0F, dice_));
        }
    }

    [[nodiscard]] Rgb tone(float light) const {
        const Rgb dark = from_srgb(foliage_.dark);
        const Rgb middle = from_srgb(foliage_.middle);
        const Rgb bright_side = from_srgb(foliage_.light);
        const Rgb bright = from_srgb(foliage_.bright);
        if (light < 0.28F) return mix(dark, middle, clamp01(light / 0.28F));
        if (light < 0.6F) return mix(middle, bright_side, (light - 0.28F) / 0.32F);
        return mix(bright_side, bright, clamp01((light - 0.6F) / 0.3F));
    }

    std::vector<Lobe> lobes_;
    const Foliage& foliage_;
    Dice dice_;
    float top_ = 1e9F;
    float bottom_ = -1e9F;
};

struct Limb {
    float x, y, angle, length, width;
    int order;
};

// A limb is a row of short strokes that wander; finer limbs leave it on either side.
void grow(Strokes& strokes, const Limb& limb, Rgb bark, Rgb lit, Dice& dice) {
    float x = limb.x;
    float y = limb.y;
    float angle = limb.angle;
    const int steps = std::max(3, static_cast<int>(limb.length / 5.0F));
    for (int i = 0; i < steps; ++i) {
        const float gone = static_cast<float>(i) / static_cast<float>(steps);
        const float width = limb.width * (1.0F - 0.62F * gone);
        const float step = limb.length / static_cast<float>(steps);
        angle += 0.14F * dice.normal();
        for (int side = 0; side < 3; ++side) {
            const float aside = (static_cast<float>(side) - 1.0F) * 0.33F * width;
            Stroke s = leaf(x - aside * std::sin(angle), y + aside * std::cos(angle),
                            side == 0 && angle < -0.4F ? mix(bark, lit, 0.75F) : bark, 1.0F, angle, 42.0F, dice);
            s.length_mm = step * 1.8F;
            s.width_mm = std::max(0.5F, width * 0.55F);
            s.paint = mixed(s.paint.colour, Body::earth);
            strokes.push_back(s);
        }
        x += step * std::cos(angle);
        y += step * std::sin(angle);
        if (limb.order < 3 && i > 0 && dice.chance(0.55F)) {
            const float turn = (dice.chance(0.5F) ? 1.0F : -1.0F) * dice.between(0.4F, 0.95F);
            grow(strokes, {x, y, angle + turn, limb.length * dice.between(0.35F, 0.6F), width * 0.55F, limb.order + 1},
                 bark, lit, dice);
        }
    }
}

}  // namespace

Strokes paint_far_trees() {
    Strokes strokes;
    Crown({{300, 262, 9}, {312, 257, 12}, {323, 264, 8}, {333, 268, 6}, {289, 268, 6}}, far_leaves, 621U)
        .paint(strokes);
    Crown({{236, 276, 7}, {246, 272, 9}, {257, 277, 6}, {222, 279, 5}}, far_leaves, 622U).paint(strokes);
    Crown({{372, 270, 9}, {384, 264, 12}, {396, 268, 10}, {362, 276, 6}}, far_leaves, 623U).paint(strokes);
    Dice dice(624U);
    for (const float x : {541.0F, 556.0F, 520.0F})
        grow(strokes, {x, 312.0F, -1.57F, 70.0F, 4.5F, 1}, from_srgb(0x3d3222), from_srgb(0x8f7a54), dice);
    Crown({{538, 222, 34},
           {514, 246, 24},
           {566, 240, 34},
           {548, 196, 26},
           {590, 262, 30},
           {525, 268, 22},
           {560, 278, 24}},
          shore_leaves, 625U)
        .paint(strokes);
    Crown({{598, 228, 24}, {612, 250, 26}, {604, 280, 22}}, autumn_leaves, 626U).paint(strokes);
    Crown({{446, 262, 14}, {462, 250, 15}, {492, 246, 16}, {508, 254, 15}}, shore_leaves, 627U).paint(strokes);
    return strokes;
}

Strokes paint_oak() {
    Strokes strokes;
    Dice dice(631U);
    const Rgb bark = from_srgb(0x33281a);
    const Rgb lit = from_srgb(0x96815a);
    Crown({{128, 206, 30}, {60, 214, 28}}, oak_leaves, 632U).paint(strokes);
    grow(strokes, {92.0F, 398.0F, -1.50F, 128.0F, 17.0F, 2}, bark, lit, dice);
    grow(strokes, {94.0F, 290.0F, -1.05F, 120.0F, 9.5F, 1}, bark, lit, dice);
    grow(strokes, {92.0F, 296.0F, -2.05F, 110.0F, 8.5F, 1}, bark, lit, dice);
    grow(strokes, {94.0F, 280.0F, -1.55F, 150.0F, 10.0F, 1}, bark, lit, dice);
    Crown({{84, 92, 44},
           {130, 84, 40},
           {44, 128, 38},
           {166, 122, 36},
           {104, 138, 42},
           {196, 156, 26},
           {20, 170, 32},
           {146, 172, 32},
           {62, 178, 30},
           {108, 52, 28},
           {188, 190, 20},
           {214, 176, 14},
           {6, 214, 24},
           {40, 222, 20},
           {160, 212, 20}},
          oak_leaves, 633U)
        .paint(strokes);
    return strokes;
}

}  // namespace tedge::painter
