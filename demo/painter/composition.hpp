// Where things stand in the picture: "The Mill at Otter Reach", an invented river landscape. All in mm of the face.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "brush.hpp"

namespace tedge::painter {

inline constexpr float horizon_mm = 268.0F;
inline constexpr float face_width_mm = 610.0F;
inline constexpr float face_height_mm = 460.0F;

// A curve through given points: the value at `place`, straight between them, constant outside.
struct Knot {
    float place;
    float value;
};
[[nodiscard]] float follow(std::span<const Knot> knots, float place);

// The sky as the painter saw it: colour, how much of it is cloud, how strongly lit, the way a brush would go.
struct SkyView {
    Rgb colour;
    float cloud = 0.0F;
    float lit = 0.0F;
    float angle_rad = 0.0F;
};
[[nodiscard]] SkyView sky_at(float x_mm, float y_mm);

// The two shores of the river at a height of the picture, and the far shore above a place on the water.
[[nodiscard]] float left_shore(float y_mm);
[[nodiscard]] float right_shore(float y_mm);
[[nodiscard]] float far_shore(float x_mm);
[[nodiscard]] float near_shore(float x_mm);  // where the foreground bank begins
[[nodiscard]] bool on_water(float x_mm, float y_mm);

// The passages, far to near. `painted` answers the colour already on the canvas: what the water mirrors.
using Painted = std::function<Rgb(float x_mm, float y_mm)>;
[[nodiscard]] Strokes paint_sky();
[[nodiscard]] Strokes paint_hills();
[[nodiscard]] Strokes paint_meadows();
[[nodiscard]] Strokes paint_far_trees();
[[nodiscard]] Strokes paint_mill();
[[nodiscard]] Strokes paint_river(const Painted& painted);
[[nodiscard]] Strokes paint_banks();
[[nodiscard]] Strokes paint_shrubs();
[[nodiscard]] Strokes paint_staffage();
[[nodiscard]] Strokes paint_oak();
[[nodiscard]] Strokes paint_foreground();

// All of it, on a primed canvas, with the drawing below and the signature above.
[[nodiscard]] PaintLayers paint_picture(const Grid& grid, int threads);

}  // namespace tedge::painter
