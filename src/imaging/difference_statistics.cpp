// Exact percentiles without sorting all pixels: a histogram finds the narrow band each rank lies in, and that band
// alone is sorted.
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "tedge/imaging/colour_difference.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t bins = 16384;
constexpr float bins_per_unit = 100.0F;
constexpr float zero_bin = bins / 2;  // the first and the last bin take all that is further away

std::size_t bin_of(float value) {
    return static_cast<std::size_t>(std::clamp(value * bins_per_unit + zero_bin, 0.0F, static_cast<float>(bins - 1)));
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
    float largest = -std::numeric_limits<float>::infinity();
    float smallest = std::numeric_limits<float>::infinity();
};

Tally tallied(const RasterF& map, const Raster8* counted) {
    Tally tally;
    each_counted(map, counted, [&tally](float value) {
        ++tally.histogram[bin_of(value)];
        ++tally.pixels;
        tally.sum += static_cast<double>(value);
        tally.largest = std::max(tally.largest, value);
        tally.smallest = std::min(tally.smallest, value);
    });
    return tally;
}

// A rank between two values: percentile = value(below) + part · (value(below + 1) − value(below)).
struct Rank {
    std::size_t below = 0;
    double part = 0.0;
};

Rank rank_of(double share, std::size_t pixels) {
    const double rank = share * static_cast<double>(pixels - 1);
    const auto below = static_cast<std::size_t>(rank);
    return {below, rank - static_cast<double>(below)};
}

// All values of the bins that the wanted ranks fall into, in order.
class Bands {
public:
    Bands(const RasterF& map, const Raster8* counted, const Tally& tally, const std::vector<std::size_t>& ranks)
        : tally_(&tally), bands_(bins) {
        std::vector<char> wanted(bins);
        for (const std::size_t rank : ranks) wanted[place_of(rank).bin] = 1;
        each_counted(map, counted, [&](float value) {
            const std::size_t bin = bin_of(value);
            if (wanted[bin] != 0) bands_[bin].push_back(value);
        });
        for (auto& band : bands_) std::ranges::sort(band);
    }

    [[nodiscard]] double at(const Rank& rank) const {
        const double low = value(rank.below);
        return rank.part > 0.0 ? low + rank.part * (value(rank.below + 1) - low) : low;
    }

private:
    struct Place {
        std::size_t bin = 0;
        std::size_t within = 0;
    };
    [[nodiscard]] Place place_of(std::size_t rank) const {
        std::size_t bin = 0, before = 0;
        while (before + tally_->histogram[bin] <= rank) before += tally_->histogram[bin++];
        return {bin, rank - before};
    }
    [[nodiscard]] double value(std::size_t rank) const {
        const Place place = place_of(rank);
        return static_cast<double>(bands_[place.bin][place.within]);
    }

    const Tally* tally_;
    std::vector<std::vector<float>> bands_;
};

}  // namespace

std::optional<DifferenceStatistics> statistics_of(const RasterF& map, const Raster8* counted) {
    const Tally tally = tallied(map, counted);
    if (tally.pixels == 0) return std::nullopt;
    const Rank p05 = rank_of(0.05, tally.pixels), p50 = rank_of(0.5, tally.pixels), p95 = rank_of(0.95, tally.pixels);
    std::vector<std::size_t> ranks;
    for (const Rank& rank : {p05, p50, p95})
        ranks.insert(ranks.end(), {rank.below, std::min(rank.below + 1, tally.pixels - 1)});
    const Bands bands(map, counted, tally, ranks);
    return DifferenceStatistics{.mean = tally.sum / static_cast<double>(tally.pixels),
                                .p50 = bands.at(p50),
                                .p95 = bands.at(p95),
                                .max = static_cast<double>(tally.largest),
                                .pixels = tally.pixels,
                                .p05 = bands.at(p05),
                                .min = static_cast<double>(tally.smallest)};
}

}  // namespace tedge::imaging
