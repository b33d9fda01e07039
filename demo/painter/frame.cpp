#include <algorithm>
#include <cmath>

#include "cards.hpp"
#include "noise.hpp"
#include "parallel.hpp"

namespace tedge::painter {
namespace {

constexpr auto wide = static_cast<float>(frame_width_mm + rebate_mm);
constexpr SizeMm outer{face_size.width_mm + 2.0 * frame_width_mm, face_size.height_mm + 2.0 * frame_width_mm};

// Height in mm of the moulding from the sight edge outwards: a fillet, a hollow, a bead, an ogee to the top, the fall
// to the back edge.
float profile(float t) {
    if (t < 6.0F) return 3.0F + 0.2F * t;
    if (t < 34.0F) return 4.2F + 11.0F * std::pow((t - 6.0F) / 28.0F, 2.2F);
    if (t < 41.0F) return 15.5F + 3.0F * std::sin((t - 34.0F) / 7.0F * 3.14159F);
    if (t < 64.0F) return 15.5F + 13.0F * smooth_step(41.0F, 60.0F, t);
    if (t < 72.0F) return 28.5F + 1.6F * std::sin((t - 64.0F) / 8.0F * 3.14159F);
    return 28.5F - 16.0F * (t - 72.0F) / (wide - 72.0F);
}

struct Place {
    float out, along, normal_x, normal_y;  // mm from the sight edge, along the side, the way outwards
    float corner;                          // mm from the mitre
};

Place place_at(float x, float y) {
    const auto width = static_cast<float>(outer.width_mm);
    const auto height = static_cast<float>(outer.height_mm);
    const float left = x, right = width - x, top = y, bottom = height - y;
    const float side = std::min(left, right);
    const float end = std::min(top, bottom);
    const float out = wide - std::min(side, end);
    const float corner = std::fabs(side - end);
    if (side < end) return {out, y, left < right ? -1.0F : 1.0F, 0.0F, corner};
    return {out, x, 0.0F, top < bottom ? -1.0F : 1.0F, corner};
}

float ornament(const Place& p) {
    float h = 0.0F;
    if (p.out > 8.0F && p.out < 33.0F) {  // leaves in the hollow, only near the corners
        const float near = smooth_step(120.0F, 60.0F, p.corner);
        const float leaf =
            std::cos(p.along * 0.33F + 0.6F * std::sin(p.out * 0.25F)) * std::sin((p.out - 8.0F) / 25.0F * 3.14159F);
        h += near *
             (2.2F * std::max(0.0F, leaf) + 0.8F * std::cos(p.along * 1.4F + p.out * 0.5F) * std::max(0.0F, leaf));
    }
    if (p.out > 34.0F && p.out < 41.0F) h += 1.3F * std::fabs(std::sin(p.along * 0.62F)) - 0.8F;  // a row of pearls
    if (p.out > 64.0F && p.out < 72.0F) h += 0.7F * std::sin(p.along * 0.5F + p.out * 0.55F);     // a twisted rope
    return h;
}

float height_at(float x, float y) {
    const Place p = place_at(x, y);
    return profile(p.out) + ornament(p) + 0.10F * fractal(x / 3.0F, y / 3.0F, 3, 1501U);
}

Rgb gilding(float x, float y, const Place& p, float raised) {
    static const Rgb gold = from_srgb(0xc9a255);
    static const Rgb deep = from_srgb(0x8a6a32);
    static const Rgb bole = from_srgb(0x7c3a24);
    static const Rgb gesso = from_srgb(0xb3a488);
    Rgb c = mix(gold, deep, clamp01(0.5F + 0.6F * fractal(x / 40.0F, y / 40.0F, 4, 1511U)));
    const float laps =
        std::fabs(std::fmod(p.along + 4.0F * noise(p.along / 50.0F, 1.0F, 1512U) + 800.0F, 76.0F) - 1.0F);
    c = mix(c, bole, 0.28F * smooth_step(1.4F, 0.2F, laps));
    const float worn = smooth_step(0.12F, 0.5F, fractal(x / 11.0F, y / 11.0F, 4, 1513U) + 0.35F * raised - 0.12F);
    c = mix(c, bole, 0.65F * worn);
    const float chipped = smooth_step(
        0.48F, 0.55F,
        fractal(x / 19.0F, y / 19.0F, 4, 1514U) + (p.corner < 14.0F ? 0.12F : 0.0F) + (p.out > 78.0F ? 0.08F : 0.0F));
    return mix(c, gesso, chipped);
}

Rgb frame_colour(float x, float y) {
    const Place p = place_at(x, y);
    const float slope_x = height_at(x + 0.5F, y) - height_at(x - 0.5F, y);
    const float slope_y = height_at(x, y + 0.5F) - height_at(x, y - 0.5F);
    const float norm = 1.0F / std::sqrt(1.0F + slope_x * slope_x + slope_y * slope_y);
    // Light from above and a little from the left; gilding mirrors it as well as scattering it.
    const float facing = (0.22F * slope_x + 0.62F * slope_y + 0.75F) * norm;
    const float gleam = std::pow(clamp01(facing), 14.0F);
    const float raised = smooth_step(0.0F, 1.2F, ornament(p)) + (p.out > 62.0F && p.out < 74.0F ? 0.6F : 0.0F);
    Rgb c = gilding(x, y, p, raised) * (0.10F + 0.72F * std::max(0.0F, facing)) +
            Rgb{0.58F, 0.44F, 0.24F} * (0.45F * gleam);
    const float hollow = smooth_step(0.4F, -0.5F, ornament(p)) * (p.out < 41.0F ? 1.0F : 0.3F);
    c = c * (1.0F - 0.35F * hollow);
    if (p.corner < 0.4F) c = c * 0.45F;
    return c;
}

Rgb back_colour(float x, float y) {
    static const Rgb pine = from_srgb(0x9a7a50);
    const Place p = place_at(x, y);
    if (p.out < 5.8F) return from_srgb(0x14100c);  // the gap round the strainer
    const float grain = clamp01(0.5F + 0.8F * fractal(p.along / 150.0F, p.out / 2.6F, 3, 1521U));
    Rgb c = pine * (0.62F + 0.3F * grain) * (1.0F + 0.2F * fractal(p.along / 12.0F, p.out * 1.6F, 3, 1522U));
    c = mix(c, from_srgb(0x3a2f26), 0.35F + 0.25F * fractal(x / 50.0F, y / 50.0F, 3, 1523U));
    return p.corner < 0.5F ? c * 0.35F : c;
}

template <class Colour>
Card make(double px_per_mm, double opening_mm, int threads, const Colour& colour) {
    Card card{Grid::over(outer, px_per_mm), {}, {-frame_width_mm, -frame_width_mm}, 0.0};
    card.pixels = imaging::Raster16(card.grid.width_px, card.grid.height_px, 4);
    for_bands(card.grid.height_px, 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < card.grid.width_px; ++x) {
                const float x_mm = card.grid.mm(x);
                const float y_mm = card.grid.mm(y);
                if (place_at(x_mm, y_mm).out < static_cast<float>(opening_mm)) continue;
                const Rgb c = colour(x_mm, y_mm);
                std::uint16_t* out = &card.pixels.at(x, y);
                out[0] = to_share(c.r);
                out[1] = to_share(c.g);
                out[2] = to_share(c.b);
                out[3] = to_share(1.0F);
            }
    });
    return card;
}

}  // namespace

Card frame_card(double px_per_mm, int threads) {
    return make(px_per_mm, 0.0, threads, frame_colour);
}

Card frame_back_card(double px_per_mm, int threads) {
    // From behind the whole strainer shows, lying in the rebate.
    return make(px_per_mm, rebate_mm - 0.1, threads, back_colour);
}

}  // namespace tedge::painter
