// Exact percentiles without sorting all pixels: a histogram finds the narrow band each rank lies in, and that band
// alone is sorted.
#include <algorithm>
#include <cmath>
#include <vector>

#include "tedge/imaging/colour_difference.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t bins = 16384;
constexpr float bins_per_unit = 100.0F;  // the last bin takes all that is larger

std::size_t bin_of(float value) {
    if (!(value > 0.0F)) return 0;
    return static_cast<std::size_t>(std::min(value * bins_per_unit, static_cast<float>(bins - 1)));
}

// Calls `use` with every value that counts.
template <class Use>
void each_counted(const RasterF& map, const Raster8* counted, const Use& use) {
    const auto values = map.samples();
    for (std::size_t i = 0; i < values.size(); ++i)
        if (counted == nullptr || counted->samples()[i] != 0) use(values[i]);
}

struct Tally {
    std::vector<std::size_t> histogram = std::vector<std::size_t>(bins);
    std::size_t pixels = 0;
    double sum = 0.0;
    float largest = 0.0F;
};

Tally tallied(const RasterF& map, const Raster8* counted) {
    Tally tally;
    each_counted(map, counted, [&tally](float value) {
        ++tally.histogram[bin_of(value)];
        ++tally.pixels;
        tally.sum += static_cast<double>(value);
        tally.largest = std::max(tally.largest, value);
    });
    return tally;
}

class Ranks {
public:
    Ranks(const RasterF& map, const Raster8* counted, const Tally& tally)
        : map_(&map), counted_(counted), tally_(&tally) {}

    [[nodiscard]] double percentile(double share) const {
        const double rank = share * static_cast<double>(tally_->pixels - 1);
        const auto below = static_cast<std::size_t>(rank);
        const double low = value_at(below);
        const double part = rank - static_cast<double>(below);
        return part > 0.0 ? low + part * (value_at(below + 1) - low) : low;
    }

private:
    [[nodiscard]] double value_at(std::size_t rank) const {
        std::size_t bin = 0, before = 0;
        while (before + tally_->histogram[bin] <= rank) before += tally_->histogram[bin++];
        std::vector<float> band;
        band.reserve(tally_->histogram[bin]);
        each_counted(*map_, counted_, [&](float value) {
            if (bin_of(value) == bin) band.push_back(value);
        });
        const auto at = band.begin() + static_cast<std::ptrdiff_t>(rank - before);
        std::nth_element(band.begin(), at, band.end());
        return static_cast<double>(*at);
    }

    const RasterF* map_;
    const Raster8* counted_;
    const Tally* tally_;
};

}  // namespace

std::optional<DifferenceStatistics> statistics_of(const RasterF& map, const Raster8* counted) {
    const Tally tally = tallied(map, counted);
    if (tally.pixels == 0) return std::nullopt;
    const Ranks ranks(map, counted, tally);
    return DifferenceStatistics{tally.sum / static_cast<double>(tally.pixels), ranks.percentile(0.5),
                                ranks.percentile(0.95), static_cast<double>(tally.largest), tally.pixels};
}

}  // namespace tedge::imaging
