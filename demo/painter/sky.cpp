#include <algorithm>
#include <cmath>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

struct Bank {
    float x, y, half_width, rise, fall, size;
};

// Towering clouds to the right of the middle, long flat ones near the horizon, a few rags to the left.
constexpr Bank banks[] = {
    {402.0F, 118.0F, 112.0F, 88.0F, 44.0F, 1.15F}, {512.0F, 142.0F, 88.0F, 60.0F, 34.0F, 0.95F},
    {318.0F, 168.0F, 80.0F, 42.0F, 24.0F, 0.85F},  {246.0F, 66.0F, 74.0F, 26.0F, 18.0F, 0.62F},
    {120.0F, 196.0F, 150.0F, 16.0F, 10.0F, 0.62F}, {330.0F, 226.0F, 190.0F, 12.0F, 8.0F, 0.68F},
    {575.0F, 226.0F, 90.0F, 16.0F, 10.0F, 0.70F},  {590.0F, 30.0F, 90.0F, 20.0F, 16.0F, 0.55F},
    {60.0F, 24.0F, 110.0F, 18.0F, 12.0F, 0.45F},
};

// `octaves`: five for the outline of the heaps, two for the way light falls on them.
float cloud_density(float x, float y, int octaves) {
    const float wx = x + 12.0F * noise(x / 55.0F, y / 45.0F, 301U);
    const float wy = y + 9.0F * noise(x / 48.0F, y / 40.0F, 302U);
    float mass = 0.0F;
    for (const Bank& bank : banks) {
        const float dx = (wx - bank.x) / bank.half_width;
        const float dy = (wy - bank.y) / (wy < bank.y ? bank.rise : bank.fall);
        mass = std::max(mass, bank.size * std::exp(-(dx * dx + dy * dy)));
    }
    // Nearer to the horizon the heaps are seen smaller and flatter.
    const float far = 1.0F + 1.1F * y / horizon_mm;
    const float heaps = billows((x - 305.0F) * far / 74.0F, y * far / 52.0F, octaves, 303U);
    return mass + 1.25F * (heaps - 0.74F) * (0.35F + mass) - 0.30F;
}

Rgb clear_sky(float x, float y) {
    static const Rgb top = from_srgb(0x788fa4);
    static const Rgb middle = from_srgb(0xa9b5b8);
    static const Rgb low = from_srgb(0xdbd0b6);
    static const Rgb glow = from_srgb(0xe9cba0);
    const float down = clamp01(y / horizon_mm);
    Rgb c = mix(top, middle, smooth_step(0.0F, 0.6F, down));
    c = mix(c, low, smooth_step(0.5F, 0.92F, down));
    const float towards_sun = std::exp(-((x - 190.0F) / 210.0F) * ((x - 190.0F) / 210.0F));
    return mix(c, glow, towards_sun * smooth_step(0.62F, 1.0F, down) * 0.85F);
}

Rgb cloud_colour(float lit, float y) {
    static const Rgb light = from_srgb(0xf5e9d0);
    static const Rgb half = from_srgb(0xcfc3b2);
    static const Rgb shade = from_srgb(0x8f8e92);
    static const Rgb low_shade = from_srgb(0xb2a290);
    const Rgb dark = mix(shade, low_shade, smooth_step(120.0F, 250.0F, y));
    return lit < 0.5F ? mix(dark, half, lit * 2.0F) : mix(half, light, lit * 2.0F - 1.0F);
}

struct Pass {
    float spacing, width, length, body_um, dryness, jitter;
    std::uint32_t seed;
};

Stroke stroke_of_sky(const Spot& spot, const SkyView& view, const Pass& pass, Dice& dice) {
    Stroke s;
    s.x_mm = spot.x_mm;
    s.y_mm = spot.y_mm;
    s.angle_rad = view.angle_rad + pass.jitter * dice.normal();
    s.length_mm = pass.length * dice.between(0.6F, 1.35F);
    s.width_mm = pass.width * dice.between(0.7F, 1.25F);
    s.bend_mm = 0.06F * s.length_mm * dice.normal();
    const float tone = 1.0F + 0.035F * dice.normal();
    s.paint = mixed(view.colour * tone, view.cloud > 0.2F ? Body::lead_white : Body::smalt);
    s.second = view.colour * (tone * (1.0F + 0.06F * dice.normal()));
    s.load = dice.between(0.75F, 1.0F);
    s.dryness = pass.dryness * dice.between(0.6F, 1.2F);
    s.body_um = pass.body_um * (0.5F + 0.9F * view.lit * view.cloud);
    s.bristles = dice.word();
    return s;
}

template <class Keep>
void add_pass(Strokes& strokes, const Pass& pass, const Keep& keep) {
    Dice dice(pass.seed, 1U);
    for (const Spot& spot :
         scatter(-10.0F, -10.0F, face_width_mm + 10.0F, horizon_mm + 14.0F, pass.spacing, pass.seed)) {
        const SkyView view = sky_at(spot.x_mm, spot.y_mm);
        if (keep(view, dice)) strokes.push_back(stroke_of_sky(spot, view, pass, dice));
    }
}

}  // namespace

SkyView sky_at(float x, float y) {
    SkyView view;
    const float here = cloud_density(x, y, 5);
    const float right = cloud_density(x + 3.0F, y, 3);
    const float below = cloud_density(x, y + 3.0F, 3);
    const float middle = cloud_density(x, y, 3);
    // The sun stands to the upper left: where the heap thins out that way it is lit.
    const float broad = cloud_density(x, y, 2) - cloud_density(x - 11.0F, y - 13.0F, 2);
    const float fine = middle - cloud_density(x - 5.0F, y - 6.0F, 3);
    view.cloud = smooth_step(-0.06F, 0.2F, here);
    const float deep = smooth_step(0.1F, 0.75F, here);
    view.lit = clamp01(0.55F + 1.15F * broad + 0.75F * fine - 0.16F * deep);
    view.colour = mix(clear_sky(x, y), cloud_colour(view.lit, y), view.cloud * 0.96F);
    const float calm = -0.10F + 0.35F * noise(x / 90.0F, y / 60.0F, 304U);
    const float contour = std::atan2(right - middle, -(below - middle));
    // A brush has no front: keep the contour within a quarter turn of the lie of the sky.
    const float folded = contour - 3.14159265F * std::round((contour - calm) / 3.14159265F);
    view.angle_rad = mix(calm, folded, 0.75F * view.cloud);
    return view;
}

Strokes paint_sky() {
    Strokes strokes;
    add_pass(strokes, {7.0F, 13.0F, 44.0F, 16.0F, 0.15F, 0.12F, 311U}, [](const SkyView&, Dice&) { return true; });
    add_pass(strokes, {4.2F, 7.0F, 21.0F, 22.0F, 0.35F, 0.16F, 312U}, [](const SkyView&, Dice&) { return true; });
    add_pass(strokes, {2.7F, 3.8F, 9.5F, 46.0F, 0.45F, 0.28F, 313U},
             [](const SkyView& view, Dice& dice) { return dice.chance(0.12F + 0.85F * view.cloud); });
    add_pass(strokes, {2.1F, 2.5F, 5.5F, 95.0F, 0.55F, 0.4F, 314U}, [](const SkyView& view, Dice& dice) {
        return view.cloud > 0.5F && dice.chance(smooth_step(0.55F, 0.95F, view.lit) * 0.8F);
    });
    return strokes;
}

}  // namespace tedge::painter
