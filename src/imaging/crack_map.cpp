#include "tedge/imaging/crack_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "crack_evidence.hpp"
#include "crack_finding.hpp"
#include "crack_profile.hpp"
#include "crack_response.hpp"
#include "crack_sieve.hpp"
#include "line_character.hpp"
#include "luminance.hpp"
#include "registration_workers.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

constexpr double narrowest_top_px = 3.5;  // as wide as a line may be for level 0
constexpr int most_levels = 5;
constexpr double surely_drawn = -0.5;

// Lines are dark in it, whatever they are in the picture.
Raster8 gray_of(const Raster8& srgb, CrackTone tone) {
    Raster8 out(srgb.width_px(), srgb.height_px(), 1);
    const auto step = static_cast<std::size_t>(srgb.channels());
    const auto from = srgb.samples();
    const auto to = out.samples();
    for (std::size_t i = 0; i < to.size(); ++i) {
        const std::uint8_t* pixel = &from[i * step];
        const int light = encoded_lightness(pixel, static_cast<int>(step));
        to[i] = static_cast<std::uint8_t>(tone == CrackTone::dark ? light : 255 - light);
    }
    return out;
}

int levels_for(double widest_px, SizePx size) {
    int levels = 1;
    for (double top = narrowest_top_px; top < widest_px && levels < most_levels; top *= 2) ++levels;
    // A level no wider than the detector has nothing to say.
    while (levels > 1 && (std::min(size.width_px, size.height_px) >> (levels - 1)) < 8) --levels;
    return levels;
}

// What is more surely drawing than crack goes; how much of all that looks like it, is told.
void drop_drawing(const Raster8& srgb, const Raster8& evidence, CrackMap& map) {
    const auto lines = line_characters(srgb, evidence, map);
    std::vector<Crack> kept;
    double all = 0.0, drawn = 0.0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const double score = rather_crack(lines[i]);
        all += map.cracks[i].length_px;
        if (score < 0.0) drawn += map.cracks[i].length_px;
        if (score >= surely_drawn) kept.push_back(std::move(map.cracks[i]));
    }
    map.cracks = std::move(kept);
    map.drawn_share = all > 0.0 ? drawn / all : 0.0;
}

Expected<void> check(const Raster8& srgb, const CrackOptions& options) {
    if (srgb.empty()) return fail("cracks.empty", "There is no pixel to look at.", "Choose a photograph.");
    if (srgb.channels() != 1 && srgb.channels() != 3)
        return fail("cracks.channels", "Cracks are looked for in grey or in colour, not in other channels.",
                    "Choose a photograph.");
    if (!(options.widest_px >= 4 && options.widest_px <= 60) || !(options.least_length_px >= 0))
        return fail("cracks.options", "The widest crack asked for lies outside 4 to 60 pixels.",
                    "Take the photograph at another scale, or ask for other widths.");
    if (options.counted != nullptr && (!(options.counted->size() == srgb.size()) || options.counted->channels() != 1))
        return fail("cracks.gate-differs", "The part to look at has another size than the picture.",
                    "Make it for this picture.");
    return {};
}

}  // namespace

Expected<FoundCracks> find_cracks(const Raster8& srgb, const CrackOptions& options, const Progress& progress) {
    if (const auto fine = check(srgb, options); !fine) return pass_on(fine);
    auto levels =
        line_levels(gray_of(srgb, options.tone), levels_for(options.widest_px, srgb.size()), progress.part(0.0, 0.6));
    if (!levels) return pass_on(levels);
    auto evidence = crack_evidence(*levels, options.counted, progress.part(0.6, 0.75));
    if (!evidence) return pass_on(evidence);
    const Raster8 gray = std::move(levels->gray.front());
    *levels = {};
    const auto paths = sieved_paths(*evidence, options.least_length_px, progress.part(0.75, 0.95));
    if (!paths) return pass_on(paths);
    FoundCracks out{{.size = srgb.size(), .cracks = std::vector<Crack>(paths->size())}, std::move(*evidence)};
    for_each_index(
        static_cast<int>(paths->size()), worker_count(0), [&] { return progress.stopped(); },
        [&](int index, int) {
            const auto i = static_cast<std::size_t>(index);
            out.map.cracks[i] = profiled(gray, (*paths)[i], options.widest_px);
        });
    if (progress.stopped()) return cancelled();
    drop_drawing(srgb, out.evidence, out.map);
    std::ranges::stable_sort(out.map.cracks, {}, [](const Crack& crack) {
        return std::pair(crack.pixels.front().at.y, crack.pixels.front().at.x);
    });
    progress.at(1.0, "following cracks");
    return out;
}

Expected<CrackMap> crack_map(const Raster8& srgb, const CrackOptions& options, const Progress& progress) {
    auto found = find_cracks(srgb, options, progress);
    if (!found) return pass_on(found);
    return std::move(found->map);
}

std::string drawing_sentence(double drawn_share) {
    if (drawn_share < much_drawn) return {};
    return fmt::format(
        "{} % of the lines found look rather like drawing or brushwork: the plainest of them were left out, but look "
        "at "
        "the map before its figures are used.",
        format_fixed(100.0 * drawn_share, 0));
}

Raster8 crack_lines(const CrackMap& map) {
    Raster8 out(map.size.width_px, map.size.height_px, 1);
    for (const Crack& crack : map.cracks)
        for (const CrackPixel& pixel : crack.pixels) out.at(pixel.at.x, pixel.at.y) = 255;
    return out;
}

}  // namespace tedge::imaging
