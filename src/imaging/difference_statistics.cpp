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
    const Rank p50 = rank_of(0.5, tally.pixels), p95 = rank_of(0.95, tally.pixels);
    const std::size_t last = tally.pixels - 1;
    const Bands bands(map, counted, tally,
                      {p50.below, std::min(p50.below + 1, last), p95.below, std::min(p95.below + 1, last)});
    return DifferenceStatistics{tally.sum / static_cast<double>(tally.pixels), bands.at(p50), bands.at(p95),
                                static_cast<double>(tally.largest), tally.pixels};
}

}  // namespace tedge::imaging
