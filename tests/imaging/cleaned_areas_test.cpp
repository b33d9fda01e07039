// Made pairs: an invented painting under old varnish, with windows cleaned in the second photograph whose outlines are
// known by construction; another noise and another exposure in each photograph.
#include "tedge/imaging/cleaned_areas.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "../support/painted_pair.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/difference_regions.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{640, 480};
constexpr double mm_per_px = 0.5;  // a face of 320 × 240 mm

Placement placed() {
    Placement placement;
    placement.face_from_photo =
        Homography::from_row_major({mm_per_px, 0.01, 2.0, -0.01, mm_per_px, 3.0, 1e-5, 0, 1}).value();
    return placement;
}

// A window: corners around a middle, at distances that differ.
Region window(PointMm middle, double reach_mm, int corners, double unevenness, std::uint64_t seed) {
    std::vector<PointMm> points;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2.0 * std::numbers::pi * (i + 0.3 * counted(seed, i, 1)) / corners;
        const double reach = reach_mm * (1.0 - unevenness * counted(seed, i, 2));
        points.push_back({middle.x_mm + reach * std::cos(turn), middle.y_mm + reach * std::sin(turn)});
    }
    return Region::polygon(points).value();
}

std::vector<Region> ten_windows() {
    std::vector<Region> out;
    const double reaches[10] = {24, 14, 18, 13, 16, 20, 19, 16, 26, 15};
    const int corners[10] = {4, 4, 5, 24, 7, 4, 3, 24, 6, 8};
    for (int i = 0; i < 10; ++i)
        out.push_back(window({38.0 + 60.0 * (i % 5), 70.0 + 110.0 * (i / 5)}, reaches[i], corners[i],
                             corners[i] == 24 ? 0.0 : 0.3, static_cast<std::uint64_t>(i) + 5));
    return out;
}

// Less light on the sensor, before it is encoded.
void expose(Raster8& picture, double factor) {
    for (auto& sample : picture.samples())
        sample = static_cast<std::uint8_t>(
            std::lround(255.0 * srgb_encoded(std::min(1.0, factor * srgb_decoded(sample / 255.0)))));
}

struct MadePair {
    Raster8 before, after;
};

// Inside the windows the layer is gone but for a share.
MadePair made_pair(const std::vector<Region>& windows, std::uint64_t scene_seed, double left_over = 0.0,
                   double exposure = 0.93) {
    const PaintedScene scene{.seed = scene_seed, .stroke_px = 60.0};
    const auto left = [&](double t) { return std::pow(t, left_over); };
    Ageing thin = old_varnish;
    for (double& t : thin.transmittance) t = left(t);
    thin.haze *= left_over;
    MadePair out{photograph(scene, size, {}, old_varnish, 1), photograph(scene, size, {}, old_varnish, 2)};
    const Raster8 clean = photograph(scene, size, {}, thin, 3);
    for (const Region& each : windows) {
        const Raster8 mask = region_mask(each, placed(), size).value();
        for (int y = 0; y < size.height_px; ++y)
            for (int x = 0; x < size.width_px; ++x)
                if (mask.at(x, y) != 0) std::copy_n(&clean.at(x, y), 3, &out.after.at(x, y));
    }
    expose(out.after, exposure);
    return out;
}

double over_union(const Region& a, const Region& b) {
    return a.intersected(b).area_mm2() / a.united(b).area_mm2();
}

}  // namespace

TEST_CASE("ten cleaned windows are found with their outlines and areas") {
    const auto windows = ten_windows();
    const MadePair pair = made_pair(windows, 11);
    const auto found = find_cleaned_areas(pair.before, pair.after, placed()).value();
    REQUIRE(found.areas.size() == windows.size());
    double total = 0.0;
    for (const Region& truth : windows) {
        const auto best = std::ranges::max_element(
            found.areas, {}, [&](const CleanedArea& area) { return area.region.intersected(truth).area_mm2(); });
        const double iou = over_union(best->region, truth);
        const double area_error = best->area_cm2 / (truth.area_mm2() / 100.0) - 1.0;
        CAPTURE(truth.area_mm2() / 100.0, iou, area_error);
        CHECK(iou > 0.9);
        CHECK(std::abs(area_error) < 0.03);
        CHECK(best->delta_b < -2.0);
        total += truth.area_mm2() / 100.0;
    }
    CHECK(found.total_cm2 == Approx(total).epsilon(0.02));
    CHECK(std::ranges::is_sorted(found.areas, std::ranges::greater{}, &CleanedArea::area_cm2));
    CHECK(found.sentence.starts_with("10 cleaned areas, "));
}

TEST_CASE("a window cleaned to half the depth beside one cleaned to the ground") {
    const std::vector<Region> deep{window({100, 120}, 30, 4, 0.0, 1)}, half{window({220, 120}, 30, 4, 0.0, 1)};
    const MadePair first = made_pair(deep, 12), second = made_pair(half, 12, 0.6);
    MadePair both = first;
    for (int y = 0; y < size.height_px; ++y)
        std::copy(second.after.row(y) + 3 * (size.width_px / 2), second.after.row(y) + 3 * size.width_px,
                  both.after.row(y) + 3 * (size.width_px / 2));
    const auto found = find_cleaned_areas(both.before, both.after, placed()).value();
    REQUIRE(found.areas.size() == 2);
    for (const Region& truth : {deep[0], half[0]})
        CHECK(std::max(over_union(found.areas[0].region, truth), over_union(found.areas[1].region, truth)) > 0.93);
}

TEST_CASE("half of the picture cleaned") {
    const Region half = Region::rectangle({-50, -50}, {200, 450}).value();
    const MadePair pair = made_pair({half}, 13);
    const auto found = find_cleaned_areas(pair.before, pair.after, placed()).value();
    REQUIRE(found.areas.size() == 1);
    const Region shown = Region::rectangle({20, 20}, {270, 200}).value();  // well inside the photograph
    CHECK(over_union(found.areas[0].region.intersected(shown), half.intersected(shown)) > 0.97);
}

namespace {

// The photograph on the face.
double shown_cm2() {
    std::vector<PointMm> corners;
    const double right = size.width_px - 0.5, bottom = size.height_px - 0.5;
    for (const PointPx corner : {PointPx{-0.5, -0.5}, {right, -0.5}, {right, bottom}, {-0.5, bottom}})
        corners.push_back(placed().to_face(corner));
    return Region::polygon(corners).value().area_mm2() / 100.0;
}

const Region everywhere = Region::rectangle({-50, -50}, {900, 900}).value();

}  // namespace

TEST_CASE("cleaned all over: with charts the whole area, without them why it is not told") {
    const MadePair pair = made_pair({everywhere}, 15, 0.0, 1.0);
    CleanedAreasWanted charted;
    charted.floor_delta_e00 = 2.0;
    const auto found = find_cleaned_areas(pair.before, pair.after, placed(), charted).value();
    CHECK(found.all_over);
    CHECK(found.total_cm2 == Approx(shown_cm2()).epsilon(0.01));
    REQUIRE(found.areas.size() == 1);
    CHECK(found.areas[0].delta_b < -2.0);
    CHECK(found.sentence.starts_with("Cleaned all over, "));
    const auto uncharted = find_cleaned_areas(pair.before, pair.after, placed()).value();
    CHECK_FALSE(uncharted.all_over);
    CHECK(uncharted.sentence.find("cleaned all over, or photographed in another exposure") != std::string::npos);

    // Only what counts is told.
    Raster8 counted(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y) std::fill_n(counted.row(y), size.width_px / 2, std::uint8_t{255});
    charted.counted = &counted;
    CHECK(find_cleaned_areas(pair.before, pair.after, placed(), charted).value().total_cm2 ==
          Approx(shown_cm2() / 2).epsilon(0.03));
}

TEST_CASE("charts do not turn windows, or nothing, into a picture cleaned all over") {
    CleanedAreasWanted charted;
    charted.floor_delta_e00 = 2.0;
    const MadePair windows = made_pair(ten_windows(), 11, 0.0, 1.0);
    const auto ten = find_cleaned_areas(windows.before, windows.after, placed(), charted).value();
    CHECK(ten.areas.size() == 10);
    CHECK_FALSE(ten.all_over);
    const MadePair same = made_pair({}, 16, 0.0, 1.0);
    const auto none = find_cleaned_areas(same.before, same.after, placed(), charted).value();
    CHECK(none.areas.empty());
    CHECK(none.sentence.starts_with("No area stands out"));
    CHECK(none.sentence.find("all the same") == std::string::npos);
    // Varnished: darker and yellower all over.
    const MadePair cleaned = made_pair({everywhere}, 15, 0.0, 1.0);
    CHECK(find_cleaned_areas(cleaned.after, cleaned.before, placed(), charted).value().areas.empty());
}

TEST_CASE("where nothing was cleaned nothing is found, and what does not count is not looked at") {
    const MadePair same = made_pair({}, 14);
    const auto none = find_cleaned_areas(same.before, same.after, placed()).value();
    CHECK(none.areas.empty());
    CHECK(none.total_cm2 == 0.0);
    CHECK(none.sentence.starts_with("No area stands out"));
    // Made darker and yellower: the same pair the other way round is no cleaning.
    const MadePair pair = made_pair({window({100, 120}, 30, 4, 0.0, 1)}, 14, 0.0, 1.0);
    CHECK(find_cleaned_areas(pair.after, pair.before, placed()).value().areas.empty());
    Raster8 counted(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y) std::fill_n(counted.row(y) + 400, size.width_px - 400, std::uint8_t{255});
    CHECK(find_cleaned_areas(pair.before, pair.after, placed(), {.counted = &counted}).value().areas.empty());
    const Raster8 gate(4, 4, 1);
    CHECK(find_cleaned_areas(pair.before, pair.after, placed(), {.counted = &gate}).error().code ==
          "colour-difference.gate-differs");
    std::stop_source stop;
    stop.request_stop();
    CHECK(find_cleaned_areas(pair.before, pair.after, placed(), {}, Progress(stop.get_token(), {})).error().code ==
          "cancelled");
}
