#include "residual_field_banded.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "registration_clones.hpp"

namespace tedge::imaging {
namespace {

// y += factor · x: no sum is reordered, so wider registers change nothing but the time.
TEDGE_CLONES void add_multiple(const double* x, double factor, std::size_t count, double* y) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) y[i] += factor * x[i];
}

}  // namespace

// Column by column, each taken off the rows below at once.
void BandedMatrix::factorise() {
    std::vector<double> column(bandwidth_ + 1);
    for (std::size_t k = 0; k < size_; ++k) {
        const double pivot = at(k, k);
        if (!(pivot > 0.0)) throw std::logic_error("the smoothing equations are not positive definite");
        const double root = std::sqrt(pivot);
        const std::size_t last = std::min(size_ - 1, k + bandwidth_);
        at(k, k) = root;
        for (std::size_t i = k + 1; i <= last; ++i) column[i - k - 1] = at(i, k) /= root;
        for (std::size_t i = k + 1; i <= last; ++i) {
            const double factor = column[i - k - 1];
            if (factor != 0.0) add_multiple(column.data(), -factor, i - k, &at(i, k + 1));
        }
    }
}

void BandedMatrix::solve(std::vector<double>& right) const {
    for (std::size_t i = 0; i < size_; ++i) {
        double sum = right[i];
        for (std::size_t j = i > bandwidth_ ? i - bandwidth_ : 0; j < i; ++j) sum -= at(i, j) * right[j];
        right[i] = sum / at(i, i);
    }
    for (std::size_t i = size_; i-- > 0;) {
        right[i] /= at(i, i);
        const std::size_t first = i > bandwidth_ ? i - bandwidth_ : 0;
        if (i > first)
            add_multiple(&entries_[i * bandwidth_ + bandwidth_ + first], -right[i], i - first, &right[first]);
    }
}

// From the last row upwards: Z(i, j) = (δ(i, j) / L(i, i) - Σ L(k, i) Z(k, j)) / L(i, i) over the k > i of the band.
BandedMatrix BandedMatrix::inverse_within_band() const {
    BandedMatrix inverse(size_, bandwidth_);
    // The other half as well, row by row: whole stretches of a row can then be added at once.
    const std::size_t width = bandwidth_ + 1;
    std::vector<double> upper(size_ * width);  // (k, j), j >= k, at k·width + j - k
    std::vector<double> sum(width);
    for (std::size_t i = size_; i-- > 0;) {
        const std::size_t last = std::min(size_ - 1, i + bandwidth_);
        std::fill(sum.begin(), sum.end(), 0.0);  // element j - i - 1
        const double diagonal = at(i, i);
        for (std::size_t k = i + 1; k <= last; ++k) {
            const double factor = -at(k, i) / diagonal;
            if (factor == 0.0) continue;
            add_multiple(&inverse.at(k, i + 1), factor, k - i, sum.data());
            add_multiple(&upper[k * width + 1], factor, last - k, sum.data() + (k - i));
        }
        double own = 1.0 / (diagonal * diagonal);
        for (std::size_t k = i + 1; k <= last; ++k) {
            inverse.at(k, i) = upper[i * width + k - i] = sum[k - i - 1];
            own -= at(k, i) / diagonal * sum[k - i - 1];
        }
        inverse.at(i, i) = upper[i * width] = own;
    }
    return inverse;
}

}  // namespace tedge::imaging
