#include "tedge/imaging/cleaned_areas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "cleaning_strength.hpp"
#include "iso_outline.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_regions.hpp"
#include "whole_change.hpp"

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

// What counts, 255 else 0.
Raster8 counted_or_all(const Raster8* counted, SizePx size) {
    Raster8 out(size.width_px, size.height_px, 1);
    std::ranges::fill(out.samples(), std::uint8_t{255});
    return counted == nullptr ? out : *counted;
}

// Where the windows end the layer is thinner than it was: their rim is taken for no part of the rest.
Expected<Raster8> rest_of(const Raster8& counted, const CleanedAreas& found, const Placement& face_from_map) {
    cv::Mat cleaned(counted.height_px(), counted.width_px(), CV_8U, cv::Scalar(0));
    for (const CleanedArea& area : found.areas) {
        const auto mask = region_mask(area.region, face_from_map, counted.size());
        if (!mask) return pass_on(mask);
        for (int y = 0; y < cleaned.rows; ++y)
            for (int x = 0; x < cleaned.cols; ++x)
                if (mask->at(x, y) != 0) cleaned.at<std::uint8_t>(y, x) = 255;
    }
    cv::dilate(cleaned, cleaned, cv::getStructuringElement(cv::MORPH_ELLIPSE, {11, 11}));
    Raster8 rest = counted;
    for (int y = 0; y < cleaned.rows; ++y)
        for (int x = 0; x < cleaned.cols; ++x)
            if (cleaned.at<std::uint8_t>(y, x) != 0) rest.at(x, y) = 0;
    return rest;
}

std::string how_it_changed(const WholeChange& change) {
    const double l = change.after.l - change.before.l, b = change.after.b - change.before.b;
    return fmt::format("ΔL* {}, Δb* {}, ΔE00 {} between the means", format_fixed(l, 1), format_fixed(b, 1),
                       format_fixed(change.delta_e00, 1));
}

std::string rest_told(const CleanedAreas& found, const WholeChange& change, bool charted) {
    const std::string what = found.areas.empty() ? "The whole" : "The rest";
    if (charted)
        return fmt::format(
            " {} changed as well ({}), but not everywhere alike: part of it may have been cleaned without an edge.",
            what, how_it_changed(change));
    return fmt::format(
        " {} became lighter or less yellow all the same ({}): it was cleaned all over, or photographed in another "
        "exposure or white balance. A chart measured in both photographs would tell.",
        what, how_it_changed(change));
}

// All that counts, as areas.
Expected<CleanedAreas> all_over(const Raster8& counted, const Maps& maps, const Placement& face_from_map,
                                double least_cm2) {
    RasterF field(counted.width_px(), counted.height_px(), 1);
    for (std::size_t i = 0; i < field.samples().size(); ++i)
        field.samples()[i] = counted.samples()[i] != 0 ? 1.0F : -1.0F;
    CleanedAreas out;
    out.all_over = true;
    for (Region& region : outlined_regions(field, 0.0F, 100.0 * least_cm2,
                                           [&](PointPx pixel) { return face_from_map.to_face(pixel); })) {
        auto area = described(std::move(region), maps, face_from_map);
        if (!area) return pass_on(area);
        out.total_cm2 += area->area_cm2;
        out.areas.push_back(*std::move(area));
    }
    return out;
}

// Holds what is taken for the rest against the earlier photograph.
Expected<CleanedAreas> rest_judged(CleanedAreas found, const Raster8& before, const Raster8& after, const Maps& maps,
                                   const Placement& face_from_map, const CleanedAreasWanted& wanted) {
    constexpr double uncharted_level = 2.0;  // ΔE00 that a person would see between the two, and ask about
    constexpr double most_squares = 0.75;
    found.sentence = told(found);
    const Raster8 counted = counted_or_all(wanted.counted, before.size());
    const auto rest = rest_of(counted, found, face_from_map);
    if (!rest) return pass_on(rest);
    const double level = wanted.floor_delta_e00.value_or(uncharted_level);
    const auto change = whole_change(before, after, *rest, level);
    if (!change || change->delta_e00 <= level || !change->is_as_cleaning()) return found;
    if (!wanted.floor_delta_e00 || change->share_above < most_squares) {
        found.sentence += rest_told(found, *change, wanted.floor_delta_e00.has_value());
        return found;
    }
    auto whole = all_over(counted, maps, face_from_map, wanted.least_cm2);
    if (whole)
        whole->sentence = fmt::format("Cleaned all over, {} cm²: nothing of it stayed as it was ({}).",
                                      format_fixed(whole->total_cm2, 1), how_it_changed(*change));
    return whole;
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
    const Maps maps{*std::move(delta_l), *std::move(delta_b)};
    CleanedAreas found;
    if (strength->found) {
        for (const Region& region : outlined_regions(cleaned_field(*strength), 0.0F, 100.0 * wanted.least_cm2,
                                                     [&](PointPx pixel) { return face_from_map.to_face(pixel); })) {
            if (progress.stopped()) return cancelled();
            auto area = described(region, maps, face_from_map);
            if (!area) return pass_on(area);
            if (!became_cleaner(*area)) continue;
            found.total_cm2 += area->area_cm2;
            found.areas.push_back(*std::move(area));
        }
    }
    auto judged = rest_judged(std::move(found), before, after, maps, face_from_map, wanted);
    progress.at(1.0, "looking for cleaned areas");
    return judged;
}

}  // namespace tedge::imaging
