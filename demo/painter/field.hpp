// A quantity that varies slowly over a face, kept coarse and read between its samples.
#pragma once

#include <algorithm>

#include "layers.hpp"
#include "noise.hpp"
#include "parallel.hpp"

namespace tedge::painter {

class Field {
public:
    // value(x_mm, y_mm) at every sample.
    template <class Value>
    Field(SizeMm size, double samples_per_mm, int threads, const Value& value)
        : grid_(Grid::over(size, samples_per_mm)), samples_(grid_.width_px, grid_.height_px, 1) {
        for_bands(grid_.height_px, 16, threads, [&](int first, int end) {
            for (int y = first; y < end; ++y)
                for (int x = 0; x < grid_.width_px; ++x) samples_.at(x, y) = value(grid_.mm(x), grid_.mm(y));
        });
    }

    // Bilinear; the edge's value outside.
    [[nodiscard]] float at(float x_mm, float y_mm) const {
        const auto scale = static_cast<float>(grid_.px_per_mm);
        const float px = std::clamp(x_mm * scale - 0.5F, 0.0F, static_cast<float>(grid_.width_px - 1) - 0.001F);
        const float py = std::clamp(y_mm * scale - 0.5F, 0.0F, static_cast<float>(grid_.height_px - 1) - 0.001F);
        const int x = static_cast<int>(px);
        const int y = static_cast<int>(py);
        const float* upper = samples_.row(y) + x;
        const float* lower = samples_.row(y + 1) + x;
        const float t = px - static_cast<float>(x);
        return mix(mix(upper[0], upper[1], t), mix(lower[0], lower[1], t), py - static_cast<float>(y));
    }

    [[nodiscard]] const Grid& grid() const { return grid_; }
    [[nodiscard]] imaging::RasterF& samples() { return samples_; }

private:
    Grid grid_;
    imaging::RasterF samples_;
};

}  // namespace tedge::painter
