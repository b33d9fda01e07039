// The chart's place against made photographs whose homography is known, and on photographs where the tester has them.
#include "tedge/imaging/chart.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "../support/made_chart.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

double worst_corner_px(const ChartReading& reading, const MadeChart& made) {
    const ChartCorners truth = true_corners(made);
    double worst = 0.0;
    for (std::size_t i = 0; i < 4; ++i)
        worst = std::max(worst, std::hypot(reading.place.corners_px[i].x_px - truth[i].x_px,
                                           reading.place.corners_px[i].y_px - truth[i].y_px));
    return worst;
}

// Patch means against the colours it was made from, in linear light.
double worst_light(const ChartReading& reading, const MadeChart& made) {
    double worst = 0.0;
    for (std::size_t i = 0; i < chart_patches; ++i) {
        const auto truth = chart_light(made, static_cast<double>(i % 6), static_cast<double>(i / 6));
        const Rgb& mean = reading.patches[i].mean;
        worst = std::max({worst, std::abs(mean.r - std::max(0.0, truth[0])), std::abs(mean.g - std::max(0.0, truth[1])),
                          std::abs(mean.b - std::max(0.0, truth[2]))});
    }
    return worst;
}

}  // namespace

TEST_CASE("The chart is found at every turn, leaning, noisy and small") {
    struct Case {
        const char* name;
        SizePx size;
        double degrees, pitch_px, lean, noise, share;
    };
    const auto at = GENERATE(Case{"straight", {900, 700}, 0, 110, 0.0, 0.0, 0.876},
                             Case{"turned a little", {900, 700}, 7, 95, 0.01, 0.005, 0.876},
                             Case{"quarter turn", {800, 900}, 90, 100, 0.0, 0.005, 0.876},
                             Case{"upside down", {900, 700}, 183, 95, 0.015, 0.005, 0.9},
                             Case{"leaning", {900, 700}, -24, 85, 0.04, 0.005, 0.876},
                             Case{"small in the frame", {1600, 1100}, 12, 40, 0.01, 0.005, 0.876});
    MadeChart made{.size = at.size,
                   .photo_from_chart = chart_seen(at.size, at.degrees, at.pitch_px, at.lean),
                   .patch_share = at.share,
                   .noise = at.noise,
                   .exposure = 0.8};
    INFO(at.name);
    const auto reading = find_chart(photographed(made));
    INFO((reading ? std::string() : reading.error().message));
    REQUIRE(reading);
    CAPTURE(reading->place.misfit_px, reading->place.patches_found, reading->place.patch_share);
    CHECK(worst_corner_px(*reading, made) < 0.15);
    CHECK(reading->place.patch_share == Approx(at.share).margin(0.01));
    CHECK(worst_light(*reading, made) < 0.004);
    CHECK(reading->patches[0].clipped_share == 0.0);
}

TEST_CASE("Falling light and exposure do not move the chart") {
    MadeChart made{.photo_from_chart = chart_seen({900, 700}, 4, 100, 0.01), .noise = 0.003, .vignetting = 0.35};
    made.exposure = GENERATE(0.9, 0.3, 0.08);
    const auto reading = find_chart(photographed(made));
    REQUIRE(reading);
    CAPTURE(made.exposure);
    CHECK(worst_corner_px(*reading, made) < 0.2);
}

TEST_CASE("Four corners given by a person, in any order and a fifth of a patch off, give the same place") {
    MadeChart made{.photo_from_chart = chart_seen({900, 700}, 191, 95, 0.02), .noise = 0.005, .exposure = 0.8};
    const ChartPicture picture = photographed(made);
    ChartCorners corners = true_corners(made);
    std::swap(corners[0], corners[2]);
    std::swap(corners[1], corners[2]);
    for (std::size_t i = 0; i < 4; ++i) {
        corners[i].x_px += i % 2 == 0 ? 17 : -14;
        corners[i].y_px += i < 2 ? -15 : 18;
    }
    const auto reading = read_chart_at(picture, corners);
    REQUIRE(reading);
    CHECK(worst_corner_px(*reading, made) < 0.15);

    const auto elsewhere = read_chart_at(picture, {{{10, 10}, {120, 10}, {120, 90}, {10, 90}}});
    REQUIRE_FALSE(elsewhere);
    CHECK(elsewhere.error().code == "chart.corners");
}

TEST_CASE("A chart that lies whole in the picture is measured however close to its rim") {
    constexpr double pitch = 100.0;
    for (const double inside_px : {16.0, 6.0}) {
        MadeChart made{.exposure = 0.8};
        // The outer corner of the first patch that far from the upper left corner of the picture.
        const double first = inside_px + pitch * made.patch_share / 2;
        made.photo_from_chart = Homography::from_row_major({pitch, 0, first, 0, pitch, first, 0, 0, 1}).value();
        const ChartPicture picture = photographed(made);
        INFO(inside_px);
        const auto by_hand = read_chart_at(picture, true_corners(made));
        REQUIRE(by_hand);
        const auto found = find_chart(picture);
        REQUIRE(found);
        for (std::size_t i = 0; i < 4; ++i) {
            CHECK(found->place.corners_px[i].x_px == Approx(true_corners(made)[i].x_px).margin(0.3));
            CHECK(found->place.corners_px[i].y_px == Approx(true_corners(made)[i].y_px).margin(0.3));
        }
        // Cut by the rim, through the first column of patches, it is still told as that.
        made.photo_from_chart = Homography::from_row_major({pitch, 0, -5.0, 0, pitch, first, 0, 0, 1}).value();
        CHECK(read_chart_at(photographed(made), true_corners(made)).error().code == "chart.out-of-frame");
    }
}

TEST_CASE("What cannot be measured is refused in a sentence") {
    MadeChart made{.photo_from_chart = chart_seen({900, 700}, 0, 100, 0.0), .exposure = 0.8};
    SECTION("overexposed") {
        made.exposure = 1.25;
        const auto reading = find_chart(photographed(made));
        REQUIRE_FALSE(reading);
        CHECK(reading.error().code == "chart.white-clipped");
    }
    SECTION("half out of the frame") {
        made.photo_from_chart = chart_seen({900, 700}, 0, 100, 0.0, 420.0);
        const auto reading = find_chart(photographed(made));
        REQUIRE_FALSE(reading);
        CHECK((reading.error().code == "chart.out-of-frame" || reading.error().code == "chart.not-found"));
        const auto by_hand = read_chart_at(photographed(made), true_corners(made));
        REQUIRE_FALSE(by_hand);
        CHECK(by_hand.error().code == "chart.out-of-frame");
    }
    SECTION("a wall") {
        ChartPicture wall{.linear = Raster16(600, 400, 3)};
        for (auto& sample : wall.linear.samples()) sample = 21000;
        CHECK(find_chart(wall).error().code == "chart.not-found");
    }
    SECTION("black") {
        CHECK(find_chart({.linear = Raster16(600, 400, 3)}).error().code == "chart.not-found");
    }
    SECTION("one pixel") {
        CHECK(find_chart({.linear = Raster16(1, 1, 3)}).error().code == "chart.not-found");
    }
    SECTION("a painting") {
        const PaintedScene scene;
        const Raster8 seen = photograph(scene, {900, 700}, KnownMove{}, Ageing{}, 3);
        ChartPicture painting{.linear = Raster16(900, 700, 3)};
        for (std::size_t i = 0; i < seen.samples().size(); ++i)
            painting.linear.samples()[i] =
                static_cast<std::uint16_t>(srgb_decoded(seen.samples()[i] / 255.0) * 65535.0);
        CHECK(find_chart(painting).error().code == "chart.not-found");
    }
    SECTION("mirrored") {
        ChartPicture picture = photographed(made);
        for (int y = 0; y < 700; ++y)
            for (int x = 0; x < 450; ++x)
                for (int c = 0; c < 3; ++c) std::swap(picture.linear.at(x, y, c), picture.linear.at(899 - x, y, c));
        const auto reading = find_chart(picture);
        REQUIRE_FALSE(reading);
        CHECK(reading.error().code == "chart.not-found");
    }
}

// Photographs that are not part of the project: TEDGE_TEST_PHOTOS names their folder.
TEST_CASE("The chart is found in real photographs", "[photos]") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) {
        WARN("TEDGE_TEST_PHOTOS is not set: no real chart was looked for");
        return;
    }
    const std::filesystem::path photos(folder);
    for (const char* name : {"chart24_in_scene_1024x768.jpg", "chart24_passport_2879x1294.jpg"}) {
        INFO(name);
        const auto picture = chart_picture(read_picture(photos / "charts" / name).value());
        REQUIRE(picture);
        const auto reading = find_chart(*picture);
        INFO((reading ? std::string() : reading.error().code));
        REQUIRE(reading);
        CAPTURE(reading->place.misfit_px, reading->place.patches_found, reading->place.patch_px);
        CHECK(reading->place.misfit_px < 0.02 * reading->place.patch_px);
    }
    // Centres as read by eye from the developed picture, within some pixels.
    const auto raw =
        read_picture(photos / "raw" / "colorchart_canon_kissx4_24patch.dng", {.raw = RawRendering::camera_linear});
    REQUIRE(raw);
    const auto reading = find_chart(chart_picture(*raw).value());
    INFO((reading ? std::string() : reading.error().code));
    REQUIRE(reading);
    const std::array<double, 6> first_x{712, 822, 930, 1035, 1144, 1253};
    const std::array<double, 6> last_x{703, 813, 925, 1035, 1146, 1256};
    for (std::size_t i = 0; i < 6; ++i) {
        const auto top = reading->place.photo_from_chart.apply(static_cast<double>(i), 0);
        const auto low = reading->place.photo_from_chart.apply(static_cast<double>(i), 3);
        CAPTURE(i, top[0], top[1], low[0], low[1]);
        CHECK(std::hypot(top[0] - first_x[i], top[1] - 621) < 8.0);
        CHECK(std::hypot(low[0] - last_x[i], low[1] - 926) < 8.0);
    }
}
