#include <cmath>
#include <initializer_list>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

using Corners = std::vector<Spot>;

bool inside(const Corners& corners, float x, float y) {
    bool in = false;
    for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
        const Spot& a = corners[i];
        const Spot& b = corners[j];
        if ((a.y_mm > y) != (b.y_mm > y) && x < (b.x_mm - a.x_mm) * (y - a.y_mm) / (b.y_mm - a.y_mm) + a.x_mm) in = !in;
    }
    return in;
}

struct Surface {
    Rgb colour;
    Rgb second;
    float angle_rad, length, width, body_um;
    Body body;
};

void fill(Strokes& strokes, const Corners& corners, const Surface& surface, float spacing, std::uint32_t seed) {
    Dice dice(seed, 3U);
    float left = 1e9F, right = -1e9F, top = 1e9F, bottom = -1e9F;
    for (const Spot& c : corners) {
        left = std::fmin(left, c.x_mm);
        right = std::fmax(right, c.x_mm);
        top = std::fmin(top, c.y_mm);
        bottom = std::fmax(bottom, c.y_mm);
    }
    for (const Spot& spot : scatter(left, top, right, bottom, spacing, seed)) {
        if (!inside(corners, spot.x_mm, spot.y_mm)) continue;
        Stroke s;
        s.x_mm = spot.x_mm;
        s.y_mm = spot.y_mm;
        s.angle_rad = surface.angle_rad + 0.12F * dice.normal();
        s.length_mm = surface.length * dice.between(0.6F, 1.3F);
        s.width_mm = surface.width * dice.between(0.7F, 1.2F);
        const float stain = fractal(spot.x_mm / 7.0F, spot.y_mm / 6.0F, 3, seed + 1U);
        const Rgb c = mix(surface.colour, surface.second, smooth_step(-0.4F, 0.5F, stain));
        s.paint = mixed(c * (1.0F + 0.06F * dice.normal()), surface.body);
        s.second = c * (1.0F + 0.15F * dice.normal());
        s.dryness = dice.between(0.1F, 0.45F);
        s.body_um = surface.body_um;
        s.bristles = dice.word();
        strokes.push_back(s);
    }
}

void line(Strokes& strokes, Spot from, Spot to, float width, Rgb colour, Body body, float body_um, Dice& dice) {
    Stroke s;
    s.x_mm = 0.5F * (from.x_mm + to.x_mm);
    s.y_mm = 0.5F * (from.y_mm + to.y_mm);
    s.angle_rad = std::atan2(to.y_mm - from.y_mm, to.x_mm - from.x_mm);
    s.length_mm = std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm) * 1.04F;
    s.width_mm = width;
    s.bend_mm = 0.015F * s.length_mm * dice.normal();
    s.paint = mixed(colour, body);
    s.second = colour * 1.15F;
    s.dryness = 0.15F;
    s.body_um = body_um;
    s.bristles = dice.word();
    strokes.push_back(s);
}

void add_walls(Strokes& strokes) {
    const Surface lit{from_srgb(0xdac69a), from_srgb(0xb59a6c), 1.5F, 3.2F, 1.6F, 60.0F, Body::lead_white};
    const Surface shaded{from_srgb(0x8a7658), from_srgb(0x6c5a44), 1.5F, 3.4F, 1.7F, 30.0F, Body::earth};
    const Surface stone{from_srgb(0x75694f), from_srgb(0x55503c), 0.1F, 3.0F, 1.7F, 30.0F, Body::earth};
    fill(strokes, {{424, 313}, {452, 318}, {452, 268}, {437, 246}, {424, 266}}, lit, 0.9F, 501U);
    fill(strokes, {{452, 318}, {507, 312}, {507, 263}, {452, 268}}, shaded, 1.0F, 502U);
    fill(strokes, {{423, 314}, {452, 320}, {452, 306}, {423, 301}}, stone, 1.1F, 503U);
    fill(strokes, {{452, 320}, {508, 314}, {508, 302}, {452, 307}},
         {stone.colour * 0.7F, stone.second * 0.7F, 0.0F, 3.0F, 1.7F, 26.0F, Body::earth}, 1.1F, 504U);
}

void add_roof(Strokes& strokes, Dice& dice) {
    const Surface tiles{from_srgb(0x8f5138), from_srgb(0x6b4634), 0.95F, 3.0F, 1.3F, 40.0F, Body::red};
    fill(strokes, {{436, 243}, {453, 270}, {512, 264}, {498, 239}}, tiles, 0.8F, 511U);
    for (float row = 0.0F; row < 1.0F; row += 0.11F)
        line(strokes, {mix(437.0F, 453.0F, row), mix(245.0F, 269.5F, row)},
             {mix(498.0F, 511.0F, row), mix(240.5F, 264.0F, row)}, 0.5F, from_srgb(row > 0.8F ? 0x3a2a20 : 0x5d3a2a),
             Body::earth, 12.0F, dice);
    line(strokes, {436, 243.5F}, {498, 239.5F}, 1.2F, from_srgb(0xb98262), Body::red, 60.0F, dice);
    line(strokes, {436.5F, 243}, {423, 264}, 1.6F, from_srgb(0x5b4030), Body::earth, 40.0F, dice);
    line(strokes, {436.5F, 243}, {453, 269}, 1.3F, from_srgb(0x4a3426), Body::earth, 40.0F, dice);
    fill(strokes, {{476, 228}, {484, 228}, {484, 247}, {476, 248}},
         {from_srgb(0x9a6a4c), from_srgb(0x6f4c3a), 1.5F, 2.4F, 1.3F, 45.0F, Body::red}, 0.8F, 512U);
    line(strokes, {475, 228}, {485, 228}, 1.4F, from_srgb(0x54392c), Body::earth, 40.0F, dice);
}

void add_openings(Strokes& strokes, Dice& dice) {
    const Rgb dark = from_srgb(0x241a12);
    const Rgb wood = from_srgb(0x6d5236);
    for (const Spot at : {Spot{437, 268}, Spot{433, 287}, Spot{466, 284}, Spot{484, 282}, Spot{498, 281}}) {
        fill(strokes,
             {{at.x_mm - 2.4F, at.y_mm - 4},
              {at.x_mm + 2.4F, at.y_mm - 4},
              {at.x_mm + 2.4F, at.y_mm + 3.5F},
              {at.x_mm - 2.4F, at.y_mm + 3.5F}},
             {dark, dark * 1.6F, 1.5F, 2.2F, 1.2F, 10.0F, Body::earth}, 0.7F,
             521U + static_cast<std::uint32_t>(at.x_mm));
        line(strokes, {at.x_mm - 3, at.y_mm + 4}, {at.x_mm + 3, at.y_mm + 4}, 0.8F, wood * 1.4F, Body::earth, 40.0F,
             dice);
        line(strokes, {at.x_mm, at.y_mm - 4}, {at.x_mm, at.y_mm + 3.5F}, 0.4F, wood, Body::earth, 30.0F, dice);
    }
    fill(strokes, {{471, 312}, {480, 311}, {480, 294}, {471, 295}},
         {dark, wood * 0.7F, 1.5F, 3.0F, 1.4F, 20.0F, Body::earth}, 0.8F, 531U);
}

void add_wheel(Strokes& strokes, Dice& dice) {
    constexpr float x = 415.0F, y = 303.0F, half_width = 10.0F, radius = 17.0F;
    const Rgb wood = from_srgb(0x46331f);
    const Rgb wet = from_srgb(0x9a8a66);
    for (const float inner : {1.0F, 0.82F})
        for (int i = 0; i < 28; ++i) {
            const float a = static_cast<float>(i) * 0.2244F;
            const float b = a + 0.2244F;
            line(strokes, {x + half_width * inner * std::cos(a), y + radius * inner * std::sin(a)},
                 {x + half_width * inner * std::cos(b), y + radius * inner * std::sin(b)}, 1.3F,
                 std::cos(a) < -0.2F && std::sin(a) < 0.3F ? wet : wood, Body::earth, 45.0F, dice);
        }
    for (int i = 0; i < 10; ++i) {
        const float a = static_cast<float>(i) * 0.6283F + 0.2F;
        const Spot rim{x + half_width * std::cos(a), y + radius * std::sin(a)};
        line(strokes, {x, y}, rim, 0.9F, wood * 1.3F, Body::earth, 30.0F, dice);
        line(strokes, {rim.x_mm - 1.0F, rim.y_mm}, {rim.x_mm + 3.0F, rim.y_mm + 0.6F}, 1.0F, wood, Body::earth, 40.0F,
             dice);
    }
    line(strokes, {404, 283}, {436, 286}, 2.0F, from_srgb(0x6d5236), Body::earth, 45.0F, dice);
    line(strokes, {404, 283}, {404, 300}, 1.2F, from_srgb(0x4a3826), Body::earth, 35.0F, dice);
    for (int i = 0; i < 26; ++i) {  // water that falls from the launder and breaks below
        const float fall = dice.unit();
        line(strokes, {405.0F + 3.0F * dice.unit(), 285.0F + 18.0F * fall},
             {405.5F + 3.0F * dice.unit(), 289.0F + 21.0F * fall}, 0.5F, from_srgb(0xe3ded0) * dice.between(0.6F, 1.0F),
             Body::lead_white, 80.0F, dice);
    }
}

void add_bridge_and_fence(Strokes& strokes, Dice& dice) {
    const Rgb wood = from_srgb(0x3b2c1c);
    for (int i = 0; i < 7; ++i) {
        const float x = 512.0F + 13.0F * static_cast<float>(i);
        const float y = 318.0F + 2.2F * static_cast<float>(i);
        line(strokes, {x, y}, {x + dice.normal(), y + 9.0F}, 0.9F, wood, Body::earth, 30.0F, dice);
        line(strokes, {x, y + 2}, {x + 13, y + 4.2F}, 0.6F, wood * 1.5F, Body::earth, 30.0F, dice);
        line(strokes, {x, y + 5}, {x + 13, y + 7.2F}, 0.6F, wood * 1.3F, Body::earth, 30.0F, dice);
    }
}

}  // namespace

Strokes paint_mill() {
    Strokes strokes;
    Dice dice(541U);
    add_walls(strokes);
    add_openings(strokes, dice);
    add_roof(strokes, dice);
    add_wheel(strokes, dice);
    add_bridge_and_fence(strokes, dice);
    // Smoke from the chimney, dragged thin over the dry sky.
    for (int i = 0; i < 60; ++i) {
        const float up = dice.unit();
        const Spot at{481.0F + 26.0F * up * up + 3.0F * dice.normal() * (0.3F + up), 226.0F - 34.0F * up};
        Stroke s;
        s.x_mm = at.x_mm;
        s.y_mm = at.y_mm;
        s.angle_rad = -0.9F + 0.5F * dice.normal();
        s.length_mm = 5.0F;
        s.width_mm = 2.0F + 2.0F * up;
        s.paint = mixed(from_srgb(0xb9b6b2), Body::lead_white);
        s.second = from_srgb(0x9a989a);
        s.load = 0.22F * (1.0F - 0.7F * up);
        s.body_um = 8.0F;
        s.bristles = dice.word();
        strokes.push_back(s);
    }
    return strokes;
}

}  // namespace tedge::painter
