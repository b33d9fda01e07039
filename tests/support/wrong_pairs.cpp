#include "wrong_pairs.hpp"

#include <cmath>

#include "painted_pair.hpp"

namespace tedge::test_support {

using imaging::Raster8;

namespace {

double boundary(const Cloth& cloth, int direction, int thread, double pitch) {
    return pitch * (thread + cloth.irregular * (counted(99, direction, thread) - 0.5));
}

int thread_at(const Cloth& cloth, int direction, double at, double pitch) {
    int thread = static_cast<int>(at / pitch) + 1;
    while (boundary(cloth, direction, thread, pitch) > at) --thread;
    return thread;
}

double bulge(const Cloth& cloth, int direction, int thread, double at, double pitch) {
    const double from = boundary(cloth, direction, thread, pitch);
    const double bright = 1.0 - cloth.irregular * counted(98, direction, thread);
    return bright * std::sin(3.14159 * (at - from) / (boundary(cloth, direction, thread + 1, pitch) - from));
}

}  // namespace

double Cloth::height(int x, int y) const {
    const double across = x + 2.0 * warp_px * repeats_on + 0.5;
    const double down = y + 2.0 * weft_px * repeats_on + 0.5;
    const int warp = thread_at(*this, 0, across, warp_px);
    const int weft = thread_at(*this, 1, down, weft_px);
    return (warp + weft) % 2 == 0 ? bulge(*this, 0, warp, across, warp_px) : bulge(*this, 1, weft, down, weft_px);
}

Raster8 noise(std::uint64_t seed, SizePx of) {
    Raster8 out(of.width_px, of.height_px, 3);
    for (int y = 0; y < out.height_px(); ++y) {
        for (int x = 0; x < out.width_px(); ++x) {
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = static_cast<std::uint8_t>(256.0 * counted(seed, x, y, static_cast<std::uint64_t>(c)));
        }
    }
    return out;
}

Raster8 framed(const Raster8& inner, const Raster8& surround) {
    Raster8 out = surround;
    const int left = inner.width_px() * 15 / 100;
    const int top = inner.height_px() * 15 / 100;
    for (int y = top; y < inner.height_px() - top; ++y) {
        for (int x = left; x < inner.width_px() - left; ++x) {
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = inner.at(x, y, c);
        }
    }
    return out;
}

Raster8 weave(std::uint64_t seed, const Cloth& cloth, SizePx size) {
    Raster8 out = noise(seed, size);
    for (int y = 0; y < size.height_px; ++y) {
        for (int x = 0; x < size.width_px; ++x) {
            const double height = cloth.height(x, y);
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = static_cast<std::uint8_t>(60.0 + 130.0 * height + out.at(x, y, c) / 20.0);
        }
    }
    return out;
}

}  // namespace tedge::test_support
