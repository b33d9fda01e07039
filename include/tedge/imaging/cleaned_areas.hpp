// Where a painting was cleaned between two registered photographs, found from the photographs alone.
//
// A layer of dirt or varnish takes a share of the light and scatters some, nearly the same whatever paint lies under
// it: light after = gain · light before + offset, for each of red, green and blue. (CIELAB says less: the same layer
// changes light paint much and dark paint little, or the other way.) Steps:
//  1. a first look at how much more light comes back from the lightest paint around: the mean logarithm of its ratio in
//     red, green, and twice blue, for what goes is dark and yellow. Two classes by the threshold of Otsu (IEEE
//     Transactions on Systems, Man and Cybernetics 9(1), 1979; from memory); the rest is the lower one where both stand
//     four of its deviations apart, otherwise all;
//  2. gain and offset fitted inside and outside what was found, and at every pixel, by least squares in a small window,
//     the share that turns the one into the other: 0 not cleaned, 1 cleaned. What lies six deviations above the rest
//     was cleaned; three times over. Where the share of the rest deviates by more than an eighth, nothing stands apart;
//  3. the outline, drawn where the share is half way between the level inside near there and that outside, for no two
//     windows are cleaned to the same depth; it is the level line, to a fraction of a pixel.
// What became darker or yellower is no cleaning. Tuned on made pictures.
//
// All this compares a place with its surroundings, so a picture cleaned all over stands out nowhere. Therefore what is
// taken for the rest is held against the earlier photograph as well, by the mean of its light. Where both pictures were
// brought to true colours by their charts, a rest that changed by more than the floor, on most of its squares, as
// cleaning changes it, was cleaned too: all of it is one area. Without charts a lamp turned up looks the same, and that
// is said instead.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct CleanedAreasWanted {
    // 1 channel, the size of the pictures: 0 where nothing can be said (beyond one of them, glare). Null: everywhere.
    const Raster8* counted = nullptr;
    double least_cm2 = 0.25;     // smaller patches are not told
    double least_change = 0.03;  // of the log ratio: 3 % more light
    // Both pictures were corrected by the charts in them, and changes below this are no evidence. Left out: they were
    // not.
    std::optional<double> floor_delta_e00{};
};

struct CleanedArea {
    Region region;  // on the face
    double area_cm2 = 0.0;
    double delta_l = 0.0;  // mean change of L* and b* inside
    double delta_b = 0.0;
};

struct CleanedAreas {
    std::vector<CleanedArea> areas{};  // largest first
    double total_cm2 = 0.0;
    bool all_over = false;   // all that counts was cleaned: the areas are what counts
    std::string sentence{};  // what was found, or why nothing was
};

// `before` and `after` are sRGB, registered; the placement is of their pixels. Some 1,500 px a side are enough: the
// ratio is averaged over about six pixels. Errors: colour-difference.sizes-differ, .not-colour, .empty, .gate-differs,
// cancelled.
[[nodiscard]] Expected<CleanedAreas> find_cleaned_areas(const Raster8& before, const Raster8& after,
                                                        const Placement& face_from_map,
                                                        const CleanedAreasWanted& wanted = {},
                                                        const Progress& progress = {});

}  // namespace tedge::imaging
