#include <algorithm>
#include <cmath>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

constexpr Knot left_knots[] = {{283.0F, 352.0F}, {288.0F, 330.0F}, {296.0F, 296.0F}, {310.0F, 262.0F},
                               {330.0F, 232.0F}, {352.0F, 196.0F}, {378.0F, 150.0F}, {402.0F, 96.0F},
                               {430.0F, 30.0F},  {460.0F, -40.0F}};
constexpr Knot right_knots[] = {{283.0F, 362.0F}, {288.0F, 368.0F}, {296.0F, 380.0F},
                                {310.0F, 404.0F}, {322.0F, 440.0F}, {334.0F, 486.0F},
                                {348.0F, 540.0F}, {362.0F, 620.0F}, {460.0F, 900.0F}};
constexpr Knot near_knots[] = {{0.0F, 398.0F},   {70.0F, 404.0F},  {140.0F, 414.0F}, {220.0F, 428.0F}, {300.0F, 437.0F},
                               {400.0F, 441.0F}, {480.0F, 434.0F}, {540.0F, 420.0F}, {610.0F, 398.0F}};

struct Ridge {
    float base, swing, period;
    std::uint32_t colour, second;
    std::uint32_t seed;
};
constexpr Ridge ridges[] = {{255.0F, 9.0F, 150.0F, 0x9aa4ab, 0xaaafae, 401U},
                            {263.0F, 6.5F, 95.0F, 0x87928c, 0x999d8e, 402U},
                            {270.0F, 4.5F, 120.0F, 0x767c5c, 0x9b9265, 403U},
                            {277.0F, 3.0F, 160.0F, 0x66673f, 0x94864e, 404U}};

float ridge_line(const Ridge& ridge, float x) {
    return ridge.base + ridge.swing * fractal(x / ridge.period, 3.7F, 3, ridge.seed);
}

Stroke dab(const Spot& spot, Rgb colour, Body body, float length, float width, Dice& dice) {
    Stroke s;
    s.x_mm = spot.x_mm;
    s.y_mm = spot.y_mm;
    s.length_mm = length * dice.between(0.6F, 1.4F);
    s.width_mm = width * dice.between(0.7F, 1.3F);
    s.bend_mm = 0.04F * s.length_mm * dice.normal();
    const float tone = 1.0F + 0.07F * dice.normal();
    s.paint = mixed(colour * tone, body);
    s.second = colour * (tone + 0.12F * dice.normal());
    s.load = dice.between(0.7F, 1.0F);
    s.dryness = dice.between(0.1F, 0.5F);
    s.body_um = 26.0F;
    s.bristles = dice.word();
    return s;
}

void add_hedges(Strokes& strokes, const Ridge& ridge, Dice& dice) {
    // Lines of small trees that run with the fall of the land.
    static const Rgb dark = from_srgb(0x4a5238);
    for (int line = 0; line < 9; ++line) {
        float x = dice.between(0.0F, face_width_mm);
        const float down = dice.between(1.0F, 9.0F);
        const float slope = dice.between(-0.08F, 0.08F);
        const float run = dice.between(18.0F, 70.0F);
        for (float gone = 0.0F; gone < run; gone += dice.between(0.8F, 2.2F)) {
            const float y = ridge_line(ridge, x + gone) + down + slope * gone;
            Stroke s = dab({x + gone, y}, mix(dark, from_srgb(0x8d9692), clamp01((275.0F - y) / 22.0F)), Body::green,
                           dice.between(1.2F, 3.0F), dice.between(1.0F, 2.0F), dice);
            s.angle_rad = dice.normal() * 0.5F;
            strokes.push_back(s);
        }
    }
}

// Where the clouds let the sun through: long patches of light on the plain, the nearer land in shade.
float sunlight(float x, float y) {
    const float near = clamp01((y - 276.0F) / 150.0F);
    const float broken = fractal(x / 150.0F + y / 60.0F, y / 22.0F, 3, 413U);
    const float strip = std::exp(-std::pow((y - 303.0F) / 17.0F, 2.0F));
    return clamp01(0.30F + 0.75F * broken + 0.55F * strip - 0.55F * near);
}

Rgb meadow_colour(float x, float y) {
    static const Rgb sunlit = from_srgb(0xb5a261);
    static const Rgb green = from_srgb(0x6a6a38);
    static const Rgb shade = from_srgb(0x3d3e26);
    static const Rgb earth = from_srgb(0x6b5636);
    const float near = clamp01((y - 276.0F) / 150.0F);
    const float patch = fractal(x / (24.0F + 60.0F * near), y / (5.0F + 16.0F * near), 4, 411U);
    const float sun = sunlight(x, y);
    Rgb c = mix(shade, green, smooth_step(0.0F, 0.4F, sun + 0.3F * patch));
    c = mix(c, sunlit, smooth_step(0.35F, 0.85F, sun + 0.25F * patch));
    return mix(c, earth, 0.5F * smooth_step(0.08F, 0.5F, fractal(x / 50.0F, y / 12.0F, 3, 412U)));
}

}  // namespace

float follow(std::span<const Knot> knots, float place) {
    if (place <= knots.front().place) return knots.front().value;
    for (std::size_t i = 1; i < knots.size(); ++i)
        if (place <= knots[i].place) {
            const float t = (place - knots[i - 1].place) / (knots[i].place - knots[i - 1].place);
            return mix(knots[i - 1].value, knots[i].value, t);
        }
    return knots.back().value;
}

float left_shore(float y) {
    return follow(left_knots, y) + 3.0F * fractal(y / 14.0F, 1.0F, 3, 421U);
}
float right_shore(float y) {
    return follow(right_knots, y) + 3.0F * fractal(y / 11.0F, 9.0F, 3, 422U);
}
float near_shore(float x) {
    return follow(near_knots, x) + 2.5F * fractal(x / 34.0F, 4.0F, 4, 423U);
}

float far_shore(float x) {
    // The shores run outwards as they come nearer, so the far shore above a place is where one of them crosses its x.
    for (float y = 284.0F; y < 440.0F; y += 1.0F)
        if (x > left_shore(y) && x < right_shore(y)) return y;
    return 440.0F;
}

bool on_water(float x, float y) {
    return y > 284.0F && x > left_shore(y) && x < right_shore(y) && y < near_shore(x);
}

Strokes paint_hills() {
    Strokes strokes;
    for (const Ridge& ridge : ridges) {
        Dice dice(ridge.seed, 2U);
        const Rgb colour = from_srgb(ridge.colour);
        const Rgb second = from_srgb(ridge.second);
        for (const Spot& spot :
             scatter(-6.0F, ridge.base - 12.0F, face_width_mm + 6.0F, ridge.base + 20.0F, 1.7F, ridge.seed)) {
            const float crest = ridge_line(ridge, spot.x_mm);
            if (spot.y_mm < crest + 0.8F) continue;
            const float field = fractal(spot.x_mm / 34.0F, spot.y_mm / 5.0F, 3, ridge.seed + 7U);
            Stroke s = dab(spot, mix(colour, second, smooth_step(-0.2F, 0.5F, field)), Body::smalt, 9.0F, 1.9F, dice);
            s.angle_rad = (ridge_line(ridge, spot.x_mm + 4.0F) - crest) / 4.0F + 0.05F * dice.normal();
            strokes.push_back(s);
        }
        if (ridge.base > 260.0F) add_hedges(strokes, ridge, dice);
    }
    return strokes;
}

Strokes paint_meadows() {
    Strokes strokes;
    Dice dice(431U);
    for (const Spot& spot : scatter(-8.0F, 281.0F, face_width_mm + 8.0F, face_height_mm + 8.0F, 2.6F, 432U)) {
        const float near = clamp01((spot.y_mm - 276.0F) / 150.0F);
        Stroke s =
            dab(spot, meadow_colour(spot.x_mm, spot.y_mm), Body::earth, 7.0F + 9.0F * near, 2.2F + 2.6F * near, dice);
        s.angle_rad = 0.10F * dice.normal() + 0.15F * noise(spot.x_mm / 50.0F, spot.y_mm / 20.0F, 433U);
        strokes.push_back(s);
    }
    return strokes;
}

Strokes paint_river(const Painted& painted) {
    Strokes strokes;
    Dice dice(441U);
    static const Rgb deep = from_srgb(0x2f3a38);
    for (const Spot& spot : scatter(-8.0F, 282.0F, face_width_mm + 8.0F, face_height_mm, 1.9F, 442U)) {
        if (!on_water(spot.x_mm, spot.y_mm)) continue;
        const float near = clamp01((spot.y_mm - 284.0F) / 150.0F);
        const float shore = far_shore(spot.x_mm);
        const float wave = (1.0F + 5.0F * near) * fractal(spot.x_mm / 20.0F, spot.y_mm / 2.6F, 2, 443U);
        const float mirrored = std::max(4.0F, 2.0F * shore - spot.y_mm - 1.15F * (spot.y_mm - shore) + 2.2F * wave);
        Rgb c = grey(0.0F);
        for (const float aside : {-2.5F, 0.0F, 2.5F})
            c = c + painted(spot.x_mm + aside + wave, mirrored) * (1.0F / 3.0F);
        c = mix(c * 0.76F, deep, 0.18F + 0.36F * near);
        Stroke s = dab(spot, c, Body::smalt, 5.0F + 14.0F * near, 1.1F + 1.7F * near, dice);
        s.angle_rad = 0.03F * dice.normal();
        s.bend_mm *= 0.4F;
        strokes.push_back(s);
        // Where a breeze touches it the water shows the bright sky in thin streaks.
        const float breeze = fractal(spot.x_mm / 90.0F, spot.y_mm / 9.0F, 3, 444U);
        if (breeze > 0.16F && dice.chance(0.30F)) {
            Stroke streak = dab(spot, mix(c, from_srgb(0xc9c8ba), 0.55F), Body::lead_white, 6.0F + 12.0F * near,
                                0.6F + 0.5F * near, dice);
            streak.dryness = 0.6F;
            streak.body_um = 55.0F;
            strokes.push_back(streak);
        }
    }
    return strokes;
}

Strokes paint_banks() {
    Strokes strokes;
    Dice dice(451U);
    static const Rgb mud = from_srgb(0x41341f);
    static const Rgb grass = from_srgb(0x55542d);
    static const Rgb light = from_srgb(0x9c9050);
    for (float y = 285.0F; y < 400.0F; y += dice.between(0.25F, 0.6F)) {
        const float near = (y - 284.0F) / 130.0F;
        for (const bool left : {true, false}) {
            const float shore = left ? left_shore(y) : right_shore(y);
            if (shore < -5.0F || shore > face_width_mm + 5.0F || y > near_shore(shore) + 4.0F) continue;
            const float broken = fractal(y / 5.0F, left ? 3.0F : 8.0F, 3, 452U);
            if (broken > -0.1F) {
                const Rgb edge = mix(mud, meadow_colour(shore, y), dice.between(0.0F, 0.6F));
                strokes.push_back(dab({shore + 1.5F * dice.normal(), y + 0.4F}, edge, Body::earth, 3.0F + 8.0F * near,
                                      0.7F + 1.5F * near, dice));
            }
            for (int blade = 0; blade < (broken > 0.15F ? 4 : 1); ++blade) {
                const float away = dice.between(0.0F, 4.0F + 9.0F * near) * (left ? -1.0F : 1.0F);
                Stroke s =
                    dab({shore + away, y - dice.between(0.0F, 1.5F + 3.0F * near)}, dice.chance(0.3F) ? light : grass,
                        Body::green, 1.4F + 3.4F * near, 0.5F + 0.5F * near, dice);
                s.angle_rad = -1.45F + 0.45F * dice.normal();
                s.body_um = 50.0F;
                strokes.push_back(s);
            }
        }
    }
    return strokes;
}

}  // namespace tedge::painter
