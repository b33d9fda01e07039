#include "cards.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ink.hpp"
#include "lettering.hpp"
#include "noise.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/chart_reference.hpp"

namespace tedge::painter {
namespace {

constexpr double chart_border_mm = 1.1;

Card blank(SizeMm size, PointMm origin, double turn_deg, double px_per_mm, Rgb colour) {
    Card card{Grid::over(size, px_per_mm), {}, origin, turn_deg};
    card.pixels = imaging::Raster16(card.grid.width_px, card.grid.height_px, 4);
    for (int y = 0; y < card.grid.height_px; ++y)
        for (int x = 0; x < card.grid.width_px; ++x) {
            std::uint16_t* c = &card.pixels.at(x, y);
            c[0] = to_share(colour.r);
            c[1] = to_share(colour.g);
            c[2] = to_share(colour.b);
            c[3] = to_share(1.0F);
        }
    return card;
}

void dye(Card& card, const Mask& mask, Rgb colour) {
    for (int y = 0; y < card.grid.height_px; ++y)
        for (int x = 0; x < card.grid.width_px; ++x) {
            const float cover = mask.at(x, y);
            if (cover <= 0.0F) continue;
            std::uint16_t* c = &card.pixels.at(x, y);
            c[0] = to_share(mix(from_share(c[0]), colour.r, cover));
            c[1] = to_share(mix(from_share(c[1]), colour.g, cover));
            c[2] = to_share(mix(from_share(c[2]), colour.b, cover));
        }
}

}  // namespace

PointMm Card::from_face(PointMm face) const {
    const double a = turn_deg * std::numbers::pi / 180.0;
    const double dx = face.x_mm - origin.x_mm;
    const double dy = face.y_mm - origin.y_mm;
    return {dx * std::cos(a) + dy * std::sin(a), dy * std::cos(a) - dx * std::sin(a)};
}

PointMm Card::to_face(PointMm card) const {
    const double a = turn_deg * std::numbers::pi / 180.0;
    return {origin.x_mm + card.x_mm * std::cos(a) - card.y_mm * std::sin(a),
            origin.y_mm + card.x_mm * std::sin(a) + card.y_mm * std::cos(a)};
}

bool Card::holds(PointMm card) const {
    return card.x_mm >= 0.0 && card.y_mm >= 0.0 && card.x_mm < size().width_mm && card.y_mm < size().height_mm;
}

Card::Seen Card::at(PointMm card) const {
    const auto px = static_cast<float>(std::clamp(card.x_mm * grid.px_per_mm - 0.5, 0.0, grid.width_px - 1.001));
    const auto py = static_cast<float>(std::clamp(card.y_mm * grid.px_per_mm - 0.5, 0.0, grid.height_px - 1.001));
    const int x = static_cast<int>(px);
    const int y = static_cast<int>(py);
    const float tx = px - static_cast<float>(x);
    const float ty = py - static_cast<float>(y);
    float value[4];
    for (int c = 0; c < 4; ++c)
        value[c] = mix(mix(from_share(pixels.at(x, y, c)), from_share(pixels.at(x + 1, y, c)), tx),
                       mix(from_share(pixels.at(x, y + 1, c)), from_share(pixels.at(x + 1, y + 1, c)), tx), ty);
    return {{value[0], value[1], value[2]}, value[3]};
}

std::array<std::array<double, 3>, 24> chart_lab_d50() {
    const auto& printed = imaging::chart_reference(imaging::ChartEdition::maker_2005).lab;
    std::array<std::array<double, 3>, 24> lab{};
    std::ranges::transform(printed, lab.begin(),
                           [](const imaging::Lab& patch) { return std::array<double, 3>{patch.l, patch.a, patch.b}; });
    return lab;
}

PointMm chart_patch_middle(int patch) {
    const double first = chart_border_mm + 0.5 * chart_pitch_mm - 0.085;
    return {first + chart_pitch_mm * (patch % 6), first + chart_pitch_mm * (patch / 6)};
}

Card chart_card(PointMm origin, double turn_deg, double px_per_mm) {
    Card card = blank(chart_size, origin, turn_deg, px_per_mm, from_srgb(0x1d1d1e));
    const auto lab = chart_lab_d50();
    for (int patch = 0; patch < 24; ++patch) {
        const PointMm middle = chart_patch_middle(patch);
        const double half = 0.5 * chart_patch_mm;
        Mask mask(card.grid);
        fill_shape(mask,
                   {{middle.x_mm - half, middle.y_mm - half},
                    {middle.x_mm + half, middle.y_mm - half},
                    {middle.x_mm + half, middle.y_mm + half},
                    {middle.x_mm - half, middle.y_mm + half}},
                   1.0);
        const auto& value = lab[static_cast<std::size_t>(patch)];
        dye(card, mask, from_lab_d50(value[0], value[1], value[2]));
    }
    return card;
}

Card scale_card(PointMm origin, double turn_deg, double px_per_mm) {
    const SizeMm size{scale_length_mm + 2.0 * scale_zero_mm, 16.0};
    Card card = blank(size, origin, turn_deg, px_per_mm, grey(0.80F));
    Mask mask(card.grid);
    for (int mm = 0; mm <= static_cast<int>(scale_length_mm); ++mm) {
        const double x = scale_zero_mm + mm;
        const double down = mm % 10 == 0 ? 2.0 * scale_line_mm : (mm % 5 == 0 ? 1.5 * scale_line_mm : scale_line_mm);
        draw_line(mask, {{x, 0.0}, {x, down}}, 0.22, 1.0);
        if (mm % 10 != 0) continue;
        const std::string figure = format_fixed(mm, 0);
        const Hand hand{3.2, 0.0, 0.0, 0.8, 0.0, 1U};
        for (const Line& stroke : written(figure, {x - 0.5 * width_of(figure, hand) + 0.3, 13.2}, hand))
            draw_line(mask, stroke, 0.4, 1.0);
    }
    dye(card, mask, grey(0.03F));
    return card;
}

}  // namespace tedge::painter
