// Strokes of a loaded brush, laid one over the other.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "colour.hpp"
#include "layers.hpp"

namespace tedge::painter {

// A mixed paint: what it reflects in the light, near 1 µm, and how it glows by itself under a long-wave lamp.
struct Paint {
    Rgb colour;
    float infrared = 0.5F;
    float fluorescence = 0.05F;
};

// Pigments by the way they look in the infrared and under the lamp (relative figures, chosen for the look).
enum class Body { lead_white, earth, green, carbon_black, smalt, red };
[[nodiscard]] Paint mixed(Rgb colour, Body body);

struct Stroke {
    float x_mm = 0.0F;  // its middle
    float y_mm = 0.0F;
    float angle_rad = 0.0F;  // the way the hand went, 0 = to the right, positive = clockwise as y runs down
    float length_mm = 10.0F;
    float width_mm = 3.0F;
    float bend_mm = 0.0F;  // how far the ends lie aside of the tangent at the middle
    Paint paint;
    Rgb second;                  // carried in the same brush, comes off in streaks
    float load = 1.0F;           // covering power, 0 to 1
    float dryness = 0.3F;        // how soon the bristles run dry, 0 to 1
    float body_um = 30.0F;       // thickness that it leaves
    std::uint32_t bristles = 0;  // which part of the brush's pattern it shows
};

using Strokes = std::vector<Stroke>;

// Points of a jittered lattice inside a box, shuffled: the order in which a passage is covered.
struct Spot {
    float x_mm;
    float y_mm;
};
[[nodiscard]] std::vector<Spot> scatter(float left, float top, float right, float bottom, float spacing_mm,
                                        std::uint32_t seed);

// Lays the strokes in order over the layers.
void lay(const Strokes& strokes, PaintLayers& layers, int threads);

// Primes the canvas: a toned ground, thin, with the sweep of the priming knife.
void prime(PaintLayers& layers, Rgb ground, int threads);

}  // namespace tedge::painter
