// Canvas that moved far, pictures against the light, and maps that must not be believed.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/registration.hpp"
#include "wrong_pairs.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{300, 232};
const PaintedScene scene{.seed = 3, .stroke_px = 65.0, .layers = 4};

const Raster8& still() {
    static const Raster8 picture = photograph(scene, size, {}, {.noise = 1.5}, 11, 2);
    return picture;
}

RegistrationReport registered(const Raster8& moving, const RegistrationOptions& options = {}) {
    const auto report = register_pictures(still(), moving, options);
    REQUIRE(report);
    return *report;
}

double rms_px(const RegistrationReport& report, const KnownMove& truth) {
    return errors_at_true_points(report.reference_from_moving, truth, size, size, 12).rms_px;
}

// Seen against the light: the threads of the canvas shine through and a stretcher hides the rim and a bar in the
// middle.
Raster8 against_the_light(const Raster8& shown) {
    const Cloth cloth{5.0, 4.6, 0.5, 0};
    Raster8 out(shown.width_px(), shown.height_px(), 3);
    const int bar = out.width_px() / 16;
    for (int y = 0; y < out.height_px(); ++y) {
        const bool hidden_row = y < bar || y >= out.height_px() - bar;
        for (int x = 0; x < out.width_px(); ++x) {
            const bool hidden =
                hidden_row || x < bar || x >= out.width_px() - bar || std::abs(x - out.width_px() / 2) < bar / 2;
            const double light = (hidden ? 0.12 : 1.0) * (0.9 + 0.15 * cloth.height(x, y));
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) =
                    static_cast<std::uint8_t>(std::clamp(light * (30.0 + 0.7 * shown.at(x, y, c)), 0.0, 255.0));
        }
    }
    return out;
}

}  // namespace

TEST_CASE("Lined canvas that bends by a tenth is followed to its rim") {
    const KnownMove truth{seen_from({.degrees = 1.0, .scale = 0.98, .shift = {3, -2}}, size, size), 6.0, 380.0};
    const auto report = registered(photograph(scene, size, truth, old_varnish, 21, 2));
    CAPTURE(report.code, report.tiles, report.tiles_agreeing, report.error_px);
    REQUIRE(report.usable);
    const double rms = rms_px(report, truth);
    CHECK(rms < 0.15);
    CHECK(report.error_px > 0.6 * rms);
}

TEST_CASE("Bent as no canvas is, a picture is refused or the error says how far off it is") {
    const KnownMove truth{seen_from({.degrees = 1.0}, size, size), 12.0, 190.0};
    const auto report = registered(photograph(scene, size, truth, {.noise = 1.5}, 22, 2));
    CAPTURE(report.code, report.tiles, report.tiles_agreeing, report.error_px, rms_px(report, truth));
    CHECK((!report.usable || report.error_px > 0.5 * rms_px(report, truth)));
}

TEST_CASE("The back with light through the canvas is found mirror-wise, and the front as it is") {
    for (const bool mirrored : {true, false}) {
        const KnownMove truth{seen_from({.degrees = 1.5, .scale = 0.97, .mirrored = mirrored}, size, size)};
        const Ageing glow{{0.9, 0.9, 0.9}, 0.02, 0.0, true, 2.5, 0.0};
        const Raster8 shone_through = against_the_light(photograph(scene, size, truth, glow, 23, 2));
        const auto report = registered(shone_through, {.accept_mirrored = mirrored});
        CAPTURE(mirrored, report.code, report.tiles, report.tiles_agreeing);
        REQUIRE(report.usable);
        CHECK(report.mirrored == mirrored);
        CHECK(rms_px(report, truth) < 0.35);
    }
}
