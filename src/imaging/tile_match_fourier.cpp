#include "tile_match_fourier.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "registration_clones.hpp"

namespace tedge::imaging {
namespace {

using Planes = TileFourier::Planes;
using Twiddle = TileFourier::Twiddle;

// One radix-2 step of Stockham's self-sorting transform over whole rows: a and b become a + b and (a - b)·w.
TEDGE_CLONES void butterfly_2(const std::array<Planes, 4>& in, const std::array<Planes, 4>& out, Twiddle w,
                              std::size_t count) {
    const Planes a = in[0];
    const Planes b = in[1];
    const Planes sum = out[0];
    const Planes turned = out[1];
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) {
        const float real = a.real[i] - b.real[i];
        const float imaginary = a.imaginary[i] - b.imaginary[i];
        sum.real[i] = a.real[i] + b.real[i];
        sum.imaginary[i] = a.imaginary[i] + b.imaginary[i];
        turned.real[i] = real * w.real - imaginary * w.imaginary;
        turned.imaginary[i] = real * w.imaginary + imaginary * w.real;
    }
}

// The radix-4 step: four rows in, four rows out, three twiddle factors.
TEDGE_CLONES void butterfly_4(const std::array<Planes, 4>& in, const std::array<Planes, 4>& out,
                              const std::array<Twiddle, 3>& w, std::size_t count) {
    const Planes a = in[0];
    const Planes b = in[1];
    const Planes c = in[2];
    const Planes d = in[3];
    const Planes o0 = out[0];
    const Planes o1 = out[1];
    const Planes o2 = out[2];
    const Planes o3 = out[3];
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) {
        const float ac_real = a.real[i] + c.real[i];
        const float ac_imaginary = a.imaginary[i] + c.imaginary[i];
        const float bd_real = b.real[i] + d.real[i];
        const float bd_imaginary = b.imaginary[i] + d.imaginary[i];
        const float a_c_real = a.real[i] - c.real[i];
        const float a_c_imaginary = a.imaginary[i] - c.imaginary[i];
        const float b_d_real = b.imaginary[i] - d.imaginary[i];  // (b - d) turned by -90 degrees
        const float b_d_imaginary = d.real[i] - b.real[i];
        o0.real[i] = ac_real + bd_real;
        o0.imaginary[i] = ac_imaginary + bd_imaginary;
        const float r1 = a_c_real + b_d_real;
        const float i1 = a_c_imaginary + b_d_imaginary;
        o1.real[i] = r1 * w[0].real - i1 * w[0].imaginary;
        o1.imaginary[i] = r1 * w[0].imaginary + i1 * w[0].real;
        const float r2 = ac_real - bd_real;
        const float i2 = ac_imaginary - bd_imaginary;
        o2.real[i] = r2 * w[1].real - i2 * w[1].imaginary;
        o2.imaginary[i] = r2 * w[1].imaginary + i2 * w[1].real;
        const float r3 = a_c_real - b_d_real;
        const float i3 = a_c_imaginary - b_d_imaginary;
        o3.real[i] = r3 * w[2].real - i3 * w[2].imaginary;
        o3.imaginary[i] = r3 * w[2].imaginary + i3 * w[2].real;
    }
}

void transpose(const float* from, float* to, std::size_t side) {
    constexpr std::size_t block = 8;
    for (std::size_t y = 0; y < side; y += block) {
        for (std::size_t x = 0; x < side; x += block) {
            for (std::size_t j = 0; j < block; ++j) {
                for (std::size_t i = 0; i < block; ++i) to[(x + i) * side + y + j] = from[(y + j) * side + x + i];
            }
        }
    }
}

}  // namespace

TileFourier::TileFourier(int side) : side_(side) {
    if (side < 16 || side > 256 || (side & (side - 1)) != 0) throw std::invalid_argument("side of a Fourier tile");
    const auto n = static_cast<std::size_t>(side);
    spare_real_.resize(n * n);
    spare_imaginary_.resize(n * n);
    for (int i = 0; i < side; ++i) {
        const double angle = -2.0 * std::numbers::pi * i / side;
        twiddles_.push_back({static_cast<float>(std::cos(angle)), static_cast<float>(std::sin(angle))});
    }
}

// Transforms along y, all columns at once; says in which arrays the result has ended.
TileFourier::Planes TileFourier::columns(Planes from, Planes to) const {
    const auto side = static_cast<std::size_t>(side_);
    const auto row = [side](const Planes& planes, std::size_t index) {
        return Planes{planes.real + index * side, planes.imaginary + index * side};
    };
    std::size_t stride = 1;
    for (std::size_t n = side; n > 1;) {
        const std::size_t radix = n % 4 == 0 ? 4 : 2;
        const std::size_t part = n / radix;
        for (std::size_t p = 0; p < part; ++p) {
            // Rows that share a twiddle factor lie together: one long run of stride·side numbers.
            std::array<Planes, 4> in;
            std::array<Planes, 4> out;
            for (std::size_t k = 0; k < radix; ++k) {
                in[k] = row(from, stride * (p + part * k));
                out[k] = row(to, stride * (radix * p + k));
            }
            const std::size_t turn = p * (side / n);
            if (radix == 4)
                butterfly_4(in, out, {twiddles_[turn], twiddles_[2 * turn], twiddles_[3 * turn]}, stride * side);
            else
                butterfly_2(in, out, twiddles_[turn], stride * side);
        }
        n = part;
        stride *= radix;
        std::swap(from, to);
    }
    return from;
}

void TileFourier::forward(float* real, float* imaginary) {
    const auto side = static_cast<std::size_t>(side_);
    const Planes given{real, imaginary};
    const Planes spare{spare_real_.data(), spare_imaginary_.data()};
    const Planes along_y = columns(given, spare);
    const Planes turned = along_y.real == real ? spare : given;
    transpose(along_y.real, turned.real, side);
    transpose(along_y.imaginary, turned.imaginary, side);
    const Planes along_x = columns(turned, along_y);
    if (along_x.real == real) return;
    std::copy_n(along_x.real, side * side, real);
    std::copy_n(along_x.imaginary, side * side, imaginary);
}

// Exchanging the real and the imaginary part before and after turns the transform into its inverse.
void TileFourier::inverse(float* real, float* imaginary) {
    forward(imaginary, real);
}

}  // namespace tedge::imaging
