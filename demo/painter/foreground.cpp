#include <cmath>

#include "composition.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

struct Touch {
    float x, y, angle, length, width;
    std::uint32_t colour;
    Body body;
    float body_um;
};

void add(Strokes& strokes, const Touch& t, Dice& dice, float size = 1.0F, Spot at = {0.0F, 0.0F}) {
    Stroke s;
    s.x_mm = at.x_mm + t.x * size;
    s.y_mm = at.y_mm + t.y * size;
    s.angle_rad = t.angle;
    s.length_mm = t.length * std::fabs(size);
    s.width_mm = t.width * std::fabs(size);
    const Rgb colour = from_srgb(t.colour);
    s.paint = mixed(colour * (1.0F + 0.05F * dice.normal()), t.body);
    s.second = colour * (1.0F + 0.2F * dice.normal());
    s.dryness = 0.2F;
    s.body_um = t.body_um;
    s.bristles = dice.word();
    strokes.push_back(s);
}

// Touches in mm about the middle of each beast or person, feet at y = 0.
constexpr Touch cow[] = {{-0.2F, -5.6F, 0.03F, 12.0F, 5.2F, 0x6a452a, Body::earth, 40.0F},
                         {1.6F, -6.4F, 0.1F, 5.0F, 3.0F, 0xd9cdb4, Body::lead_white, 70.0F},
                         {-3.4F, -6.6F, 0.0F, 4.0F, 2.4F, 0x8a5c36, Body::earth, 50.0F},
                         {-4.6F, -1.9F, 1.57F, 4.6F, 1.1F, 0x4a3020, Body::earth, 30.0F},
                         {-3.2F, -1.8F, 1.57F, 4.2F, 1.0F, 0x3a2618, Body::earth, 30.0F},
                         {4.0F, -1.9F, 1.57F, 4.6F, 1.1F, 0x4a3020, Body::earth, 30.0F},
                         {5.1F, -1.8F, 1.57F, 4.2F, 1.0F, 0x3a2618, Body::earth, 30.0F},
                         {-7.0F, -5.4F, 2.2F, 4.4F, 2.4F, 0x5c3b24, Body::earth, 40.0F},
                         {-8.2F, -3.6F, 1.9F, 2.6F, 1.6F, 0xcdbfa4, Body::lead_white, 60.0F},
                         {-6.4F, -7.4F, -0.6F, 1.8F, 0.5F, 0xd8cfb8, Body::lead_white, 50.0F},
                         {-0.8F, -8.0F, 0.05F, 8.0F, 0.9F, 0xc69a66, Body::lead_white, 80.0F},
                         {6.4F, -5.0F, 1.4F, 5.0F, 0.5F, 0x4a3020, Body::earth, 30.0F}};

constexpr Touch woman[] = {{0.3F, 0.3F, 0.05F, 9.0F, 1.4F, 0x2a2014, Body::earth, 15.0F},
                           {-1.3F, -4.2F, 1.46F, 8.6F, 2.6F, 0x8a3a2a, Body::red, 50.0F},
                           {0.0F, -4.4F, 1.57F, 9.0F, 2.8F, 0x7a3226, Body::red, 50.0F},
                           {1.4F, -4.2F, 1.70F, 8.4F, 2.4F, 0x4c211b, Body::red, 30.0F},
                           {-2.0F, -3.4F, 1.40F, 6.4F, 0.9F, 0xb1573f, Body::red, 80.0F},
                           {-0.5F, -5.0F, 1.55F, 6.0F, 1.6F, 0xb3a88f, Body::lead_white, 60.0F},
                           {0.0F, -9.9F, 1.57F, 4.6F, 3.0F, 0x39404c, Body::smalt, 40.0F},
                           {-1.3F, -9.6F, 1.85F, 3.8F, 1.0F, 0xcfc3aa, Body::lead_white, 70.0F},
                           {1.7F, -9.0F, 0.9F, 3.8F, 1.0F, 0x9c8f78, Body::lead_white, 60.0F},
                           {0.0F, -10.9F, 0.1F, 2.2F, 1.0F, 0xd8ccb2, Body::lead_white, 70.0F},
                           {0.0F, -12.7F, 1.57F, 1.9F, 1.6F, 0xb98b6b, Body::lead_white, 60.0F},
                           {0.0F, -13.6F, 0.0F, 2.3F, 1.2F, 0xe6dcc6, Body::lead_white, 90.0F},
                           {2.9F, -6.8F, 0.1F, 2.9F, 2.0F, 0x6f5230, Body::earth, 60.0F}};

constexpr Touch dog[] = {{0.0F, -2.6F, 0.1F, 5.4F, 2.2F, 0x5a4630, Body::earth, 40.0F},
                         {3.0F, -3.8F, -0.5F, 2.4F, 1.6F, 0xcabb9c, Body::lead_white, 60.0F},
                         {-2.0F, -0.9F, 1.57F, 2.4F, 0.7F, 0x41311f, Body::earth, 30.0F},
                         {2.0F, -0.9F, 1.57F, 2.4F, 0.7F, 0x41311f, Body::earth, 30.0F},
                         {-3.4F, -3.6F, -2.5F, 2.6F, 0.7F, 0x5a4630, Body::earth, 40.0F}};

template <std::size_t n>
void place(Strokes& strokes, const Touch (&touches)[n], Spot at, float size, Dice& dice) {
    for (const Touch& t : touches) add(strokes, t, dice, size, at);
}

Rgb bank_colour(float x, float y) {
    static const Rgb dark = from_srgb(0x2c2617);
    static const Rgb earth = from_srgb(0x6d5433);
    static const Rgb grass = from_srgb(0x57562a);
    const float deep = clamp01((y - near_shore(x)) / 50.0F);
    const float patch = fractal(x / 26.0F, y / 9.0F, 4, 701U);
    return mix(mix(grass, earth, smooth_step(-0.15F, 0.4F, patch)), dark, 0.35F + 0.5F * deep);
}

Rgb path_colour(float y) {
    return mix(from_srgb(0xb3966a), from_srgb(0x755a38), clamp01((y - 370.0F) / 90.0F));
}

void add_path(Strokes& strokes, Dice& dice) {
    // A sandy path comes in at the lower left corner and bends round the oak along the bank.
    for (float t = 0.0F; t < 1.0F; t += 0.0016F) {
        const float x = 22.0F + 108.0F * t + 7.0F * std::sin(t * 5.0F);
        const float y = 464.0F - 88.0F * std::pow(t, 0.8F);
        const float half = 17.0F * (1.0F - 0.78F * t);
        const float aside = half * (2.0F * dice.unit() - 1.0F);
        const Rgb c = mix(path_colour(y), from_srgb(0x4e3c24), std::pow(std::fabs(aside) / half, 3.0F) * 0.7F);
        Stroke s;
        s.x_mm = x + aside;
        s.y_mm = y + aside * 0.18F;
        s.angle_rad = -0.45F + 0.15F * dice.normal();
        s.length_mm = (3.0F + 8.0F * (1.0F - t)) * dice.between(0.6F, 1.4F);
        s.width_mm = (1.0F + 2.0F * (1.0F - t)) * dice.between(0.7F, 1.3F);
        s.paint = mixed(c * (1.0F + 0.10F * dice.normal()), Body::earth);
        s.second = c * 1.25F;
        s.dryness = 0.4F;
        s.body_um = 45.0F;
        s.bristles = dice.word();
        strokes.push_back(s);
    }
}

void add_grass(Strokes& strokes, Dice& dice) {
    for (const Spot& spot : scatter(-4.0F, 392.0F, face_width_mm + 4.0F, face_height_mm + 6.0F, 2.3F, 711U)) {
        if (spot.y_mm < near_shore(spot.x_mm) - 1.0F) continue;
        const float clump = fractal(spot.x_mm / 17.0F, spot.y_mm / 10.0F, 3, 712U);
        if (clump < 0.04F) continue;
        const float lit = clamp01(0.5F * clump + 0.35F * dice.unit());
        for (int blade = 0; blade < 3; ++blade) {
            Touch t{spot.x_mm + dice.normal() * 1.2F,
                    spot.y_mm - 2.0F,
                    -1.5F + 0.38F * dice.normal(),
                    dice.between(3.5F, 9.0F),
                    dice.between(0.5F, 1.0F),
                    lit > 0.36F && dice.chance(0.4F) ? 0x85783fU : (dice.chance(0.5F) ? 0x454322U : 0x302f1bU),
                    Body::green,
                    48.0F};
            add(strokes, t, dice);
        }
    }
}

void add_reeds(Strokes& strokes, Dice& dice) {
    for (int i = 0; i < 190; ++i) {
        const float x = 505.0F + 100.0F * dice.unit();
        const float foot = near_shore(x) + dice.between(-4.0F, 12.0F);
        const float tall = dice.between(16.0F, 44.0F);
        const float lean = -1.52F + 0.16F * dice.normal();
        add(strokes,
            {x, foot - 0.5F * tall, lean, tall, dice.between(0.6F, 1.2F),
             dice.chance(0.35F) ? 0x9a8c4aU : (dice.chance(0.5F) ? 0x57552bU : 0x2e2d1aU), Body::green, 55.0F},
            dice);
        if (dice.chance(0.13F))
            add(strokes,
                {x + tall * std::cos(lean) * 0.5F, foot - tall, lean, 5.0F, 1.6F, 0x4a2f1a, Body::earth, 70.0F}, dice);
    }
}

void add_docks(Strokes& strokes, Dice& dice) {
    static constexpr Spot plants[] = {{286, 446}, {306, 455}, {330, 449}, {352, 456},
                                      {480, 447}, {466, 455}, {498, 452}, {236, 451}};
    for (const Spot plant : plants)
        for (int i = 0; i < 12; ++i) {
            const float angle = -1.57F + 0.75F * dice.normal();
            const float long_mm = dice.between(8.0F, 17.0F);
            const bool lit = std::cos(angle) < 0.25F && dice.chance(0.5F);
            Touch t{plant.x_mm + 4.0F * dice.normal() + 0.4F * long_mm * std::cos(angle),
                    plant.y_mm + 0.4F * long_mm * std::sin(angle),
                    angle,
                    long_mm,
                    dice.between(2.0F, 4.2F),
                    lit ? 0x5c5c33U : 0x35361fU,
                    Body::green,
                    60.0F};
            add(strokes, t, dice);
            t.width = 0.5F;
            t.colour = lit ? 0x8b8552U : 0x47482bU;
            t.body_um = 80.0F;
            add(strokes, t, dice);
        }
}

}  // namespace

Strokes paint_staffage() {
    Strokes strokes;
    Dice dice(721U);
    place(strokes, cow, {268.0F, 338.0F}, 1.15F, dice);
    place(strokes, cow, {296.0F, 330.0F}, 0.92F, dice);
    for (const Spot grazing : {Spot{172, 316}, Spot{190, 311}, Spot{158, 309}, Spot{560, 328}})
        place(strokes, cow, grazing, 0.5F, dice);
    for (const Spot foot : {Spot{266, 341}, Spot{294, 333}})  // what the water keeps of them
        for (int i = 0; i < 12; ++i)
            add(strokes,
                {foot.x_mm + 5.0F * dice.normal(), foot.y_mm + 8.0F * dice.unit(), 0.02F, 7.0F, 0.9F, 0x4c3a28,
                 Body::earth, 12.0F},
                dice);
    for (int duck = 0; duck < 4; ++duck) {
        const float x = 352.0F + 14.0F * static_cast<float>(duck) + 3.0F * dice.normal();
        const float y = 386.0F + 4.0F * dice.normal();
        add(strokes, {x, y, 0.05F, 4.2F, 1.9F, duck == 1 ? 0xe4dcc8U : 0x3b3020U, Body::earth, 70.0F}, dice);
        add(strokes, {x - 2.0F, y - 1.4F, 1.2F, 1.9F, 1.2F, duck == 1 ? 0xe9e2d0U : 0x2d4030U, Body::earth, 60.0F},
            dice);
        add(strokes, {x + 1.0F, y + 1.7F, 0.0F, 9.0F, 0.5F, 0xcfd0c4U, Body::lead_white, 40.0F}, dice);
    }
    return strokes;
}

Strokes paint_foreground() {
    Strokes strokes;
    Dice dice(731U);
    for (const Spot& spot : scatter(-8.0F, 384.0F, face_width_mm + 8.0F, face_height_mm + 8.0F, 2.4F, 732U)) {
        if (spot.y_mm < near_shore(spot.x_mm) + 0.5F) continue;
        const Rgb c = bank_colour(spot.x_mm, spot.y_mm);
        Stroke s;
        s.x_mm = spot.x_mm;
        s.y_mm = spot.y_mm;
        s.angle_rad = 0.35F * noise(spot.x_mm / 40.0F, spot.y_mm / 20.0F, 733U) + 0.2F * dice.normal();
        s.length_mm = dice.between(6.0F, 15.0F);
        s.width_mm = dice.between(2.2F, 4.5F);
        s.paint = mixed(c * (1.0F + 0.08F * dice.normal()), Body::earth);
        s.second = c * (1.0F + 0.3F * dice.normal());
        s.dryness = 0.25F;
        s.body_um = 34.0F;
        s.bristles = dice.word();
        strokes.push_back(s);
    }
    add_path(strokes, dice);
    add_docks(strokes, dice);
    add_grass(strokes, dice);
    place(strokes, woman, {108.0F, 397.0F}, 1.42F, dice);
    place(strokes, dog, {122.0F, 394.0F}, 1.1F, dice);
    add_reeds(strokes, dice);
    return strokes;
}

}  // namespace tedge::painter
