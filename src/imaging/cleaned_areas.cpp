#include "tedge/imaging/cleaned_areas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "cleaning_strength.hpp"
#include "iso_outline.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_regions.hpp"

namespace tedge::imaging {
namespace {

constexpr double level_reach_px = 8.0;  // how far around the level inside and outside is taken from
constexpr float nothing = -1.0F;

// The field averaged with these weights around every pixel; `otherwise` where there is none within reach.
cv::Mat level_near(const cv::Mat& field, const cv::Mat& weights, float otherwise) {
    cv::Mat known = field.clone();
    cv::Mat weight = weights.clone();
    const cv::Mat unknown = field != field;
    known.setTo(0.0, unknown);
    weight.setTo(0.0, unknown);
    const cv::Mat total = averaged_around(weight, level_reach_px);
    cv::Mat level;
    cv::divide(averaged_around(known.mul(weight), level_reach_px), total, level);
    level.setTo(otherwise, total < 1e-4);
    return level;
}

// Heavier the further from the edge, so that the slope of the edge itself hardly counts, and never nothing.
cv::Mat depth_weights(const cv::Mat& mask) {
    cv::Mat distance;
    cv::distanceTransform(mask, distance, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    cv::min(distance, level_reach_px, distance);
    return distance.mul(distance);
}

// Positive where it was cleaned: how far the share is above half way between inside and outside.
RasterF cleaned_field(const CleaningStrength& strength) {
    cv::Mat outside, near;
    cv::bitwise_not(strength.cleaned, outside);
    const cv::Mat half_way = 0.5 * (level_near(strength.share, depth_weights(strength.cleaned), 1.0F) +
                                    level_near(strength.share, depth_weights(outside), 0.0F));
    cv::dilate(strength.cleaned, near, cv::getStructuringElement(cv::MORPH_ELLIPSE, {11, 11}));
    RasterF out(half_way.cols, half_way.rows, 1);
    for (int y = 0; y < half_way.rows; ++y)
        for (int x = 0; x < half_way.cols; ++x) {
            const float above = strength.share.at<float>(y, x) - half_way.at<float>(y, x);
            out.at(x, y) = near.at<std::uint8_t>(y, x) != 0 && above == above ? above : nothing;
        }
    return out;
}

// What the differences say of one area.
struct Maps {
    RasterF delta_l;
    RasterF delta_b;
};

Expected<CleanedArea> described(Region region, const Maps& maps, const Placement& face_from_map) {
    const auto mask = region_mask(region, face_from_map, maps.delta_l.size());
    if (!mask) return pass_on(mask);
    CleanedArea out{.region = std::move(region)};
    out.area_cm2 = out.region.area_mm2() / 100.0;
    if (const auto l = statistics_of(maps.delta_l, &*mask)) out.delta_l = l->mean;
    if (const auto b = statistics_of(maps.delta_b, &*mask)) out.delta_b = b->mean;
    return out;
}

// Where windows became darker, the rest alone stands above them, unchanged.
bool became_cleaner(const CleanedArea& area) {
    constexpr double least_difference = 1.0;
    return std::hypot(area.delta_l, area.delta_b) >= least_difference && (area.delta_l > 0.0 || area.delta_b < 0.0);
}

std::string told(const CleanedAreas& found) {
    if (found.areas.empty())
        return "No area stands out as cleaned: nothing became lighter and less yellow than the rest by more than the "
               "rest differs from itself.";
    return fmt::format("{} cleaned area{}, {} cm² in all.", found.areas.size(), found.areas.size() == 1 ? "" : "s",
                       format_fixed(found.total_cm2, 1));
}

}  // namespace

Expected<CleanedAreas> find_cleaned_areas(const Raster8& before, const Raster8& after, const Placement& face_from_map,
                                          const CleanedAreasWanted& wanted, const Progress& progress) {
    auto delta_l = difference_map(before, after, DifferenceKind::delta_l, 0, progress.part(0.0, 0.2));
    if (!delta_l) return pass_on(delta_l);
    auto delta_b = difference_map(before, after, DifferenceKind::delta_b, 0, progress.part(0.2, 0.4));
    if (!delta_b) return pass_on(delta_b);
    if (wanted.counted != nullptr && !(wanted.counted->size() == before.size()))
        return fail("colour-difference.gate-differs", "The gate has another size than the pictures.",
                    "Make it for these pictures.");
    const auto strength =
        cleaning_strength(before, after, wanted.counted, wanted.least_change, progress.part(0.4, 0.9));
    if (!strength) return pass_on(strength);
    CleanedAreas out;
    if (strength->found) {
        const Maps maps{*std::move(delta_l), *std::move(delta_b)};
        for (const Region& region : outlined_regions(cleaned_field(*strength), 0.0F, 100.0 * wanted.least_cm2,
                                                     [&](PointPx pixel) { return face_from_map.to_face(pixel); })) {
            if (progress.stopped()) return cancelled();
            auto area = described(region, maps, face_from_map);
            if (!area) return pass_on(area);
            if (!became_cleaner(*area)) continue;
            out.total_cm2 += area->area_cm2;
            out.areas.push_back(*std::move(area));
        }
    }
    out.sentence = told(out);
    progress.at(1.0, "looking for cleaned areas");
    return out;
}

}  // namespace tedge::imaging
