// What stands before the camera, and the frame of linear light that it makes.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "appearance.hpp"
#include "camera.hpp"
#include "cards.hpp"
#include "tedge/geometry/displacement.hpp"

namespace tedge::painter {

// A face's appearance at falling resolutions, each half of the one before, area-averaged.
class Pyramid {
public:
    Pyramid(imaging::Raster16 pixels, double px_per_mm, int levels, int threads);

    // Bilinear from the level that suits a photograph's pixel of the given size.
    [[nodiscard]] int level_for(double mm_per_px) const;
    [[nodiscard]] Rgb at(int level, float x_mm, float y_mm) const;

private:
    std::vector<imaging::Raster16> levels_;
    double px_per_mm_;
};

// Light thrown back by the glossy surface: an oblong patch with soft edges, in mm of the face.
struct Glare {
    PointMm middle;
    double half_width_mm = 60.0;
    double half_height_mm = 40.0;
    double turn_deg = 0.0;
    float strength = 0.3F;
};

struct Scene {
    const Pyramid* face = nullptr;
    SizeMm size = face_size;
    std::optional<BsplineDisplacement> old_from_new;  // a lined canvas: where each point lay before
    std::vector<const Card*> cards;                   // in order, the last on top
    std::vector<Glare> glares;
    Light light = Light::normal;
    Rgb backdrop = grey(0.2F);
    bool plastered_wall = false;  // otherwise dark cloth
    float exposure = 1.0F;        // linear value of a perfect white in full light
    Rgb cast{1.0F, 1.0F, 1.0F};   // colour of the light
    float fall_x = 0.0F;          // light per metre to the right, as a share
    float fall_y = 0.0F;
};

// Three channels of 16-bit shares, 0.5 = a linear value of 1 (so that glare may pass white).
inline constexpr float frame_unit = 0.5F;
[[nodiscard]] imaging::Raster16 expose(const Scene& scene, const Camera& camera, double softness, int threads);

}  // namespace tedge::painter
