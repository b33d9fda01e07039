#include "crack_evidence.hpp"

#include <algorithm>
#include <cmath>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int rows_in_band = 32;
constexpr int block_px = 128;             // of the picture: some islands of craquelure
constexpr int least_block_px = 16;        // of a level
constexpr double texture_quantile = 0.8;  // of the depths in a block: cracks seldom cover more than a fifth
constexpr float over_texture = 3.4F;
constexpr float least_depth = 7.2F;  // 8-bit steps at level 0, on paint as light as `light_paint`
constexpr float coarser = 2.45F;     // so much more at each next level: brush strokes are wide, most cracks are not
constexpr float light_paint = 200.0F;

// A value at any place from values in the middles of blocks, linear between them.
class Grid {
public:
    Grid(int columns, int rows, int block)
        : columns_(columns),
          rows_(rows),
          block_(block),
          values_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows)) {}

    float& value(int column, int row) { return values_[index(column, row)]; }

    [[nodiscard]] float at(float x, float y) const {
        const auto [i, f] = between(x, columns_);
        const auto [j, g] = between(y, rows_);
        const int right = std::min(i + 1, columns_ - 1);
        const int below = std::min(j + 1, rows_ - 1);
        const float upper = (1 - f) * values_[index(i, j)] + f * values_[index(right, j)];
        const float lower = (1 - f) * values_[index(i, below)] + f * values_[index(right, below)];
        return (1 - g) * upper + g * lower;
    }

private:
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
    }
    [[nodiscard]] std::pair<int, float> between(float at, int count) const {
        const float place = std::clamp(at / static_cast<float>(block_) - 0.5F, 0.0F, static_cast<float>(count - 1));
        const int whole = static_cast<int>(place);
        return {whole, place - static_cast<float>(whole)};
    }

    int columns_;
    int rows_;
    int block_;
    std::vector<float> values_;
};

float quantile_of(std::vector<std::uint16_t>& values) {
    const auto nth =
        values.begin() + static_cast<std::ptrdiff_t>(static_cast<double>(values.size()) * texture_quantile);
    std::ranges::nth_element(values, nth);
    return static_cast<float>(*nth) / depth_units;
}

// How deep a line must be to count: more where the paint is rough, less where it is dark and little light is lost.
float asked_in_block(const Raster8& gray, const Raster16& depth, int left, int top, int block, float least) {
    std::vector<std::uint16_t> depths;
    double light = 0.0;
    for (int y = top; y < std::min(gray.height_px(), top + block); ++y)
        for (int x = left; x < std::min(gray.width_px(), left + block); ++x) {
            depths.push_back(depth.at(x, y));
            light += gray.at(x, y);
        }
    const float mean = static_cast<float>(light / static_cast<double>(depths.size()));
    return std::max(least * mean / light_paint, over_texture * quantile_of(depths));
}

Grid asked(const Raster8& gray, const Raster16& depth, int level, const Progress& progress) {
    const int block = std::max(least_block_px, block_px >> level);
    const int columns = (gray.width_px() + block - 1) / block;
    const int rows = (gray.height_px() + block - 1) / block;
    const float least = least_depth * std::pow(coarser, static_cast<float>(level));
    Grid out(columns, rows, block);
    for_each_index(
        rows, worker_count(0), [&] { return progress.stopped(); },
        [&](int row, int) {
            for (int column = 0; column < columns; ++column)
                out.value(column, row) = asked_in_block(gray, depth, column * block, row * block, block, least);
        });
    return out;
}

// One level laid over the picture.
class Level {
public:
    Level(const Raster16& depth, Grid asked, int level)
        : depth_(depth), asked_(std::move(asked)), scale_(1.0F / static_cast<float>(1 << level)) {}

    void raise(int y, Raster8& evidence) const {
        const auto [row, below, g] = between(y, depth_.height_px());
        const float v = place(y);
        const std::uint16_t* upper = depth_.row(row);
        const std::uint16_t* lower = depth_.row(below);
        for (int x = 0; x < evidence.width_px(); ++x) {
            const auto [column, right, f] = between(x, depth_.width_px());
            const float deep = (1 - g) * mix(upper, column, right, f) + g * mix(lower, column, right, f);
            if (deep < depth_units) continue;
            const float ratio = deep / depth_units / std::max(1.0F, asked_.at(place(x), v));
            const float value = std::min(255.0F, ratio * static_cast<float>(evidence_unit));
            std::uint8_t& here = evidence.at(x, y);
            here = std::max(here, static_cast<std::uint8_t>(value));
        }
    }

private:
    struct Between {
        int first = 0;
        int second = 0;
        float share = 0.0F;
    };
    [[nodiscard]] float place(int at) const { return (static_cast<float>(at) + 0.5F) * scale_ - 0.5F; }
    [[nodiscard]] Between between(int at, int count) const {
        const float here = std::clamp(place(at), 0.0F, static_cast<float>(count - 1));
        const int whole = static_cast<int>(here);
        return {whole, std::min(whole + 1, count - 1), here - static_cast<float>(whole)};
    }
    static float mix(const std::uint16_t* row, int first, int second, float share) {
        return (1 - share) * static_cast<float>(row[first]) + share * static_cast<float>(row[second]);
    }

    const Raster16& depth_;
    Grid asked_;
    float scale_;
};

}  // namespace

Expected<Raster8> crack_evidence(const LineLevels& levels, const Raster8* counted, const Progress& progress) {
    std::vector<Level> all;
    for (std::size_t i = 0; i < levels.depth.size(); ++i)
        all.emplace_back(levels.depth[i], asked(levels.gray[i], levels.depth[i], static_cast<int>(i), progress),
                         static_cast<int>(i));
    Raster8 out(levels.gray[0].width_px(), levels.gray[0].height_px(), 1);
    const int bands = (out.height_px() + rows_in_band - 1) / rows_in_band;
    for_each_index(
        bands, worker_count(0), [&] { return progress.stopped(); },
        [&](int band, int worker) {
            if (worker == 0) progress.at(static_cast<double>(band) / bands, "weighing cracks");
            for (int y = band * rows_in_band; y < std::min(out.height_px(), (band + 1) * rows_in_band); ++y) {
                for (const Level& level : all) level.raise(y, out);
                for (int x = 0; counted != nullptr && x < out.width_px(); ++x)
                    if (counted->at(x, y) == 0) out.at(x, y) = 0;
            }
        });
    if (progress.stopped()) return cancelled();
    return out;
}

}  // namespace tedge::imaging
