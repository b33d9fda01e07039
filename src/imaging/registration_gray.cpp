#include "registration_gray.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "registration_clones.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int smallest_longer_side = 256;
constexpr int band_rows = 32;

// Weights 1-2-1: near enough to luma for matching, and equal for every depth.
template <class T>
void mix_gray(const Raster<T>& raster, int y, int x0, int count, float factor, float* gray) {
    const auto channels = static_cast<std::size_t>(raster.channels());
    const T* sample = raster.row(y) + static_cast<std::size_t>(x0) * channels;
    const auto pixels = static_cast<std::size_t>(count);
    if (channels < 3) {
        for (std::size_t i = 0; i < pixels; ++i) gray[i] = static_cast<float>(sample[i * channels]) * factor;
        return;
    }
    const float quarter = factor * 0.25F;
    for (std::size_t i = 0; i < pixels; ++i) {
        const T* rgb = sample + i * channels;
        gray[i] =
            (static_cast<float>(rgb[0]) + 2.0F * static_cast<float>(rgb[1]) + static_cast<float>(rgb[2])) * quarter;
    }
}

// Dark pixels say little of their colour: 4 gray levels more in every channel keep them quiet.
template <class T>
void mix_warmth(const Raster<T>& raster, int y, int x0, int count, float factor, float* warmth) {
    const auto channels = static_cast<std::size_t>(raster.channels());
    const auto pixels = static_cast<std::size_t>(count);
    if (channels < 3) {
        std::fill_n(warmth, pixels, 0.0F);
        return;
    }
    const T* sample = raster.row(y) + static_cast<std::size_t>(x0) * channels;
    for (std::size_t i = 0; i < pixels; ++i) {
        const T* rgb = sample + i * channels;
        const float red = static_cast<float>(rgb[0]) * factor + 4.0F;
        const float blue = static_cast<float>(rgb[2]) * factor + 4.0F;
        warmth[i] = 100.0F * std::log(red / blue);
    }
}

// Two rows above and two below the seam, weighted 1-3-3-1, then the same along the row.
void halve_row(const std::array<const float*, 4>& rows, int width, int half_width, float* column_sum, float* out) {
    float* padded = column_sum + 1;
    for (int x = 0; x < width; ++x) padded[x] = rows[0][x] + 3.0F * (rows[1][x] + rows[2][x]) + rows[3][x];
    padded[-1] = padded[0];
    padded[width] = padded[width + 1] = padded[width - 1];
    for (int i = 0; i < half_width; ++i) {
        const float* p = padded + 2 * i;
        out[i] = (p[-1] + 3.0F * (p[0] + p[1]) + p[2]) * (1.0F / 64.0F);
    }
}

// The most frequent case, five times as fast: the rows are added up in whole numbers before the channels are mixed.
struct EightBitHalver {
    std::vector<std::uint16_t> samples;  // 8 times the vertical average, channel by channel
    std::vector<std::uint16_t> gray;     // 32 times the vertical average, one more on the left, two on the right
};

TEDGE_CLONES void add_four_rows(const std::uint8_t* a, const std::uint8_t* b, const std::uint8_t* c,
                                const std::uint8_t* d, std::size_t count, std::uint16_t* sum) {
    for (std::size_t i = 0; i < count; ++i) sum[i] = static_cast<std::uint16_t>(a[i] + 3 * (b[i] + c[i]) + d[i]);
}

TEDGE_CLONES void mix_channels(const std::uint16_t* samples, std::size_t pixels, std::uint16_t* gray) {
    for (std::size_t i = 0; i < pixels; ++i)
        gray[i] = static_cast<std::uint16_t>(samples[3 * i] + 2 * samples[3 * i + 1] + samples[3 * i + 2]);
}

TEDGE_CLONES void halve_gray(const std::uint16_t* gray, std::size_t pixels, float* out) {
    for (std::size_t i = 0; i < pixels; ++i) {
        const std::uint16_t* p = gray + 2 * i;
        out[i] = static_cast<float>(p[0] + 3 * (p[1] + p[2]) + p[3]) * (1.0F / 256.0F);
    }
}

// Row y of the half-size picture.
void halve_eight_bit(const Raster8& picture, int y, EightBitHalver& halver, RasterF& half) {
    const auto width = static_cast<std::size_t>(picture.width_px());
    halver.samples.resize(3 * width);
    halver.gray.resize(width + 3);
    const auto row = [&](int offset) { return picture.row(std::clamp(2 * y + offset, 0, picture.height_px() - 1)); };
    add_four_rows(row(-1), row(0), row(1), row(2), 3 * width, halver.samples.data());
    mix_channels(halver.samples.data(), width, halver.gray.data() + 1);
    halver.gray[0] = halver.gray[1];
    halver.gray[width + 1] = halver.gray[width + 2] = halver.gray[width];
    halve_gray(halver.gray.data(), static_cast<std::size_t>(half.width_px()), half.row(y));
}

}  // namespace

void PictureView::gray_row(int y, int x0, int count, float* gray) const {
    if (raster8_ != nullptr) return mix_gray(*raster8_, y, x0, count, 1.0F, gray);
    if (raster16_ != nullptr) return mix_gray(*raster16_, y, x0, count, 255.0F / 65535.0F, gray);
    mix_gray(*raster_f_, y, x0, count, 255.0F, gray);
}

void PictureView::warmth_row(int y, int x0, int count, float* warmth) const {
    if (raster8_ != nullptr) return mix_warmth(*raster8_, y, x0, count, 1.0F, warmth);
    if (raster16_ != nullptr) return mix_warmth(*raster16_, y, x0, count, 255.0F / 65535.0F, warmth);
    mix_warmth(*raster_f_, y, x0, count, 255.0F, warmth);
}

const Raster8* PictureView::eight_bit_rgb() const {
    return raster8_ != nullptr && raster8_->channels() == 3 ? raster8_ : nullptr;
}

bool PictureView::is_coloured() const {
    constexpr int steps = 64;
    constexpr float least_warmth = 5.0F;  // red and blue differ by 5 %
    std::array<float, 1> warmth{};
    int coloured = 0;
    for (int j = 0; j < steps; ++j) {
        for (int i = 0; i < steps; ++i) {
            warmth_row((2 * j + 1) * size_.height_px / (2 * steps), (2 * i + 1) * size_.width_px / (2 * steps), 1,
                       warmth.data());
            if (std::abs(warmth[0]) > least_warmth) ++coloured;
        }
    }
    return coloured > steps * steps / 20;
}

GrayPyramid::GrayPyramid(PictureView picture, int workers, const Progress& progress, Plane plane, int coarsest_level)
    : picture_(picture), plane_(plane) {
    while (!progress.stopped() && levels() <= coarsest_level) {
        const int level = levels() - 1;
        const SizePx from = size(level);
        progress.at(1.0 - std::exp2(-2.0 * level), "making smaller copies");
        if (std::max(from.width_px, from.height_px) <= smallest_longer_side) break;
        RasterF half((from.width_px + 1) / 2, (from.height_px + 1) / 2, 1);
        const int bands = (half.height_px() + band_rows - 1) / band_rows;
        for_each_index(
            bands, workers, [&] { return progress.stopped(); },
            [&](int band, int) {
                const int first = band * band_rows;
                const int last = std::min(first + band_rows, half.height_px());
                if (const Raster8* eight_bit = picture_.eight_bit_rgb();
                    level == 0 && plane_ == Plane::gray && eight_bit != nullptr) {
                    EightBitHalver halver;
                    for (int y = first; y < last; ++y) halve_eight_bit(*eight_bit, y, halver, half);
                    return;
                }
                const int source_rows = 2 * (last - first) + 2;
                RasterF source(from.width_px, source_rows, 1);
                read(level, 0, 2 * first - 1, from.width_px, source_rows, source.row(0));
                std::vector<float> column_sum(static_cast<std::size_t>(from.width_px) + 3);
                for (int y = first; y < last; ++y) {
                    const int at = 2 * (y - first);
                    halve_row({source.row(at), source.row(at + 1), source.row(at + 2), source.row(at + 3)},
                              from.width_px, half.width_px(), column_sum.data(), half.row(y));
                }
            });
        halves_.push_back(std::move(half));
    }
}

SizePx GrayPyramid::size(int level) const {
    return level == 0 ? picture_.size() : half(level).size();
}

void GrayPyramid::read(int level, int x0, int y0, int width, int height, float* gray) const {
    const SizePx whole = size(level);
    const int left = std::clamp(x0, 0, whole.width_px - 1);
    const int right = std::clamp(x0 + width - 1, left, whole.width_px - 1);
    for (int j = 0; j < height; ++j) {
        float* row = gray + static_cast<std::size_t>(j) * static_cast<std::size_t>(width);
        const int y = std::clamp(y0 + j, 0, whole.height_px - 1);
        const int lead = std::clamp(left - x0, 0, width - 1);
        const int count = std::min(right - left + 1, width - lead);
        if (level == 0 && plane_ == Plane::gray)
            picture_.gray_row(y, left, count, row + lead);
        else if (level == 0)
            picture_.warmth_row(y, left, count, row + lead);
        else
            std::copy_n(half(level).row(y) + left, count, row + lead);
        std::fill(row, row + lead, row[lead]);
        std::fill(row + lead + count, row + width, row[lead + count - 1]);
    }
}

int GrayPyramid::level_for_side(int side) const {
    int level = 0;
    while (level + 1 < levels()) {
        const SizePx next = size(level + 1);
        if (std::max(next.width_px, next.height_px) < side) break;
        ++level;
    }
    return level;
}

}  // namespace tedge::imaging
