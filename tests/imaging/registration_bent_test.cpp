// Canvas that was stretched anew: it bends, at its rim most, and takes its brushwork with it.
#include <catch2/catch.hpp>

#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{300, 232};
const PaintedScene scene{.seed = 3, .stroke_px = 65.0, .layers = 4};

RegistrationReport registered(const KnownMove& move, const Ageing& ageing) {
    const Raster8 still = photograph(scene, size, {}, {.noise = 1.5}, 11, 2);
    const auto report = register_pictures(still, photograph(scene, size, move, ageing, 21, 2), {});
    REQUIRE(report);
    return *report;
}

}  // namespace

TEST_CASE("Canvas that bends by a tenth is followed to its rim, through a noisy camera too") {
    const KnownMove truth{seen_from({.degrees = 1.0, .scale = 0.98, .shift = {3, -2}}, size, size), 6.0, 380.0};
    for (const double noise : {2.0, 9.0}) {
        Ageing ageing = old_varnish;
        ageing.noise = noise;
        const auto report = registered(truth, ageing);
        const double rms = errors_at_true_points(report.reference_from_moving, truth, size, size, 12).rms_px;
        CAPTURE(noise, report.code, report.tiles, report.tiles_agreeing, report.error_px, rms);
        REQUIRE(report.usable);
        CHECK(rms < (noise < 5.0 ? 0.15 : 0.35));
        CHECK(report.error_px > 0.5 * rms);
    }
}
