// Pixels in memory: row by row, channels interleaved, no padding.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "tedge/geometry/coordinates.hpp"

namespace tedge::imaging {

// width × height × channels samples of T. Pixel (0, 0) is the top-left one, after orientation.
template <class T>
class Raster {
public:
    Raster() = default;
    Raster(int width_px, int height_px, int channels)
        : width_px_(width_px),
          height_px_(height_px),
          channels_(channels),
          samples_(static_cast<std::size_t>(width_px) * static_cast<std::size_t>(height_px) *
                   static_cast<std::size_t>(channels)) {}

    [[nodiscard]] int width_px() const { return width_px_; }
    [[nodiscard]] int height_px() const { return height_px_; }
    [[nodiscard]] int channels() const { return channels_; }
    [[nodiscard]] SizePx size() const { return {width_px_, height_px_}; }
    [[nodiscard]] bool empty() const { return samples_.empty(); }
    [[nodiscard]] std::size_t row_samples() const {
        return static_cast<std::size_t>(width_px_) * static_cast<std::size_t>(channels_);
    }

    [[nodiscard]] T* row(int y) { return samples_.data() + static_cast<std::size_t>(y) * row_samples(); }
    [[nodiscard]] const T* row(int y) const { return samples_.data() + static_cast<std::size_t>(y) * row_samples(); }
    [[nodiscard]] T& at(int x, int y, int channel = 0) { return row(y)[offset(x, channel)]; }
    [[nodiscard]] const T& at(int x, int y, int channel = 0) const { return row(y)[offset(x, channel)]; }

    [[nodiscard]] std::span<T> samples() { return samples_; }
    [[nodiscard]] std::span<const T> samples() const { return samples_; }

    friend bool operator==(const Raster&, const Raster&) = default;

private:
    [[nodiscard]] std::size_t offset(int x, int channel) const {
        return static_cast<std::size_t>(x) * static_cast<std::size_t>(channels_) + static_cast<std::size_t>(channel);
    }

    int width_px_ = 0;
    int height_px_ = 0;
    int channels_ = 0;
    std::vector<T> samples_;
};

using Raster8 = Raster<std::uint8_t>;
using Raster16 = Raster<std::uint16_t>;
using RasterF = Raster<float>;

}  // namespace tedge::imaging
