// Local spectra of a weave: squares of about a centimetre, windowed, and the mean of all of them.
#pragma once

#include <optional>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tile_match_fourier.hpp"
#include "weave_signal.hpp"

namespace tedge::imaging {

// Cycles per centimetre along x and y of the signal.
struct Frequency {
    double x = 0.0;
    double y = 0.0;

    [[nodiscard]] double length() const;
    [[nodiscard]] double degrees() const;  // of its direction, in (-180, 180]
    friend Frequency operator+(Frequency a, Frequency b) { return {a.x + b.x, a.y + b.y}; }
    friend Frequency operator-(Frequency a, Frequency b) { return {a.x - b.x, a.y - b.y}; }
    friend Frequency operator*(double k, Frequency a) { return {k * a.x, k * a.y}; }
};

// Squares of side_px of the signal, spread evenly over it from rim to rim.
struct SquareGrid {
    int side_px = 0;
    double step_x_px = 0.0;
    double step_y_px = 0.0;
    int columns = 0;
    int rows = 0;

    // Steps of half a square or less, more where that would be a great many squares.
    [[nodiscard]] static SquareGrid over(const WeaveSignal& signal);
    [[nodiscard]] int count() const { return columns * rows; }
    [[nodiscard]] int left_px(int column) const { return static_cast<int>(step_x_px * column); }
    [[nodiscard]] int top_px(int row) const { return static_cast<int>(step_y_px * row); }
    [[nodiscard]] PointPx corner(int square) const {
        return {static_cast<double>(left_px(square % columns)), static_cast<double>(top_px(square / columns))};
    }
};

// Power over frequencies on a square lattice; it repeats with the side, as every sampled spectrum does.
class PowerSpectrum {
public:
    PowerSpectrum() = default;
    PowerSpectrum(int side, double bin_per_cm)
        : side_(side),
          bin_per_cm_(bin_per_cm),
          power_(static_cast<std::size_t>(side) * static_cast<std::size_t>(side)) {}

    [[nodiscard]] int side() const { return side_; }
    [[nodiscard]] double bin_per_cm() const { return bin_per_cm_; }
    [[nodiscard]] double limit_per_cm() const { return bin_per_cm_ * side_ / 2; }  // of the pixels, along an axis
    [[nodiscard]] float& at(int u, int v) { return power_[index(u, v)]; }
    [[nodiscard]] float at(int u, int v) const { return power_[index(u, v)]; }
    [[nodiscard]] std::vector<float>& power() { return power_; }
    [[nodiscard]] const std::vector<float>& power() const { return power_; }

private:
    [[nodiscard]] std::size_t index(int u, int v) const {
        const int mask = side_ - 1;  // a power of two
        return static_cast<std::size_t>(u & mask) * static_cast<std::size_t>(side_) +
               static_cast<std::size_t>(v & mask);
    }
    int side_ = 0;
    double bin_per_cm_ = 0.0;
    std::vector<float> power_{};
};

// Two squares at once, one as the real and one as the imaginary part. One object a thread.
class SquareTransform {
public:
    SquareTransform(int side_px, double px_per_cm);

    void transform(const WeaveSignal& signal, PointPx first, PointPx second);  // their top-left pixels
    [[nodiscard]] const PowerSpectrum& first() const { return first_; }
    [[nodiscard]] const PowerSpectrum& second() const { return second_; }

private:
    int side_px_;
    TileFourier fourier_;
    std::vector<float> window_;
    std::vector<float> real_;
    std::vector<float> imaginary_;
    PowerSpectrum first_;
    PowerSpectrum second_;
};

// Divides by what is usual at that distance from the middle: then 1 is the background, whatever light, paint and lens
// do to coarse and fine detail. Nothing counts that is 40 dB below the strongest.
void even_out(PowerSpectrum& spectrum);

// The strongest power within `radius` of a frequency, to a fraction of a bin; nothing where it lies on the rim.
struct Peak {
    Frequency at;
    double power = 0.0;
    double contrast = 0.0;  // over the median of a ring 2.5 to 4.5 cycles/cm around
};
[[nodiscard]] std::optional<Peak> peak_near(const PowerSpectrum& spectrum, Frequency around, double radius_per_cm);
[[nodiscard]] double ring_median(const PowerSpectrum& spectrum, Frequency around);

// The mean over squares (all of them up to some thousands, then an even choice) of their evened spectra.
[[nodiscard]] PowerSpectrum mean_spectrum(const WeaveSignal& signal, const SquareGrid& grid, int workers,
                                          const Progress& progress);

}  // namespace tedge::imaging
