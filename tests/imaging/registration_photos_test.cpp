// Registration on photographs of real paintings. They are not part of the project: TEDGE_TEST_PHOTOS names their
// folder, and without it nothing is checked here.
#include "registration_photos.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "aged_copy.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

TEST_CASE("A photographed painting is found under varnish, and another painting is refused") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) return;
    const Raster8 harvest = photo(std::filesystem::path(folder) / "bruegel_harvesters_1165x859.png");
    const Raster8 night = photo(std::filesystem::path(folder) / "vangogh_starry_night_1280x1014.jpg");

    const PixelMap truth = varnished_view();
    const auto found = register_pictures(harvest, under_varnish(harvest, truth), {});
    REQUIRE(found);
    CHECK(found->code == "registration.good");
    CHECK(rms_px(found->reference_from_moving, truth, harvest.size(), harvest.size()) < 0.05);

    const auto other = register_pictures(harvest, night, {});
    REQUIRE(other);
    CAPTURE(other->code, other->tiles, other->tiles_agreeing);
    CHECK_FALSE(other->usable);
}

TEST_CASE("A photographed painting is found in a copy from another lens, under other resin, by a noisy camera") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) return;
    const Raster8 harvest = photo(std::filesystem::path(folder) / "bruegel_harvesters_1165x859.png");
    for (const int strength : {1, 2}) {
        CAPTURE(strength);
        const AgedCopy copy = aged_copy(harvest, {.lens = true, .resin = true, .camera = true, .strength = strength});
        const auto found = register_pictures(harvest, copy.picture, {});
        REQUIRE(found);
        CHECK(found->code == "registration.good");
        const TrueErrors errors =
            errors_at_true_points(found->reference_from_moving, copy.truth, harvest.size(), harvest.size());
        CAPTURE(errors.rms_px, errors.most_95_px, found->error_px);
        CHECK(errors.rms_px < 0.08 * strength);
        CHECK(found->error_px > 0.75 * errors.rms_px);
    }
}

TEST_CASE("A planar wall seen from two sides agrees with its published homography") {
    // graf1.png, graf3.png and H1to3p.xml of Debian's opencv-doc (K. Mikolajczyk's data set). The package is not
    // needed: without it nothing is checked.
    const std::filesystem::path folder = "/usr/share/doc/opencv-doc/examples/data";
    if (!std::filesystem::exists(folder / "graf1.png") || !std::filesystem::exists(folder / "graf3.png")) return;
    const auto published =
        Homography::from_row_major({7.6285898e-01, -2.9922929e-01, 2.2567123e+02, 3.3443473e-01, 1.0143901e+00,
                                    -7.6999973e+01, 3.4663091e-04, -1.4364524e-05, 1.0})
            .value();
    const Raster8 first = photo(folder / "graf1.png");
    const Raster8 third = photo(folder / "graf3.png");
    const auto report = register_pictures(third, first, {});
    REQUIRE(report);
    CHECK(report->usable);
    double sum_plane = 0.0;
    double sum_full = 0.0;
    int count = 0;
    for (int y = 0; y < 640; y += 16) {
        for (int x = 0; x < 800; x += 16) {
            const auto t = published.apply(x, y);
            if (t[0] < 0 || t[1] < 0 || t[0] > 799 || t[1] > 639) continue;
            const auto plane = report->reference_from_moving.homography.apply(x, y);
            const PointPx full = report->reference_from_moving.map({static_cast<double>(x), static_cast<double>(y)});
            sum_plane += std::hypot(plane[0] - t[0], plane[1] - t[1]);
            sum_full += std::hypot(full.x_px - t[0], full.y_px - t[1]);
            ++count;
        }
    }
    // The published map is itself good to about half a pixel; the lens bends the picture by as much, and that is what
    // the full map follows.
    CHECK(sum_plane / count < 0.6);
    CHECK(sum_full / count < 1.5);
}
