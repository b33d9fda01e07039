#include "crack_islands.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace tedge::imaging {
namespace {

constexpr std::uint32_t no_region = 0xffffffffU;

struct Run {
    int from = 0;  // first pixel
    int past = 0;  // one past the last
    std::uint32_t region = 0;
};

class Regions {
public:
    Regions(const Raster8& lines, const Raster8* counted) : lines_(lines), counted_(counted) {
        for (int y = 0; y < lines.height_px(); ++y) {
            rows_.push_back(runs_.size());
            add_row(y);
        }
        rows_.push_back(runs_.size());
        for (int y = 0; y < lines.height_px(); ++y) share_lines(y);
    }

    std::vector<double> closed() {
        std::vector<double> out;
        for (std::uint32_t i = 0; i < parent_.size(); ++i)
            if (parent_[i] == i && !open_[i]) out.push_back(area_[i]);
        return out;
    }

private:
    [[nodiscard]] bool looked_at(int x, int y) const { return counted_ == nullptr || counted_->at(x, y) != 0; }

    void add_row(int y) {
        const int width = lines_.width_px();
        for (int x = 0; x < width;) {
            if (lines_.at(x, y) != 0) {
                ++x;
                continue;
            }
            Run run{x, x, new_region()};
            bool open = y == 0 || y + 1 == lines_.height_px() || x == 0;
            for (; run.past < width && lines_.at(run.past, y) == 0; ++run.past) open = open || !looked_at(run.past, y);
            x = run.past;
            area_[run.region] = run.past - run.from;
            open_[run.region] = open || x == width;
            join_above(run, y);
            runs_.push_back(run);
        }
    }

    std::uint32_t new_region() {
        const auto index = static_cast<std::uint32_t>(parent_.size());
        parent_.push_back(index);
        area_.push_back(0.0);
        open_.push_back(false);
        return index;
    }

    std::uint32_t root(std::uint32_t i) {
        while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
        return i;
    }

    void join_above(const Run& run, int y) {
        if (y == 0) return;
        const auto row = static_cast<std::size_t>(y);
        for (std::size_t i = rows_[row - 1]; i < rows_[row] && runs_[i].from < run.past; ++i)
            if (runs_[i].past > run.from) join(runs_[i].region, run.region);
    }

    // The earlier one stays, so that regions keep the order of rows.
    void join(std::uint32_t a, std::uint32_t b) {
        a = root(a);
        b = root(b);
        if (a == b) return;
        if (a > b) std::swap(a, b);
        parent_[b] = a;
        area_[a] += area_[b];
        open_[a] = open_[a] || open_[b];
    }

    std::uint32_t region_at(int x, int y) {
        if (x < 0 || y < 0 || x >= lines_.width_px() || y >= lines_.height_px()) return no_region;
        const auto row = static_cast<std::size_t>(y);
        const auto first = runs_.begin() + static_cast<std::ptrdiff_t>(rows_[row]);
        const auto last = runs_.begin() + static_cast<std::ptrdiff_t>(rows_[row + 1]);
        const auto run = std::upper_bound(first, last, x, [](int at, const Run& one) { return at < one.past; });
        return run != last && run->from <= x ? root(run->region) : no_region;
    }

    void share_lines(int y) {
        for (int x = 0; x < lines_.width_px(); ++x) {
            if (lines_.at(x, y) == 0) continue;
            std::array<std::uint32_t, 4> beside{region_at(x - 1, y), region_at(x + 1, y), region_at(x, y - 1),
                                                region_at(x, y + 1)};
            std::ranges::sort(beside);
            const auto last = std::unique(beside.begin(), std::ranges::find(beside, no_region));
            for (auto one = beside.begin(); one != last; ++one)
                area_[*one] += 1.0 / static_cast<double>(last - beside.begin());
        }
    }

    const Raster8& lines_;
    const Raster8* counted_;
    std::vector<Run> runs_;
    std::vector<std::size_t> rows_;  // where each row's runs begin
    std::vector<std::uint32_t> parent_;
    std::vector<double> area_;
    std::vector<bool> open_;
};

}  // namespace

std::vector<double> closed_areas_px2(const Raster8& lines, const Raster8* counted) {
    return Regions(lines, counted).closed();
}

}  // namespace tedge::imaging
