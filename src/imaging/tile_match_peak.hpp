// Where two tiles fit best: the peak of their correlation, found in the Fourier domain.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "tile_match_fourier.hpp"

namespace tedge::imaging {

struct CorrelationPeak {
    int x = 0;  // samples the content of the second tile lies off that of the first
    int y = 0;
    double height = 0.0;
    double next = 0.0;       // the highest elsewhere, out to a quarter of the tile
    double deviation = 0.0;  // of the correlation around, which tells how high a peak comes about by chance
    double sign = 1.0;       // -1 where dark and bright have changed places
};

struct RefinedPeak {
    double x = 0.0;
    double y = 0.0;
    double height = 0.0;
    std::array<double, 3> curvature{};  // xx, xy, yy of the correlation at its peak, turned positive, per sample²
    bool settled = false;
};

// The cross spectrum of two tiles within a band of frequencies, divided by the square root of its amplitude.
class CrossSpectrum {
public:
    explicit CrossSpectrum(int side);

    // first, second: side × side samples, windowed; both are overwritten. False when one of them is empty.
    [[nodiscard]] bool set(std::vector<float>& first, std::vector<float>& second);
    // The correlation of a tile with itself would have this height.
    [[nodiscard]] double norm() const { return norm_; }

    // The highest peak (with either_sign the deepest trough as well) within `range` samples.
    [[nodiscard]] CorrelationPeak highest(int range, bool either_sign);
    // Every value of the correlation within `reach` samples of the peak, as a share of its height, row by row.
    [[nodiscard]] std::vector<float> around(const CorrelationPeak& peak, int reach) const;
    // Newton's method on the band-limited correlation, which is known at every point.
    [[nodiscard]] RefinedPeak refined(const CorrelationPeak& peak) const;

private:
    [[nodiscard]] double value_at(int x, int y) const;
    void add_row(int u, const std::vector<float>& first, const std::vector<float>& second);

    int side_;
    int band_;
    std::size_t row_length_;  // elements for one v: u from 0 to band, padded
    TileFourier fourier_;
    std::vector<float> weight_;            // of the band, as real_
    std::vector<float> real_, imaginary_;  // element (v + band)·row_length + u; one of each pair of conjugates
    std::vector<float> surface_, spare_;   // the correlation, side × side
    double norm_ = 0.0;
    double power_first_ = 0.0;
    double power_second_ = 0.0;
};

}  // namespace tedge::imaging
