// Threads of a woven canvas counted on a photograph, in both directions, and mapped over its surface.
//
// Method: slow light and paint are taken off (local mean) and contrast is evened out; squares of about a centimetre,
// windowed and overlapping, are Fourier transformed; the mean of their spectra shows the lattice of the weave; each
// square is then searched near it. After Johnson, Johnson, Klein, Sethares, Lee and Hendriks (IEEE DSP Workshop 2009)
// and Johnson, Johnson and Erdmann (Signal Processing 93, 2013).
//
// Which peak counts threads. In plain weave thread i of one set passes over thread j of the other where i + j is even,
// so the pattern repeats after two threads, but along either axis alone the two halves of the repeat look the same.
// With p and q the pitches, light stands at (k / 2p, l / 2q) for k + l even: on the axis at 1/p, 2/p …, never at 1/2p,
// and off the axes at the checks (1/2p, ±1/2q), often the strongest of all. The count is 1/p: the first peak on the
// axis, or twice the share of a check along it. Sharp threads give 2/p as well, sometimes stronger than 1/p; the
// checks and the peak at 1/p then tell that it is a harmonic. In twill, basket weave and herringbone every thread runs
// as its neighbour does, only shifted, so on the axes light stands at whole threads still, while the twill lines and
// the pairs, often the strongest of all, stand beside them. And no two threads are alike: what differs from thread to
// thread leaves a streak of power along both axes, whichever way the camera was turned; no diagonal has one.
//
// Frames and units: threads per centimetre; angles in degrees in the frame of the photograph (x to the right, y down,
// so a positive angle turns clockwise as one looks at it), or of the face where a placement is given. The angle of a
// set is that of the direction in which it is counted, square to its threads where the canvas is not skewed. Set a is
// counted across the picture, its threads run up and down: angle in (-45, 45]. Set b is counted down the picture, its
// threads run from side to side: angle of a plus 60 to 120. Which of them is the warp no photograph says by itself.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// One set of threads at one place.
struct ThreadsHere {
    double threads_per_cm = 0.0;
    double angle_deg = 0.0;
    double trust = 0.0;  // 0 to 1: how far its peak stands out, and agrees with the squares around
};

struct WeaveSquare {
    PointPx centre;  // in the photograph
    PointMm on_face;
    ThreadsHere a;
    ThreadsHere b;
};

// Squares row by row from the top left. A square is trusted for a set where its trust is at least trusted_from.
inline constexpr double trusted_from = 0.5;
struct WeaveMap {
    int columns = 0;
    int rows = 0;
    double square_px = 0.0;  // side, in pixels of the photograph
    double step_px = 0.0;    // from one centre to the next
    std::vector<WeaveSquare> squares{};

    [[nodiscard]] const WeaveSquare& at(int column, int row) const {
        return squares[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                       static_cast<std::size_t>(column)];
    }
};

struct ThreadSet {
    double threads_per_cm = 0.0;      // mean over the squares trusted
    double uncertainty_per_cm = 0.0;  // of that mean, one standard deviation
    double spread_per_cm = 0.0;       // from square to square, half the width that holds 68 % of them
    // Between squares that lie half over one another, direction included, of 68 % of them: smooth change leaves it
    // small.
    double roughness_per_cm = 0.0;
    double angle_deg = 0.0;
    double trusted_share = 0.0;  // of the squares
};

// Threads drawn towards the tacks: they wave along an edge, and less and less away from it.
struct Cusping {
    enum class Edge { top, right, bottom, left };
    Edge edge = Edge::top;
    double amplitude_deg = 0.0;  // of the threads' angle along the edge
    double amplitude_mm = 0.0;   // of the wave itself, half its height
    double wavelength_mm = 0.0;  // between one tack and the next
};

// Which thread passes over which, as far as the spectrum tells.
enum class Weave {
    plain,
    twill,
    basket_or_herringbone,  // their repeats are alike
    half_basket             // threads in pairs in one direction
};

struct ThreadCount {
    bool usable = false;
    Weave weave = Weave::plain;
    // Why not, or "": weave.none (no regular pattern in two directions), weave.one-direction, weave.block-pattern (the
    // squares of JPEG compression), weave.patchy (too few places agree), weave.faint (seen, but not to be trusted),
    // weave.ambiguous (another reading is nearly as good).
    std::string code{};
    std::string reason{};  // one sentence
    ThreadSet a{};
    ThreadSet b{};
    double confidence = 0.0;  // 0 to 1; usable from 0.5
    WeaveMap map{};
    std::vector<Cusping> cusping{};
    double largest_count_per_cm = 0.0;  // finer threads could not have been seen
    std::vector<std::string> notes{};   // what a person should know, a sentence each
};

struct ThreadCountOptions {
    // Squares whose centre lies outside this face are left out; empty: the whole photograph counts.
    SizeMm face{};
    int threads = 0;  // of the machine; 0: all of its processors. The result does not depend on it.
};

// The photograph square to the canvas, with so many of its pixels to a centimetre of canvas.
// Errors: weave.scale (not above 0, or not finite), weave.too-few-pixels (under 25 px/cm: not even coarse canvas can be
// resolved), weave.picture-too-small (under a centimetre a side), cancelled.
[[nodiscard]] Expected<ThreadCount> count_threads(PictureView photograph, double px_per_cm,
                                                  const ThreadCountOptions& options = {},
                                                  const Progress& progress = {});

// The same with a placement, face_from_photo in mm: perspective and unequal scales are taken out square by square.
[[nodiscard]] Expected<ThreadCount> count_threads(PictureView photograph, const Homography& face_from_photo,
                                                  const ThreadCountOptions& options = {},
                                                  const Progress& progress = {});

}  // namespace tedge::imaging
