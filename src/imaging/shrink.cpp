#include "tedge/imaging/shrink.hpp"

#include <algorithm>
#include <cmath>

#include "linear_light.hpp"
#include "row_progress.hpp"
#include "srgb_rows.hpp"

namespace tedge::imaging {
namespace {

// The source pixels [first, last] under one smaller pixel; those at both ends count in part.
struct Span {
    int first = 0;
    int last = 0;
    float first_share = 1.0F;
    float last_share = 1.0F;
};

std::vector<Span> spans(int from, int to) {
    std::vector<Span> out(static_cast<std::size_t>(to));
    const double step = static_cast<double>(from) / to;
    for (int i = 0; i < to; ++i) {
        const double begin = i * step, end = std::min<double>(from, (i + 1) * step);
        Span& span = out[static_cast<std::size_t>(i)];
        span.first = static_cast<int>(begin);
        span.last = std::max(span.first, static_cast<int>(std::ceil(end)) - 1);
        span.first_share = static_cast<float>(std::min<double>(span.first + 1, end) - begin);
        span.last_share = span.last == span.first ? 0.0F : static_cast<float>(end - span.last);
    }
    return out;
}

// Takes source rows from the top down and gives the smaller picture.
class AreaShrinker {
public:
    AreaShrinker(SizePx from, SizePx to, int channels)
        : columns_(spans(from.width_px, to.width_px)),
          rows_(spans(from.height_px, to.height_px)),
          out_(to.width_px, to.height_px, channels),
          narrow_(out_.row_samples()),
          sum_(out_.row_samples()),
          per_area_(static_cast<float>(static_cast<double>(to.width_px) * to.height_px /
                                       (static_cast<double>(from.width_px) * from.height_px))) {}

    void push(const std::uint8_t* row) {
        narrow(row);
        const Span& span = rows_[static_cast<std::size_t>(target_)];
        add(source_ == span.first ? span.first_share : source_ == span.last ? span.last_share : 1.0F);
        if (source_ == span.last) finish_row();
        ++source_;
    }
    [[nodiscard]] Raster8 take() { return std::move(out_); }

private:
    void narrow(const std::uint8_t* row) {
        const auto& light = linear_light().from_srgb8;
        const int channels = out_.channels();
        float* to = narrow_.data();
        for (const Span& span : columns_)
            for (int c = 0; c < channels; ++c) {
                const auto value = [&](int x) { return static_cast<float>(light[row[x * channels + c]]); };
                float sum = value(span.first) * span.first_share;
                for (int x = span.first + 1; x < span.last; ++x) sum += value(x);
                *to++ = span.last == span.first ? sum : sum + value(span.last) * span.last_share;
            }
    }

    void add(float share) {
        for (std::size_t i = 0; i < sum_.size(); ++i) sum_[i] += share * narrow_[i];
    }

    // A source row that two smaller rows share is added to both.
    void finish_row() {
        const auto& srgb = linear_light().to_srgb8;
        std::uint8_t* to = out_.row(target_);
        for (float& sum : sum_) {
            *to++ = srgb[static_cast<std::size_t>(std::clamp(std::lround(sum * per_area_), 0L, 65535L))];
            sum = 0.0F;
        }
        if (++target_ == out_.height_px()) return;
        const Span& next = rows_[static_cast<std::size_t>(target_)];
        if (next.first == source_) add(next.first_share);
    }

    std::vector<Span> columns_;
    std::vector<Span> rows_;
    Raster8 out_;
    std::vector<float> narrow_;
    std::vector<float> sum_;
    float per_area_;
    int source_ = 0;
    int target_ = 0;
};

}  // namespace

SizePx fitted_size(SizePx size, int longest_side_px) {
    const int longest = std::max(size.width_px, size.height_px);
    if (longest <= longest_side_px) return size;
    const double scale = static_cast<double>(longest_side_px) / longest;
    return {std::max(1, static_cast<int>(std::lround(size.width_px * scale))),
            std::max(1, static_cast<int>(std::lround(size.height_px * scale)))};
}

Raster8 shrunk_to_fit(const Raster8& srgb, int longest_side_px) {
    const SizePx size = fitted_size(srgb.size(), longest_side_px);
    if (size == srgb.size()) return srgb;
    AreaShrinker shrinker(srgb.size(), size, srgb.channels());
    for (int y = 0; y < srgb.height_px(); ++y) shrinker.push(srgb.row(y));
    return shrinker.take();
}

Expected<Raster8> preview_of(const Picture& picture, int longest_side_px, const Progress& progress) {
    const auto rows = SrgbRows<std::uint8_t>::of(picture);
    if (!rows) return pass_on(rows);
    const SizePx from = picture.size();
    AreaShrinker shrinker(from, fitted_size(from, longest_side_px), 3);
    std::vector<std::uint8_t> room(static_cast<std::size_t>(from.width_px) * 3);
    for (int y = 0; y < from.height_px; ++y) {
        if (stopped_at_row(progress, y, from.height_px, "making a small picture")) return cancelled();
        shrinker.push(rows->row_or_copy(y, room.data()));
    }
    return shrinker.take();
}

}  // namespace tedge::imaging
