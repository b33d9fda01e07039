// A made photograph of canvas whose count, angle, cusping and faults are known by construction: two sets of round
// threads, over and under one another, each thread with a thickness and a tone of its own.
#pragma once

#include <cstdint>

#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

// What passes over what.
enum class Binding {
    plain,
    twill_two_one,  // over two, under one, each thread one further than the one before
    twill_two_two,
    herringbone,  // two and two, turning back after ten threads
    basket        // as plain, by pairs of threads in both directions
};

struct MadeWeave {
    SizePx size{640, 560};
    double px_per_cm = 100.0;
    double across_per_cm = 14.0;  // set a: threads that run up and down
    double down_per_cm = 12.0;
    double degrees = 0.0;       // of set a's direction of counting, x to the right, y down
    double skew_degrees = 0.0;  // set b turned further than 90
    double uneven = 0.15;       // thickness and tone from thread to thread, a standard deviation
    double jitter = 0.05;       // of a thread's place, in pitches
    double checks = 1.0;        // how plainly one sees over and under; 0: two gratings
    double raking = 0.0;        // light from the left along the surface; 0: height is brightness
    bool transmitted = false;   // light through the gaps instead
    double contrast = 12.0;     // gray levels of 256, a standard deviation about
    double paint = 0.0;         // slow change of tone over it, gray levels
    double patchy = 0.0;        // share of the surface where paint hides the weave wholly
    double noise = 3.0;         // gray levels
    double shading = 0.0;       // light from edge to edge, share of the mean
    double perspective = 0.0;   // change of scale from the middle to an edge, of x
    double cusp_mm = 0.0;       // waves of set b's threads at the top edge, half their height
    double cusp_length_mm = 60.0;
    std::uint64_t seed = 1;
    Binding binding = Binding::plain;
};

// 8-bit gray, 4 samples a pixel.
[[nodiscard]] imaging::Raster8 photographed(const MadeWeave& made);

// The same as 16-bit colour of a brownish canvas.
[[nodiscard]] imaging::Raster16 photographed_in_colour(const MadeWeave& made);

}  // namespace tedge::test_support
