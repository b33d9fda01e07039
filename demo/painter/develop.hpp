// From the sensor's linear light to a picture: colour, noise, sharpening, tone.
#pragma once

#include "colour.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::painter {

struct Sensor {
    float full_well_e = 60000.0F;  // electrons at a linear value of 1
    float read_noise_e = 4.0F;
    std::uint32_t seed = 1;
    // Rows of the matrix by which the camera's colours miss the true ones; identity = a true camera.
    Rgb red{1.0F, 0.0F, 0.0F};
    Rgb green{0.0F, 1.0F, 0.0F};
    Rgb blue{0.0F, 0.0F, 1.0F};
    float sharpening = 0.0F;  // amount of the local contrast that is added
    float contrast = 0.0F;    // 0 = the plain sRGB curve
    float saturation = 1.0F;
};

// sRGB-encoded pixels. Noise is Poisson-like: variance of the signal in electrons plus that of reading.
[[nodiscard]] imaging::Raster16 develop_16(const imaging::Raster16& frame, const Sensor& sensor, int threads);
[[nodiscard]] imaging::Raster8 develop_8(const imaging::Raster16& frame, const Sensor& sensor, int threads);

}  // namespace tedge::painter
