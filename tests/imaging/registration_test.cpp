#include "tedge/imaging/registration.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stop_token>

#include "aged_copy.hpp"
#include "painted_pair.hpp"
#include "registration_photos.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx reference_size{420, 320};
constexpr SizePx moving_size{400, 340};
const PaintedScene scene{.seed = 3, .stroke_px = 90.0, .layers = 4};

const Raster8& reference() {
    static const Raster8 picture = photograph(scene, reference_size, {}, {.noise = 1.5}, 11, 2);
    return picture;
}

KnownMove moved(const Viewpoint& viewpoint, double bend_px = 1.2) {
    return {seen_from(viewpoint, reference_size, moving_size), bend_px, 500.0};
}

// RMS distance between the map found and the true one, in pixels of the reference, at points held back from nobody: the
// truth is known everywhere. Only points of the reference are asked for.
double rms_px(const PixelMap& found, const KnownMove& truth, double margin = 0.0) {
    double squares = 0.0;
    int count = 0;
    for (int y = 4; y < moving_size.height_px; y += 12) {
        for (int x = 4; x < moving_size.width_px; x += 12) {
            const PointPx moving{static_cast<double>(x), static_cast<double>(y)};
            const PointPx t = truth(moving);
            if (t.x_px < margin || t.y_px < margin || t.x_px > reference_size.width_px - 1 - margin ||
                t.y_px > reference_size.height_px - 1 - margin)
                continue;
            const PointPx p = found.map(moving);
            squares += (p.x_px - t.x_px) * (p.x_px - t.x_px) + (p.y_px - t.y_px) * (p.y_px - t.y_px);
            ++count;
        }
    }
    REQUIRE(count > 100);
    return std::sqrt(squares / count);
}

// Half as large, where what is asked has nothing to do with how exact the map is.
constexpr SizePx small_size{300, 232};
constexpr PaintedScene small_scene{.seed = 3, .stroke_px = 65.0, .layers = 4};

struct SmallPair {
    KnownMove truth;
    Raster8 reference;
    Raster8 moving;

    [[nodiscard]] double rms_px(const RegistrationReport& report) const {
        return errors_at_true_points(report.reference_from_moving, truth, small_size, small_size, 12).rms_px;
    }
};

SmallPair small_pair(const Viewpoint& viewpoint, const Ageing& ageing, std::uint64_t seed) {
    const KnownMove truth{seen_from(viewpoint, small_size, small_size), 0.6, 400.0};
    return {truth, photograph(small_scene, small_size, {}, {.noise = 1.5}, 11, 2),
            photograph(small_scene, small_size, truth, ageing, seed, 2)};
}

RegistrationReport registered(const Raster8& moving, const RegistrationOptions& options = {}) {
    const auto report = register_pictures(reference(), moving, options);
    REQUIRE(report);
    return *report;
}

RasterF in_gray(const Raster8& picture) {
    RasterF gray(picture.width_px(), picture.height_px(), 1);
    for (int y = 0; y < gray.height_px(); ++y) PictureView(picture).gray_row(y, 0, gray.width_px(), gray.row(y));
    for (float& each : gray.samples()) each /= 255.0F;
    return gray;
}

}  // namespace

TEST_CASE("A picture under dirt and yellow varnish, turned and bent by a known amount, is found where it is") {
    const KnownMove truth = moved({.degrees = 4.0, .scale = 0.95, .perspective = 0.06, .shift = {6, -4}});
    const auto report = registered(photograph(scene, moving_size, truth, old_varnish, 12, 2));
    CHECK(report.code == "registration.good");
    CHECK(report.usable);
    CHECK_FALSE(report.mirrored);
    const double rms = rms_px(report.reference_from_moving, truth);
    CHECK(rms < 0.12);
    CHECK(rms_px(report.reference_from_moving, truth, 24.0) < 0.08);
    // What the report says of its own error is neither boast nor alarm.
    CHECK(report.error_px > 0.7 * rms);
    CHECK(report.error_px < 1.5 * rms);
    CHECK(report.overlap_share > 0.8);
    CHECK(report.tiles_agreeing > 0.8 * report.tiles);

    // There and back again.
    for (const PointPx p : {PointPx{100, 100}, PointPx{350, 300}, PointPx{20, 200}}) {
        const auto back = report.reference_from_moving.inverse(report.reference_from_moving.map(p));
        REQUIRE(back);
        CHECK(std::hypot(back->x_px - p.x_px, back->y_px - p.y_px) < 1e-3);
    }
}

TEST_CASE("A copy through a lens, under brown resin, from a noisy camera is found where it is") {
    const AgedCopy copy = aged_copy(reference(), {.lens = true, .resin = true, .camera = true});
    const auto report = registered(copy.picture);
    CHECK(report.code == "registration.good");
    const TrueErrors errors =
        errors_at_true_points(report.reference_from_moving, copy.truth, reference_size, reference_size, 12);
    CAPTURE(errors.rms_px, errors.most_95_px, errors.largest_px, report.error_px);
    CHECK(errors.points > 500);
    CHECK(errors.rms_px < 0.1);
    CHECK(report.error_px > 0.95 * errors.rms_px);
    CHECK(report.error_px < 1.5 * errors.rms_px);
}

TEST_CASE("Upside down, partly repainted, and of another scale") {
    const KnownMove truth = moved({.degrees = 178.0, .scale = 0.8, .perspective = -0.05, .shift = {-5, 8}});
    Ageing ageing = old_varnish;
    ageing.repainted_share = 0.15;
    const auto report = registered(photograph(scene, moving_size, truth, ageing, 13, 2));
    CHECK(report.code == "registration.good");
    CHECK(rms_px(report.reference_from_moving, truth) < 0.3);
}

TEST_CASE("Dark and bright exchanged, as under ultraviolet") {
    const KnownMove truth = moved({.degrees = -3.0, .scale = 1.0, .perspective = 0.03, .shift = {2, 5}});
    const Ageing ageing{{0.9, 0.9, 0.9}, 0.02, 0.0, true, 2.5, 0.0};
    const auto report = registered(photograph(scene, moving_size, truth, ageing, 14, 2));
    CHECK(report.code == "registration.good");
    CHECK(report.matched_on == MatchedOn::changed_brightness);
    CHECK(rms_px(report.reference_from_moving, truth) < 0.25);
}

TEST_CASE("Raking light moves edges; colour tells where they are") {
    const KnownMove truth = moved({.degrees = 2.0, .scale = 1.0, .shift = {-3, 4}});
    Ageing ageing{.noise = 1.5};
    ageing.raking = 0.8;
    const Raster8 raking = photograph(scene, moving_size, truth, ageing, 20, 2);
    const auto believed = registered(raking, {.light = LightDifference::none});
    CHECK(believed.matched_on == MatchedOn::brightness);
    CHECK(rms_px(believed.reference_from_moving, truth) > 0.35);  // what is to be done better
    for (const LightDifference light : {LightDifference::one_side, LightDifference::unknown}) {
        const auto report = registered(raking, {.light = light});
        CHECK(report.code == "registration.good");
        CHECK(report.matched_on == MatchedOn::colour);
        const double rms = rms_px(report.reference_from_moving, truth);
        CHECK(rms < 0.2);
        CHECK(report.error_px > 0.7 * rms);
    }
}

TEST_CASE("Without colour nothing tells what light from one side has shifted, and the error says so") {
    const SmallPair pair =
        small_pair({.degrees = 2.0, .scale = 1.0, .shift = {-3, 4}}, {.noise = 1.5, .raking = 0.8}, 20);
    const RasterF gray_reference = in_gray(pair.reference);
    const RasterF gray_moving = in_gray(pair.moving);
    const auto report_of = [&](LightDifference light) {
        const auto report = register_pictures(gray_reference, gray_moving, {.light = light});
        REQUIRE(report);
        REQUIRE(report->usable);
        return *report;
    };
    const auto unasked = report_of(LightDifference::none);
    const double rms = pair.rms_px(unasked);
    CHECK(rms > 3.0 * unasked.error_px);  // what is to be covered
    const auto other = report_of(LightDifference::other_kind);
    const auto one_side = report_of(LightDifference::one_side);
    CHECK(other.reference_from_moving == unasked.reference_from_moving);
    CHECK(one_side.reference_from_moving == unasked.reference_from_moving);
    // The squares are added: half a pixel, and a twenty-fifth of that.
    CHECK(std::hypot(unasked.error_px, 0.5) == Approx(one_side.error_px).epsilon(1e-6));
    CHECK(std::hypot(unasked.error_px, 0.02) == Approx(other.error_px).epsilon(1e-6));
    CHECK(one_side.error_px > 0.7 * rms);
}

TEST_CASE("A mirrored photograph is called mirrored, and used only when that was wanted") {
    const SmallPair pair = small_pair({.degrees = 2.0, .mirrored = true}, {.noise = 1.5}, 15);
    const auto refused = register_pictures(pair.reference, pair.moving);
    REQUIRE(refused);
    CHECK_FALSE(refused->usable);
    CHECK(refused->mirrored);
    CHECK(refused->code == "registration.mirrored");
    const auto wanted = register_pictures(pair.reference, pair.moving, {.accept_mirrored = true});
    REQUIRE(wanted);
    CHECK(wanted->usable);
    CHECK(wanted->mirrored);
    CHECK(pair.rms_px(*wanted) < 0.12);
}

TEST_CASE("The result does not depend on the number of threads") {
    const SmallPair pair = small_pair({.degrees = 7.0, .scale = 0.9, .shift = {3, 3}}, old_varnish, 16);
    const auto one = register_pictures(pair.reference, pair.moving, {.threads = 1});
    REQUIRE(one);
    CHECK(one->usable);
    for (const int threads : {2, 4}) {
        const auto more = register_pictures(pair.reference, pair.moving, {.threads = threads});
        REQUIRE(more);
        CHECK(more->reference_from_moving == one->reference_from_moving);
        CHECK(more->error_map == one->error_map);
        CHECK(more->tiles_agreeing == one->tiles_agreeing);
        CHECK(more->residual_px == one->residual_px);
    }
}

TEST_CASE("Work that is cancelled keeps nothing") {
    const SmallPair pair = small_pair({}, {.noise = 2.0}, 17);
    std::stop_source source;
    const Progress progress(source.get_token(), [&](double fraction, std::string_view) {
        if (fraction >= 0.2) source.request_stop();
    });
    const auto report = register_pictures(pair.reference, pair.moving, {}, progress);
    REQUIRE_FALSE(report);
    CHECK(report.error().code == "cancelled");
}

TEST_CASE("Sixteen-bit and gray pictures say the same as eight-bit ones in colour") {
    const SmallPair pair = small_pair({.degrees = 1.0, .shift = {2, 2}}, {.noise = 1.0}, 19);
    Raster16 deep(small_size.width_px, small_size.height_px, 3);
    for (std::size_t i = 0; i < deep.samples().size(); ++i)
        deep.samples()[i] = static_cast<std::uint16_t>(pair.moving.samples()[i] * 257);
    const auto report = register_pictures(in_gray(pair.reference), deep, {});
    REQUIRE(report);
    CHECK(report->usable);
    CHECK(pair.rms_px(*report) < 0.12);
}

TEST_CASE("What cannot be registered says why") {
    const auto small = register_pictures(Raster8(1, 1, 3), reference(), {});
    REQUIRE_FALSE(small);
    CHECK(small.error().code == "registration.picture-too-small");
    const auto options = register_pictures(reference(), reference(), {.tolerance_px = -1.0});
    REQUIRE_FALSE(options);
    CHECK(options.error().code == "registration.bad-options");

    const Raster8 black(400, 300, 3);
    const auto dark = register_pictures(reference(), black, {});
    REQUIRE(dark);
    CHECK_FALSE(dark->usable);
    CHECK(dark->code == "registration.too-little-structure");
    CHECK_FALSE(dark->reason.empty());
}
