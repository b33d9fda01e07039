#include <algorithm>
#include <cmath>
#include <span>

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

constexpr Foliage oak_leaves{0x211f17, 0x413f22, 0x746c34, 0xaa9a56, 2.1F, 0.0F};
constexpr Foliage shore_leaves{0x2b2b1e, 0x4e502c, 0x7f7840, 0xa99a5e, 1.5F, 0.12F};
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

// Strokes side by side along one step of a limb, lit on the left.
void bark_step(Strokes& strokes, const Limb& at, Rgb bark, Rgb lit, Dice& dice) {
    const int beside = std::max(2, static_cast<int>(at.width / 1.5F));
    for (int i = 0; i < beside; ++i) {
        const float across = (static_cast<float>(i) + 0.5F) / static_cast<float>(beside) - 0.5F;
        // The side of an upright limb that looks to the left: its angle is near -90 degrees.
        const float light = clamp01(0.25F - 0.95F * across * -std::sin(at.angle) + 0.18F * dice.normal());
        Stroke s = leaf(at.x - across * at.width * std::sin(at.angle), at.y + across * at.width * std::cos(at.angle),
                        mix(bark, lit, light * 0.8F), 1.0F, at.angle + 0.08F * dice.normal(), 42.0F, dice);
        s.length_mm = at.length * dice.between(1.5F, 2.6F);
        s.width_mm = std::max(0.45F, at.width / static_cast<float>(beside) * dice.between(1.0F, 1.7F));
        s.dryness = 0.35F;
        s.paint = mixed(s.paint.colour, Body::earth);
        strokes.push_back(s);
    }
}

// A limb wanders; finer limbs leave it on either side.
void grow(Strokes& strokes, const Limb& limb, Rgb bark, Rgb lit, Dice& dice) {
    Limb at = limb;
    const int steps = std::max(3, static_cast<int>(limb.length / 4.0F));
    at.length = limb.length / static_cast<float>(steps);
    for (int i = 0; i < steps; ++i) {
        const float gone = static_cast<float>(i) / static_cast<float>(steps);
        at.width = limb.width * (1.0F - 0.68F * gone);
        at.angle += 0.11F * dice.normal();
        bark_step(strokes, at, bark, lit, dice);
        at.x += at.length * std::cos(at.angle);
        at.y += at.length * std::sin(at.angle);
        if (limb.order < 3 && i > steps / 4 && dice.chance(0.42F)) {
            const float turn = (dice.chance(0.5F) ? 1.0F : -1.0F) * dice.between(0.35F, 0.85F);
            grow(
                strokes,
                {at.x, at.y, at.angle + turn, limb.length * dice.between(0.35F, 0.6F), at.width * 0.6F, limb.order + 1},
                bark, lit, dice);
        }
    }
}

void add_shrubs(Strokes& strokes, std::span<const Lobe> places, const Foliage& foliage, std::uint32_t seed) {
    Dice dice(seed, 4U);
    for (const Lobe& place : places) {
        const float r = place.radius;
        std::vector<Lobe> lobes;
        for (int i = 0; i < 4; ++i)
            lobes.push_back({place.x + r * dice.between(-0.9F, 0.9F), place.y - r * dice.between(0.2F, 0.9F),
                             r * dice.between(0.45F, 0.8F)});
        Crown(std::move(lobes), foliage, seed + static_cast<std::uint32_t>(place.x)).paint(strokes);
    }
}

}  // namespace

Strokes paint_far_trees() {
    Strokes strokes;
    Dice dice(624U);
    // A ragged line of trees where the fields end, and a village among them.
    for (float x = -5.0F; x < face_width_mm; x += dice.between(7.0F, 26.0F)) {
        const Lobe far{x, 279.0F + 2.5F * dice.normal(), dice.between(2.5F, 6.5F)};
        add_shrubs(strokes, {&far, 1}, far_leaves, 640U + static_cast<std::uint32_t>(x + 10.0F));
    }
    Crown({{300, 266, 8}, {312, 261, 10}, {323, 267, 8}, {333, 271, 6}, {289, 271, 6}}, far_leaves, 621U)
        .paint(strokes);
    Crown({{222, 280, 8}, {236, 276, 9}, {250, 281, 8}, {208, 285, 6}}, shore_leaves, 622U).paint(strokes);
    Crown({{372, 274, 8}, {384, 268, 11}, {396, 270, 12}, {410, 272, 9}, {362, 279, 6}}, far_leaves, 623U)
        .paint(strokes);
    for (const float x : {541.0F, 556.0F, 520.0F})
        grow(strokes, {x, 314.0F, -1.57F, 78.0F, 5.0F, 1}, from_srgb(0x3d3222), from_srgb(0x8f7a54), dice);
    Crown({{538, 206, 34},
           {510, 236, 26},
           {566, 226, 36},
           {546, 178, 26},
           {590, 250, 32},
           {522, 262, 24},
           {560, 270, 26},
           {540, 288, 16},
           {575, 290, 18}},
          shore_leaves, 625U)
        .paint(strokes);
    Crown({{600, 226, 26}, {612, 250, 28}, {604, 282, 24}, {588, 296, 14}}, autumn_leaves, 626U).paint(strokes);
    Crown({{446, 258, 15}, {462, 246, 17}, {492, 240, 18}, {508, 250, 17}, {428, 268, 12}}, shore_leaves, 627U)
        .paint(strokes);
    return strokes;
}

Strokes paint_shrubs() {
    Strokes strokes;
    static constexpr Lobe left[] = {{286, 301, 5},  {262, 309, 7}, {244, 321, 6},
                                    {214, 337, 10}, {196, 350, 8}, {150, 372, 9}};
    static constexpr Lobe right[] = {{388, 303, 6}, {400, 309, 5},  {516, 338, 8}, {534, 343, 10},
                                     {556, 350, 9}, {592, 357, 12}, {508, 322, 7}};
    add_shrubs(strokes, left, shore_leaves, 651U);
    add_shrubs(strokes, right, shore_leaves, 652U);
    static constexpr Lobe russet[] = {{228, 330, 6}, {576, 350, 8}};
    add_shrubs(strokes, russet, autumn_leaves, 653U);
    return strokes;
}

Strokes paint_oak() {
    Strokes strokes;
    Dice dice(631U);
    const Rgb bark = from_srgb(0x2e2418);
    const Rgb lit = from_srgb(0x9a855e);
    Crown({{132, 206, 32}, {58, 212, 32}, {96, 232, 26}, {28, 236, 24}}, oak_leaves, 632U).paint(strokes);
    // The bole is one body from the roots to the fork.
    for (float t = 0.0F; t < 1.0F; t += 0.012F) {
        const float x = 56.0F + 40.0F * t + 4.0F * std::sin(t * 4.0F);
        const float y = 404.0F - 140.0F * t;
        const float width = 25.0F - 12.0F * t + 10.0F * std::exp(-t * 14.0F);
        bark_step(strokes, {x, y, -1.31F + 0.12F * std::cos(t * 4.0F), 6.0F, width, 0}, bark, lit, dice);
    }
    for (const Limb& limb :
         {Limb{92, 300, -0.95F, 120, 10, 1}, Limb{88, 300, -2.15F, 112, 9, 1}, Limb{95, 272, -1.62F, 150, 12, 1},
          Limb{94, 268, -1.2F, 120, 9, 1}, Limb{78, 332, -0.62F, 66, 6, 2}})
        grow(strokes, limb, bark, lit, dice);
    Crown({{84, 92, 44},
           {130, 84, 40},
           {44, 128, 40},
           {166, 122, 36},
           {104, 138, 44},
           {196, 156, 26},
           {20, 170, 34},
           {146, 176, 34},
           {62, 182, 32},
           {108, 52, 28},
           {188, 194, 22},
           {214, 178, 16},
           {6, 218, 28},
           {42, 232, 24},
           {166, 222, 24},
           {122, 226, 22},
           {14, 262, 18},
           {186, 236, 14}},
          oak_leaves, 633U)
        .paint(strokes);
    return strokes;
}

}  // namespace tedge::painter
