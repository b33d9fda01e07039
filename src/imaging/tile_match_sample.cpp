#include "tile_match_sample.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "registration_clones.hpp"

namespace tedge::imaging {
namespace {

// Keys' cubic, a = -0.5, for the neighbours at -1, 0, 1, 2 of a point at t in [0, 1).
struct KeysWeights {
    float w0, w1, w2, w3;
};

inline KeysWeights keys(float t) {
    const float t2 = t * t;
    const float t3 = t2 * t;
    return {-0.5F * t3 + t2 - 0.5F * t, 1.5F * t3 - 2.5F * t2 + 1.0F, -1.5F * t3 + 2.0F * t2 + 0.5F * t,
            0.5F * t3 - 0.5F * t2};
}

TEDGE_CLONES void sample_row(const float* samples, int width, float x, float y, float step_x, float step_y, int side,
                             float* out) {
    for (int i = 0; i < side; ++i) {
        const float px = x + static_cast<float>(i) * step_x;
        const float py = y + static_cast<float>(i) * step_y;
        const int ix = static_cast<int>(px);
        const int iy = static_cast<int>(py);
        const KeysWeights u = keys(px - static_cast<float>(ix));
        const KeysWeights v = keys(py - static_cast<float>(iy));
        const int at = (iy - 1) * width + ix - 1;
        const auto along = [&](int row) {
            const int k = at + row * width;
            return u.w0 * samples[k] + u.w1 * samples[k + 1] + u.w2 * samples[k + 2] + u.w3 * samples[k + 3];
        };
        out[i] = v.w0 * along(0) + v.w1 * along(1) + v.w2 * along(2) + v.w3 * along(3);
    }
}

// Moves the window one row down: the sums of each column lose one row and gain another.
TEDGE_CLONES void slide(const float* enter, const float* leave, std::size_t count, double* sum, double* square) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) {
        const double in = static_cast<double>(enter[i]);
        const double out = static_cast<double>(leave[i]);
        sum[i] += in - out;
        square[i] += in * in - out * out;
    }
}

// One row of the tile from the running sums over the columns; `reach` columns make a window of `count` samples.
TEDGE_CLONES void normalise_row(const float* row, const double* run_sum, const double* run_square, std::size_t side,
                                std::size_t reach, double count, float floor, float* out, float* variance) {
    const double share = 1.0 / count;
#pragma GCC ivdep
    for (std::size_t x = 0; x < side; ++x) {
        const double mean = (run_sum[x + reach] - run_sum[x]) * share;
        const double square = (run_square[x + reach] - run_square[x]) * share;
        const float spread = static_cast<float>(square - mean * mean);
        variance[x] = spread > 0.0F ? spread : 0.0F;
        out[x] = static_cast<float>(static_cast<double>(row[x]) - mean);
    }
#pragma GCC ivdep
    for (std::size_t x = 0; x < side; ++x) out[x] /= std::sqrt(variance[x]) + floor;
}

}  // namespace

void sample_patch(const GrayPatch& patch, const SampleGrid& grid, int side, float* out) {
    for (int j = 0; j < side; ++j) {
        sample_row(patch.samples, patch.width, static_cast<float>(grid.x + j * grid.xy),
                   static_cast<float>(grid.y + j * grid.yy), static_cast<float>(grid.xx), static_cast<float>(grid.yx),
                   side, out + static_cast<std::size_t>(j) * static_cast<std::size_t>(side));
    }
}

double normalise_locally(const std::vector<float>& patch, const LocalWindow& window, std::vector<float>& tile) {
    const auto n = static_cast<std::size_t>(window.patch_side);
    const auto margin = static_cast<std::size_t>(window.margin);
    const auto radius = static_cast<std::size_t>(window.radius);
    const std::size_t side = n - 2 * margin;
    const std::size_t reach = 2 * radius + 1;
    const std::size_t edge = margin - radius;  // of the patch that no window touches
    const auto row = [&](std::size_t y) { return patch.data() + y * n; };
    std::vector<double> sum(n);
    std::vector<double> square(n);
    std::vector<double> run_sum(n + 1);
    std::vector<double> run_square(n + 1);
    std::vector<float> variance(side);
    const std::vector<float> nothing(n);
    for (std::size_t y = edge; y < edge + reach - 1; ++y) slide(row(y), nothing.data(), n, sum.data(), square.data());
    double spread = 0.0;
    for (std::size_t y = 0; y < side; ++y) {
        slide(row(y + edge + reach - 1), y == 0 ? nothing.data() : row(y + edge - 1), n, sum.data(), square.data());
        for (std::size_t x = 0; x < n; ++x) {
            run_sum[x + 1] = run_sum[x] + sum[x];
            run_square[x + 1] = run_square[x] + square[x];
        }
        normalise_row(row(y + margin) + margin, run_sum.data() + edge, run_square.data() + edge, side, reach,
                      static_cast<double>(reach * reach), window.floor, tile.data() + y * side, variance.data());
        for (const float each : variance) spread += static_cast<double>(each);
    }
    return spread / static_cast<double>(side * side);
}

void edge_strength(std::vector<float>& patch, int side, std::vector<float>& scratch) {
    // Binomial 1-8-28-56-70-56-28-8-1 has variance 2; its deviation of 1.41 samples is near the 1.5 that served best.
    constexpr std::array<float, 5> taps{70.0F / 256, 56.0F / 256, 28.0F / 256, 8.0F / 256, 1.0F / 256};
    const auto n = static_cast<std::size_t>(side);
    scratch.resize(n * n);
    const auto clamped = [side](int i) { return static_cast<std::size_t>(std::clamp(i, 0, side - 1)); };
    for (int y = 0; y < side; ++y) {
        float* out = scratch.data() + static_cast<std::size_t>(y) * n;
        const float* middle = patch.data() + static_cast<std::size_t>(y) * n;
        for (std::size_t x = 0; x < n; ++x) out[x] = taps[0] * middle[x];
        for (int k = 1; k < 5; ++k) {
            const float* up = patch.data() + clamped(y - k) * n;
            const float* down = patch.data() + clamped(y + k) * n;
            const float tap = taps[static_cast<std::size_t>(k)];
            for (std::size_t x = 0; x < n; ++x) out[x] += tap * (up[x] + down[x]);
        }
    }
    std::vector<float> line(n + 8);
    for (std::size_t y = 0; y < n; ++y) {
        float* row = scratch.data() + y * n;
        std::copy_n(row, n, line.data() + 4);
        std::fill_n(line.data(), 4, row[0]);
        std::fill_n(line.data() + 4 + n, 4, row[n - 1]);
        for (std::size_t x = 0; x < n; ++x) {
            const float* p = line.data() + 4 + x;
            row[x] = taps[0] * p[0] + taps[1] * (p[-1] + p[1]) + taps[2] * (p[-2] + p[2]) + taps[3] * (p[-3] + p[3]) +
                     taps[4] * (p[-4] + p[4]);
        }
    }
    for (int y = 0; y < side; ++y) {
        const float* up = scratch.data() + clamped(y - 1) * n;
        const float* down = scratch.data() + clamped(y + 1) * n;
        const float* row = scratch.data() + static_cast<std::size_t>(y) * n;
        float* out = patch.data() + static_cast<std::size_t>(y) * n;
        for (int x = 0; x < side; ++x) {
            const float gx = row[clamped(x + 1)] - row[clamped(x - 1)];
            const float gy = down[static_cast<std::size_t>(x)] - up[static_cast<std::size_t>(x)];
            // A gradient of half a gray level a pixel is noise in most photographs.
            out[x] = std::log(std::sqrt(gx * gx + gy * gy) + 1.0F);
        }
    }
}

}  // namespace tedge::imaging
