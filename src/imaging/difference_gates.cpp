#include "tedge/imaging/difference_gates.hpp"

#include <algorithm>
#include <cmath>

#include "burnt_out.hpp"
#include "tedge/imaging/registration_error.hpp"

namespace tedge::imaging {
namespace {

constexpr double standard_deviations = 2.0;
constexpr int farthest_reach_px = 8;  // a pair that fits worse than this has no edges left to compare
constexpr int glare_rim_px = 2;
constexpr int clearly_darker = 235;

struct GateWords {
    std::string_view word;
    std::string_view sentence;
};
constexpr std::array<GateWords, 5> gate_words{{{"counts", "it counts"},
                                               {"not_shown", "one of the two does not show the face there"},
                                               {"glare", "burnt out in one of the two: glare"},
                                               {"clipped", "burnt out in both"},
                                               {"misfit", "an edge lying beside itself could make the difference"}}};

NotCounted brightness_at(const std::uint8_t* first, const std::uint8_t* second) {
    const Extremes a = extremes(first), b = extremes(second);
    if (burnt_out(a) && burnt_out(b)) return NotCounted::clipped;
    if ((burnt_out(a) && b.least < clearly_darker) || (burnt_out(b) && a.least < clearly_darker))
        return NotCounted::glare;
    return NotCounted::counts;
}

// Glare spreads over its rim; a pixel with a reason of its own keeps it.
void spread_glare(Raster8& gated) {
    const Raster8 seeds = gated;
    constexpr auto glare = static_cast<std::uint8_t>(NotCounted::glare);
    for (int y = 0; y < seeds.height_px(); ++y)
        for (int x = 0; x < seeds.width_px(); ++x) {
            if (seeds.at(x, y) != glare) continue;
            for (int v = std::max(0, y - glare_rim_px); v <= std::min(seeds.height_px() - 1, y + glare_rim_px); ++v)
                for (int u = std::max(0, x - glare_rim_px); u <= std::min(seeds.width_px() - 1, x + glare_rim_px); ++u)
                    if (gated.at(u, v) == 0) gated.at(u, v) = glare;
        }
}

Raster8 by_brightness(const Raster8& first, const Raster8& second, const Raster8* shown) {
    Raster8 gated(first.width_px(), first.height_px(), 1);
    for (int y = 0; y < gated.height_px(); ++y)
        for (int x = 0; x < gated.width_px(); ++x) {
            const bool both = shown == nullptr || shown->at(x, y) != 0;
            gated.at(x, y) = static_cast<std::uint8_t>(both ? brightness_at(&first.at(x, y), &second.at(x, y))
                                                            : NotCounted::not_shown);
        }
    spread_glare(gated);
    return gated;
}

// The picture moved by one pixel to the left or up; the last column or row stays.
Raster8 moved_by_one(const Raster8& picture, bool down) {
    Raster8 out(picture.width_px(), picture.height_px(), picture.channels());
    for (int y = 0; y < out.height_px(); ++y) {
        const std::uint8_t* from = picture.row(down ? std::min(y + 1, out.height_px() - 1) : y);
        const std::size_t offset = down || out.width_px() == 1 ? 0 : 3;
        std::copy(from + offset, from + out.row_samples(), out.row(y));
        if (offset > 0)
            std::copy(from + out.row_samples() - 3, from + out.row_samples(), out.row(y) + out.row_samples() - 3);
    }
    return out;
}

// ΔE00 to the neighbour that differs most, into `steps` where it is more than what stands there.
Expected<void> add_steps(const Raster8& picture, RasterF& steps, const Progress& progress) {
    for (const bool down : {false, true}) {
        const auto map = difference_map(picture, moved_by_one(picture, down), DifferenceKind::delta_e00, 0, progress);
        if (!map) return pass_on(map);
        const int dx = down ? 0 : 1, dy = down ? 1 : 0;
        for (int y = 0; y < steps.height_px(); ++y)
            for (int x = 0; x < steps.width_px(); ++x) {
                const float before = x >= dx && y >= dy ? map->at(x - dx, y - dy) : 0.0F;
                steps.at(x, y) = std::max({steps.at(x, y), map->at(x, y), before});
            }
    }
    return {};
}

float largest_within(const RasterF& steps, int x, int y, int reach_px) {
    float most = 0.0F;
    for (int v = std::max(0, y - reach_px); v <= std::min(steps.height_px() - 1, y + reach_px); ++v)
        for (int u = std::max(0, x - reach_px); u <= std::min(steps.width_px() - 1, x + reach_px); ++u)
            most = std::max(most, steps.at(u, v));
    return most;
}

NotCounted fit_at(const DifferenceGates& gates, const RasterF& steps, float difference, int x, int y) {
    const double error = error_at(gates.error_px, gates.error_maps, {static_cast<double>(x), static_cast<double>(y)});
    if (error < 0.0) return NotCounted::not_shown;
    const double shift = standard_deviations * error;
    const int reach = std::clamp(static_cast<int>(std::ceil(shift)) - 1, 0, farthest_reach_px);
    const double misfit = shift * static_cast<double>(largest_within(steps, x, y, reach));
    return misfit > gates.floor_delta_e00 && misfit >= static_cast<double>(difference) ? NotCounted::misfit
                                                                                       : NotCounted::counts;
}

}  // namespace

std::string_view to_text(NotCounted reason) {
    return gate_words[static_cast<std::size_t>(reason)].word;
}

std::string_view sentence_of(NotCounted reason) {
    return gate_words[static_cast<std::size_t>(reason)].sentence;
}

Expected<Raster8> gate_differences(const Raster8& reference_srgb, const Raster8& registered_srgb,
                                   const RasterF& delta_e00, const DifferenceGates& gates, const Progress& progress) {
    if (!(registered_srgb.size() == reference_srgb.size()))
        return fail("colour-difference.sizes-differ", "The two pictures have different sizes.",
                    "Register the second one to the first, then compare.");
    if (!(delta_e00.size() == reference_srgb.size()) ||
        (gates.shown != nullptr && !(gates.shown->size() == reference_srgb.size())))
        return fail("colour-difference.gate-differs", "The gate has another size than the pictures.",
                    "Make it for these pictures.");
    RasterF steps(reference_srgb.width_px(), reference_srgb.height_px(), 1);
    if (auto done = add_steps(reference_srgb, steps, progress.part(0.0, 0.35)); !done) return pass_on(done);
    if (auto done = add_steps(registered_srgb, steps, progress.part(0.35, 0.7)); !done) return pass_on(done);
    Raster8 gated = by_brightness(reference_srgb, registered_srgb, gates.shown);
    for (int y = 0; y < gated.height_px(); ++y) {
        if (progress.stopped()) return cancelled();
        for (int x = 0; x < gated.width_px(); ++x)
            if (gated.at(x, y) == 0)
                gated.at(x, y) = static_cast<std::uint8_t>(fit_at(gates, steps, delta_e00.at(x, y), x, y));
    }
    progress.at(1.0, "leaving out glare and misfit");
    return gated;
}

Raster8 counted_of(const Raster8& gated) {
    Raster8 out(gated.width_px(), gated.height_px(), 1);
    std::ranges::transform(gated.samples(), out.samples().begin(),
                           [](std::uint8_t reason) { return reason == 0 ? std::uint8_t{255} : std::uint8_t{0}; });
    return out;
}

}  // namespace tedge::imaging
