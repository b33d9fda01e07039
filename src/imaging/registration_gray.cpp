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

template <class T>
void split_red_and_blue(const Raster<T>& raster, int y, int x0, int count, float factor, float* red, float* blue) {
    const auto channels = static_cast<std::size_t>(raster.channels());
    const std::size_t blue_at = channels < 3 ? 0 : 2;
    const T* sample = raster.row(y) + static_cast<std::size_t>(x0) * channels;
    for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
        red[i] = static_cast<float>(sample[i * channels]) * factor;
        blue[i] = static_cast<float>(sample[i * channels + blue_at]) * factor;
    }
}

// Dark pixels say little of their colour: 4 gray levels more in every channel keep them quiet.
float warmth_of(float red, float blue) {
    return 100.0F * std::log((red + 4.0F) / (blue + 4.0F));
}

void warmth_row(const PictureView& picture, int y, int x0, int count, float* warmth) {
    std::vector<float> blue(static_cast<std::size_t>(count));
    picture.red_and_blue_row(y, x0, count, warmth, blue.data());
    for (std::size_t i = 0; i < blue.size(); ++i) warmth[i] = warmth_of(warmth[i], blue[i]);
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

TEDGE_CLONES void add_row(const std::uint8_t* samples, std::size_t count, std::uint16_t* sum) {
    for (std::size_t i = 0; i < count; ++i) sum[i] = static_cast<std::uint16_t>(sum[i] + samples[i]);
}

// Averages of red and of blue over squares, a row of squares at a time.
class SquareAverager {
public:
    SquareAverager(const PictureView& picture, int side) : picture_(picture), side_(side) {}

    void warmth(int row, int squares, float* out) {
        const SizePx size = picture_.size();
        const int first = row * side_;
        const int last = std::min(first + side_, size.height_px);
        const Raster8* eight_bit = picture_.eight_bit_rgb();
        if (eight_bit != nullptr && side_ <= most_rows)
            add_eight_bit(*eight_bit, first, last);
        else
            add_any(first, last);
        for (int i = 0; i < squares; ++i) {
            const int from = i * side_;
            const int to = std::min(from + side_, size.width_px);
            float red = 0.0F;
            float blue = 0.0F;
            for (auto x = static_cast<std::size_t>(from); x < static_cast<std::size_t>(to); ++x) {
                red += red_[x];
                blue += blue_[x];
            }
            const float share = 1.0F / static_cast<float>((to - from) * (last - first));
            out[i] = warmth_of(red * share, blue * share);
        }
    }

private:
    static constexpr int most_rows = 256;  // of 255 each fill sixteen bits

    void add_eight_bit(const Raster8& picture, int first, int last) {
        const auto width = static_cast<std::size_t>(picture.width_px());
        sums_.assign(3 * width, 0);
        for (int y = first; y < last; ++y) add_row(picture.row(y), sums_.size(), sums_.data());
        red_.resize(width);
        blue_.resize(width);
        for (std::size_t x = 0; x < width; ++x) {
            red_[x] = sums_[3 * x];
            blue_[x] = sums_[3 * x + 2];
        }
    }

    void add_any(int first, int last) {
        const int width = picture_.size().width_px;
        const auto count = static_cast<std::size_t>(width);
        red_.assign(count, 0.0F);
        blue_.assign(count, 0.0F);
        row_.resize(2 * count);
        for (int y = first; y < last; ++y) {
            picture_.red_and_blue_row(y, 0, width, row_.data(), row_.data() + count);
            for (std::size_t x = 0; x < count; ++x) {
                red_[x] += row_[x];
                blue_[x] += row_[count + x];
            }
        }
    }

    const PictureView& picture_;
    int side_;
    std::vector<std::uint16_t> sums_;
    std::vector<float> red_, blue_, row_;  // sums over the rows of squares, pixel by pixel
};

RasterF averaged_warmth(const PictureView& picture, int level, int workers, const Progress& progress) {
    const int side = 1 << level;
    const SizePx size = picture.size();
    RasterF warmth((size.width_px + side - 1) / side, (size.height_px + side - 1) / side, 1);
    const int bands = (warmth.height_px() + band_rows - 1) / band_rows;
    for_each_index(
        bands, workers, [&] { return progress.stopped(); },
        [&](int band, int) {
            SquareAverager averager(picture, side);
            const int last = std::min((band + 1) * band_rows, warmth.height_px());
            for (int y = band * band_rows; y < last; ++y) averager.warmth(y, warmth.width_px(), warmth.row(y));
        });
    return warmth;
}

}  // namespace

void PictureView::gray_row(int y, int x0, int count, float* gray) const {
    if (raster8_ != nullptr) return mix_gray(*raster8_, y, x0, count, 1.0F, gray);
    if (raster16_ != nullptr) return mix_gray(*raster16_, y, x0, count, 255.0F / 65535.0F, gray);
    mix_gray(*raster_f_, y, x0, count, 255.0F, gray);
}

void PictureView::red_and_blue_row(int y, int x0, int count, float* red, float* blue) const {
    if (raster8_ != nullptr) return split_red_and_blue(*raster8_, y, x0, count, 1.0F, red, blue);
    if (raster16_ != nullptr) return split_red_and_blue(*raster16_, y, x0, count, 255.0F / 65535.0F, red, blue);
    split_red_and_blue(*raster_f_, y, x0, count, 255.0F, red, blue);
}

const Raster8* PictureView::eight_bit_rgb() const {
    return raster8_ != nullptr && raster8_->channels() == 3 ? raster8_ : nullptr;
}

bool PictureView::is_coloured() const {
    constexpr int steps = 64;
    constexpr float least_warmth = 5.0F;  // red and blue differ by 5 %
    float warmth = 0.0F;
    int coloured = 0;
    for (int j = 0; j < steps; ++j) {
        for (int i = 0; i < steps; ++i) {
            warmth_row(*this, (2 * j + 1) * size_.height_px / (2 * steps), (2 * i + 1) * size_.width_px / (2 * steps),
                       1, &warmth);
            if (std::abs(warmth) > least_warmth) ++coloured;
        }
    }
    return coloured > steps * steps / 20;
}

GrayPyramid::GrayPyramid(PictureView picture, int workers, const Progress& progress, Plane plane, LevelRange range)
    : picture_(picture), plane_(plane), finest_(range.finest) {
    // The level before the finest is averaged, the finest is halved from it: squares alone let finer structure through.
    if (finest_ > 1) {
        halves_.resize(static_cast<std::size_t>(finest_ - 2));
        halves_.push_back(averaged_warmth(picture, finest_ - 1, workers, progress));
    }
    while (!progress.stopped() && levels() <= range.coarsest) {
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
            warmth_row(picture_, y, left, count, row + lead);
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
