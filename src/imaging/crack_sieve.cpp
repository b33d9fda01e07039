#include "crack_sieve.hpp"

#include <algorithm>
#include <cmath>

#include "crack_evidence.hpp"
#include "thinning.hpp"

namespace tedge::imaging {
namespace {

constexpr double carried = 0.62;        // of what is asked: enough beside a surer pixel
constexpr std::size_t least_sure = 5;   // pixels that reach what is asked
constexpr double least_extent_px = 20;  // of a mask that is thinned at all
constexpr int rounds = 3;
constexpr double spur_px = 5;         // of thinning, not of cracking
constexpr double mean_asked = 0.92;   // along a path, of what is asked of a sure pixel
constexpr double short_asked = 1.18;  // more than that of the shortest
constexpr double long_px = 43;        // a path so long needs no more than the mean
constexpr double between_two = 0.46;  // of the mean, where a path joins others at both ends
constexpr double weight_asked = 91;   // extent times mean evidence of a network

// A set of pixels that touch, by side or corner.
struct Network {
    std::vector<PixelXY> pixels;
    PixelXY least;
    PixelXY most;

    [[nodiscard]] double extent_px() const { return std::hypot(most.x - least.x, most.y - least.y); }
};

// Every network of pixels of at least a value, one after another.
class Networks {
public:
    Networks(const Raster8& values, std::uint8_t least)
        : values_(values), least_(least), seen_(values.width_px(), values.height_px(), 1) {}

    [[nodiscard]] bool starts_at(PixelXY at) const {
        return values_.at(at.x, at.y) >= least_ && seen_.at(at.x, at.y) == 0;
    }

    template <class Act>
    void each(const Act& act) {
        for (int y = 0; y < values_.height_px(); ++y)
            for (int x = 0; x < values_.width_px(); ++x)
                if (starts_at({x, y})) act(from({x, y}));
    }

private:
    Network from(PixelXY start) {
        Network out{{start}, start, start};
        seen_.at(start.x, start.y) = 1;
        for (std::size_t next = 0; next < out.pixels.size(); ++next) {
            const PixelXY here = out.pixels[next];
            out.least = {std::min(out.least.x, here.x), std::min(out.least.y, here.y)};
            out.most = {std::max(out.most.x, here.x), std::max(out.most.y, here.y)};
            for (int y = std::max(0, here.y - 1); y <= std::min(seen_.height_px() - 1, here.y + 1); ++y)
                for (int x = std::max(0, here.x - 1); x <= std::min(seen_.width_px() - 1, here.x + 1); ++x)
                    if (starts_at({x, y})) {
                        seen_.at(x, y) = 1;
                        out.pixels.push_back({x, y});
                    }
        }
        return out;
    }

    const Raster8& values_;
    std::uint8_t least_;
    Raster8 seen_;
};

Raster8 carried_by_sure(const Raster8& evidence) {
    Raster8 mask(evidence.width_px(), evidence.height_px(), 1);
    const auto least = static_cast<std::uint8_t>(carried * evidence_unit);
    Networks(evidence, least).each([&](const Network& network) {
        const auto sure =
            std::ranges::count_if(network.pixels, [&](PixelXY at) { return evidence.at(at.x, at.y) >= evidence_unit; });
        if (static_cast<std::size_t>(sure) < least_sure || network.extent_px() < least_extent_px) return;
        for (const PixelXY at : network.pixels) mask.at(at.x, at.y) = 255;
    });
    return mask;
}

double mean_evidence(const Raster8& evidence, const std::vector<PixelXY>& pixels) {
    double sum = 0.0;
    for (const PixelXY at : pixels) sum += evidence.at(at.x, at.y);
    return sum / static_cast<double>(pixels.size()) / evidence_unit;
}

bool is_spur(const SkeletonPath& path, SizePx size) {
    return dangling(path, size) && !(path.free_start && path.free_end) &&
           static_cast<double>(path.pixels.size()) < spur_px;
}

bool is_weak(const SkeletonPath& path, const Raster8& evidence) {
    const auto length = static_cast<double>(path.pixels.size());
    if (length <= 2) return false;
    double need = mean_asked * (1.0 + short_asked * std::max(0.0, 1.0 - length / long_px));
    if (!dangling(path, evidence.size())) need *= between_two;
    return mean_evidence(evidence, path.pixels) < need;
}

// Spurs first; then, when the paths are whole, weak ones too.
void drop_paths(Raster8& mask, const Raster8& evidence, bool weak_too) {
    const auto paths = paths_of(mask);
    std::ranges::fill(mask.samples(), std::uint8_t{0});
    for (const SkeletonPath& path : paths) {
        if (is_spur(path, mask.size()) || (weak_too && is_weak(path, evidence))) continue;
        for (const PixelXY at : path.pixels) mask.at(at.x, at.y) = 255;
    }
    thin(mask);
}

void drop_networks(Raster8& mask, const Raster8& evidence, double least_length_px) {
    std::vector<Network> dropped;
    Networks(mask, 1).each([&](Network network) {
        const double extent = network.extent_px();
        if (extent < least_length_px || extent * mean_evidence(evidence, network.pixels) < weight_asked)
            dropped.push_back(std::move(network));
    });
    for (const Network& network : dropped)
        for (const PixelXY at : network.pixels) mask.at(at.x, at.y) = 0;
}

}  // namespace

Expected<std::vector<SkeletonPath>> sieved_paths(const Raster8& evidence, double least_length_px,
                                                 const Progress& progress) {
    progress.at(0.0, "following cracks");
    Raster8 mask = carried_by_sure(evidence);
    if (progress.stopped()) return cancelled();
    thin(mask);
    for (int round = 0; round < rounds; ++round) {
        if (progress.stopped()) return cancelled();
        progress.at(0.4 + 0.15 * round, "following cracks");
        drop_paths(mask, evidence, round > 0);
    }
    drop_networks(mask, evidence, least_length_px);
    return paths_of(mask);
}

}  // namespace tedge::imaging
