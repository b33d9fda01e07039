// Photographs laid by a person's pairs of points.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <utility>

#include "aged_copy.hpp"
#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{320, 256};
const PaintedScene scene{.seed = 23, .stroke_px = 70.0, .layers = 4};

using FourPoints = std::array<PointPx, 4>;
constexpr FourPoints near_corners{PointPx{30, 25}, {285, 30}, {280, 225}, {35, 220}};

// Points of the moving picture with where they truly lie, and three pixels beside.
std::vector<PointPair> rough_pairs(const KnownMove& truth, const FourPoints& seen = near_corners) {
    constexpr FourPoints beside{PointPx{3, 0}, {0, 3}, {-2.1, 2.1}, {-3, 0}};
    std::vector<PointPair> pairs;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        const PointPx at = truth(seen[i]);
        pairs.push_back({{at.x_px + beside[i].x_px, at.y_px + beside[i].y_px}, seen[i]});
    }
    return pairs;
}

Raster8 still() {
    return photograph(scene, size, {}, {.noise = 1.5}, 1, 2);
}

std::string code_for(const std::vector<PointPair>& pairs) {
    const auto report = register_pictures(Raster8(size.width_px, size.height_px, 3),
                                          Raster8(size.width_px, size.height_px, 3), {.pairs = pairs});
    return report ? report->code : report.error().code;
}

}  // namespace

TEST_CASE("Where features find nothing, four rough pairs lay a photograph under the bar") {
    // Seen from far aside, behind glass, with dark and bright exchanged: a third as wide.
    constexpr SizePx narrow{107, 256};
    const KnownMove truth{Homography::from_row_major({3.0, 0.05, 2.0, 0.06, 0.97, 3.0, 0, 0, 1}).value(), 1.0, 400.0};
    const Ageing strange{{0.9, 0.9, 0.9}, 0.05, 0.0, true, 3.0, 0.0};
    const Raster8 moving = photograph(scene, narrow, truth, strange, 2, 2);
    const auto alone = register_pictures(still(), moving);
    REQUIRE(alone);
    CHECK_FALSE(alone->usable);
    const auto report =
        register_pictures(still(), moving, {.pairs = rough_pairs(truth, {{{12, 25}, {95, 30}, {92, 225}, {13, 220}}})});
    REQUIRE(report);
    CAPTURE(report->code, report->tiles, report->tiles_agreeing);
    REQUIRE(report->usable);
    CHECK(report->inliers == 4);
    CHECK(errors_at_true_points(report->reference_from_moving, truth, size, narrow, 12).rms_px < 0.25);
    REQUIRE(report->pairs);
    REQUIRE(report->pairs->beside_px);
    CHECK(*report->pairs->beside_px == Approx(3.0).margin(0.3));
}

TEST_CASE("Three pairs are enough, and the mirror is seen from them") {
    const KnownMove truth{seen_from({.degrees = -3.0, .mirrored = true}, size, size)};
    const Raster8 moving = photograph(scene, size, truth, {.noise = 1.5}, 3, 2);
    auto pairs = rough_pairs(truth);
    pairs.pop_back();
    const auto refused = register_pictures(still(), moving, {.pairs = pairs});
    REQUIRE(refused);
    CHECK(refused->code == "registration.mirrored");
    const auto wanted = register_pictures(still(), moving, {.accept_mirrored = true, .pairs = pairs});
    REQUIRE(wanted);
    CHECK(wanted->usable);
    CHECK(errors_at_true_points(wanted->reference_from_moving, truth, size, size, 12).rms_px < 0.1);
}

TEST_CASE("Pairs on different paintings are not borne out") {
    const Raster8 other = photograph({.seed = 77, .stroke_px = 70.0, .layers = 4}, size, {}, {.noise = 1.5}, 4, 2);
    const auto report = register_pictures(still(), other, {.pairs = rough_pairs({})});
    REQUIRE(report);
    CHECK_FALSE(report->usable);
    REQUIRE(report->pairs);
    CHECK_FALSE(report->pairs->beside_px);
}

TEST_CASE("Pairs that contradict one another are refused, and the worst is named") {
    const KnownMove truth{seen_from({.degrees = 8.0, .scale = 1.25, .perspective = 0.05}, size, size)};
    for (const std::size_t wrong : {std::size_t{0}, std::size_t{2}}) {
        auto pairs = rough_pairs(truth);
        pairs[wrong].reference.x_px += wrong == 0 ? 60.0 : -60.0;
        CAPTURE(wrong);
        const auto four = register_pictures(still(), still(), {.pairs = pairs});
        REQUIRE_FALSE(four);
        CHECK(four.error().code == "registration.pairs-contradict");
        CHECK(four.error().values.at("pair") == std::to_string(wrong + 1));
        pairs.push_back({truth({160, 120}), {160, 120}});
        pairs.push_back({truth({60, 150}), {60, 150}});
        const auto six = register_pictures(still(), still(), {.pairs = pairs});
        REQUIRE_FALSE(six);
        CHECK(six.error().values.at("pair") == std::to_string(wrong + 1));
    }
    auto exchanged = rough_pairs(truth);
    std::swap(exchanged[0].reference, exchanged[1].reference);
    CHECK(code_for(exchanged) == "registration.pairs-contradict");
}

TEST_CASE("Too few pairs, pairs on a line and pairs outside the pictures are refused") {
    auto pairs = rough_pairs({});
    CHECK(code_for({pairs[0], pairs[1]}) == "registration.too-few-pairs");
    CHECK(code_for({{{10, 10}, {10, 10}}, {{100, 101}, {100, 100}}, {{200, 200}, {201, 200}}}) ==
          "registration.pairs-in-line");
    pairs[1].moving.x_px = 400.0;
    CHECK(code_for(pairs) == "registration.pair-outside");
}
