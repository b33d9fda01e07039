// Discrete Fourier transform of square tiles, many small ones after another.
#pragma once

#include <vector>

namespace tedge::imaging {

// Tiles of side × side samples, side a power of two from 16 to 256; real and imaginary parts in two arrays, row by row.
// The spectrum comes out transposed (element (row u, column v) belongs to the frequency u along x and v along y) and
// the inverse takes it back, so no time is lost on turning it round.
class TileFourier {
public:
    explicit TileFourier(int side);

    [[nodiscard]] int side() const { return side_; }
    void forward(float* real, float* imaginary);
    void inverse(float* real, float* imaginary);  // without the factor 1 / side²

    struct Planes {
        float* real;
        float* imaginary;
    };
    struct Twiddle {
        float real;
        float imaginary;
    };

private:
    [[nodiscard]] Planes columns(Planes from, Planes to) const;

    int side_;
    std::vector<Twiddle> twiddles_;  // exp(-2πi k / side)
    std::vector<float> spare_real_;
    std::vector<float> spare_imaginary_;
};

}  // namespace tedge::imaging
