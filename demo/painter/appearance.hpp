// How the recto looks at a stage of the work under a light, in the frame of the face, before any camera.
#pragma once

#include "coatings.hpp"
#include "surface.hpp"

namespace tedge::painter {

enum class Stage { received, faced, trials, half_cleaned, cleaned, lined, filled, varnished };
enum class Light { normal, raking, ultraviolet, infrared };

// What is on the paint at a place: shares of the old coatings that stay, and what has been done about the damage.
struct Cover {
    float varnish_left = 1.0F;
    float dirt_left = 1.0F;
    float overpaint_left = 1.0F;
};
[[nodiscard]] Cover cover_at(const Damage& damage, Stage stage, float x_mm, float y_mm);

// Linear light as 16-bit shares of 0..1, three channels; `light` even over the face but for raking, which falls from
// the left.
[[nodiscard]] imaging::Raster16 appearance(const Surface& surface, Stage stage, Light light, int threads);

}  // namespace tedge::painter
