// Flat things that lie in the plane of the face beside the picture or over its edges: colour chart, scale, frame.
#pragma once

#include <array>

#include "colour.hpp"
#include "layers.hpp"

namespace tedge::painter {

// Four channels: linear colour and cover, 16-bit shares. `origin` is the card's top-left corner in face mm.
struct Card {
    Grid grid;
    imaging::Raster16 pixels;
    PointMm origin;
    double turn_deg = 0.0;  // clockwise about its origin

    [[nodiscard]] PointMm from_face(PointMm face) const;
    [[nodiscard]] PointMm to_face(PointMm card) const;
    [[nodiscard]] SizeMm size() const { return {grid.width_px / grid.px_per_mm, grid.height_px / grid.px_per_mm}; }
    [[nodiscard]] bool holds(PointMm card) const;

    // Colour and cover at a place of the card, bilinear.
    struct Seen {
        Rgb colour;
        float cover = 0.0F;
    };
    [[nodiscard]] Seen at(PointMm card) const;
};

// The chart of 24 patches: six columns, four rows, pitch 17.85 mm, patches 15.64 mm (the proportions of the published
// layout: pitch 52.5, patch 46, border 321 × 217 units), colours from resources/reference/chart24_lab_d50.csv, first
// set of columns.
inline constexpr double chart_pitch_mm = 17.85;
inline constexpr double chart_patch_mm = 15.64;
inline constexpr SizeMm chart_size{109.14, 73.78};
[[nodiscard]] PointMm chart_patch_middle(int patch);  // 0 to 23, row by row, in mm of the card
[[nodiscard]] std::array<std::array<double, 3>, 24> chart_lab_d50();
[[nodiscard]] Card chart_card(PointMm origin, double turn_deg, double px_per_mm);

// White plastic with a line at every millimetre, longer at 5 and 10, figures at each centimetre. Zero stands 10 mm
// from its left end, `scale_length_mm` further stands the last line.
inline constexpr double scale_length_mm = 200.0;
inline constexpr double scale_zero_mm = 10.0;
inline constexpr double scale_line_mm = 4.0;  // the lines begin at the upper edge of the card and reach down
[[nodiscard]] Card scale_card(PointMm origin, double turn_deg, double px_per_mm);

// A gilt frame over the edges of the face: 82 mm wide, its rebate hides `rebate_mm` of the picture all round.
inline constexpr double frame_width_mm = 82.0;
inline constexpr double rebate_mm = 4.0;
[[nodiscard]] Card frame_card(double px_per_mm, int threads);
[[nodiscard]] Card frame_back_card(double px_per_mm, int threads);

}  // namespace tedge::painter
