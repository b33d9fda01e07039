#include "coating_model.hpp"

#include <cmath>

namespace tedge::imaging {
namespace {

using Square = std::array<Light3, 3>;

// (1 - exp(-A·t)) / (1 - exp(-A)); t where nothing is absorbed.
double thinned(double absorption, double thickness) {
    if (absorption < 1e-4) return thickness;
    return std::expm1(-absorption * thickness) / std::expm1(-absorption);
}

Square through(const Coat& coat, double thickness) {
    Square out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            out[i][j] = i == j ? std::exp(-coat.absorption[i] * thickness) : thickness * coat.crosstalk[i][j];
    return out;
}

double determinant(const Square& m) {
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
           m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

Square inverse(const Square& m, double of) {
    Square out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) {
            const std::size_t a = (j + 1) % 3, b = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;
            out[i][j] = (m[a][c] * m[b][d] - m[a][d] * m[b][c]) / of;
        }
    return out;
}

}  // namespace

CoatThere::CoatThere(const Coat& coat, double thickness) {
    for (std::size_t c = 0; c < 3; ++c) veil_[c] = coat.veil[c] * thinned(coat.absorption[c], thickness);
    const Square matrix = through(coat, thickness);
    const double along = matrix[0][0] * matrix[1][1] * matrix[2][2];
    const double of = determinant(matrix);
    if (of > 0.3 * along) {
        back_ = inverse(matrix, of);
        return;
    }
    // Far beyond what was fitted, crosstalk would turn colours over: left out there.
    for (std::size_t c = 0; c < 3; ++c) back_[c][c] = 1.0 / matrix[c][c];
}

}  // namespace tedge::imaging
