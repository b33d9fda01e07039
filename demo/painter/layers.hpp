// The painting as it lies on its canvas, in the frame of the painted face, sampled evenly.
#pragma once

#include <cmath>
#include <cstdint>

#include "colour.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::painter {

// The painted face: a landscape of 610 × 460 mm.
inline constexpr SizeMm face_size{610.0, 460.0};

// Sample (column, row) of a layer stands at ((column + 0.5) / px_per_mm, (row + 0.5) / px_per_mm) of the face.
struct Grid {
    double px_per_mm = 8.0;
    int width_px = 0;
    int height_px = 0;

    [[nodiscard]] static Grid over(SizeMm size, double px_per_mm) {
        return {px_per_mm, static_cast<int>(std::lround(size.width_mm * px_per_mm)),
                static_cast<int>(std::lround(size.height_mm * px_per_mm))};
    }
    [[nodiscard]] float mm(int sample) const {
        return static_cast<float>((static_cast<double>(sample) + 0.5) / px_per_mm);
    }
};

// Reflectances stand as 16 bits for 0..1 (paint never reaches 1).
[[nodiscard]] inline std::uint16_t to_share(float value) {
    return static_cast<std::uint16_t>((value < 0.0F ? 0.0F : (value > 1.0F ? 1.0F : value)) * 65535.0F + 0.5F);
}
[[nodiscard]] inline float from_share(std::uint16_t stored) {
    return static_cast<float>(stored) * (1.0F / 65535.0F);
}

// What the painter left: every layer above the canvas taken together.
struct PaintLayers {
    Grid grid;
    imaging::Raster16 reflectance;   // three channels, linear, bare paint
    imaging::Raster16 infrared;      // reflectance near 1 µm, underdrawing included
    imaging::Raster16 fluorescence;  // of the paint itself under a long-wave lamp, relative
    imaging::RasterF height_um;      // thickness of the paint above its ground

    explicit PaintLayers(const Grid& g)
        : grid(g),
          reflectance(g.width_px, g.height_px, 3),
          infrared(g.width_px, g.height_px, 1),
          fluorescence(g.width_px, g.height_px, 1),
          height_um(g.width_px, g.height_px, 1) {}
};

}  // namespace tedge::painter
