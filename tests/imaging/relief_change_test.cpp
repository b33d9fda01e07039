// Made raking photographs: an invented painting (its colours) times the light on a made height field by Lambert's law,
// lamp at 12 degrees. Before, some cups; after, some of them flattened and others new.
#include "tedge/imaging/relief_change.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "../support/painted_pair.hpp"
#include "tedge/imaging/colour.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{480, 360};
constexpr double mm_per_px = 0.25;  // a face of 120 × 90 mm

struct Cup {
    PointMm middle;
    double radius_mm = 5.0;
    double height_mm = 0.25;
};

const std::vector<Cup> staying{{{20, 20}}, {{60, 70}}, {{100, 20}, 6.0, 0.2}, {{20, 70}, 4.0, 0.2}};
const std::vector<Cup> flattened{{{60, 20}}, {{100, 68}, 6.0, 0.3}};
const std::vector<Cup> lifted{{{36, 46}}, {{80, 44}, 6.0, 0.3}};

Placement placed() {
    Placement placement;
    placement.face_from_photo = Homography::scaling(mm_per_px, mm_per_px);
    return placement;
}

// Slope along x of a raised rim around a hollow: r² (1 − r²)² within the radius.
double slope_x(const std::vector<Cup>& cups, PointMm at) {
    double slope = 0.0;
    for (const Cup& cup : cups) {
        const double dx = (at.x_mm - cup.middle.x_mm) / cup.radius_mm, dy = (at.y_mm - cup.middle.y_mm) / cup.radius_mm;
        const double r2 = dx * dx + dy * dy;
        if (r2 < 1.0)
            slope += cup.height_mm * 6.75 * 2.0 * dx / cup.radius_mm * ((1 - r2) * (1 - r2) - 2.0 * r2 * (1 - r2));
    }
    return slope;
}

Raster8 raking(const std::vector<std::vector<Cup>>& cups, double shift_px, std::uint64_t seed, double exposure = 1.0,
               double contrast = 0.35) {
    const PaintedScene scene{.seed = 21, .stroke_px = 50.0};
    const double low = 12.0 * std::numbers::pi / 180.0;
    Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x) {
            const double seen_x = x + shift_px;
            const auto colour = scene.colour({seen_x, double(y)});
            double slope = 0.02 * std::sin(seen_x * 1.1) * std::cos(y * 0.9);  // canvas
            for (const auto& set : cups) slope += slope_x(set, {seen_x * mm_per_px, y * mm_per_px});
            const double shade = std::max(0.05, std::sin(low) - slope * std::cos(low)) / std::sqrt(1.0 + slope * slope);
            // The lamp is nearer to the left.
            const double light = exposure * 2.0 * shade * (1.2 - 0.5 * x / size.width_px);
            for (int c = 0; c < 3; ++c) {
                const double grain = 2.0 * (counted(seed, x, y, static_cast<std::uint64_t>(c)) - 0.5);
                const double value = srgb_encoded(
                    std::min(1.0, srgb_decoded(0.35 + contrast * colour[static_cast<std::size_t>(c)]) * light));
                out.at(x, y, c) =
                    static_cast<std::uint8_t>(std::clamp(std::lround(255.0 * value + 3.0 * grain), 0L, 255L));
            }
        }
    return out;
}

ReliefChangeOptions same_lamp(double error_px) {
    return {.before = {"left", 12.0}, .after = {"left", 12.0}, .mm_per_px = mm_per_px, .error_px = error_px};
}

// The place that covers most of a cup, when it covers at least half.
const ReliefPlace* told(const ReliefChange& change, const Cup& cup) {
    const Region disc = Region::circle(cup.middle, cup.radius_mm).value();
    for (const ReliefPlace& place : change.places)
        if (place.region.intersected(disc).area_mm2() > 0.5 * disc.area_mm2()) return &place;
    return nullptr;
}

}  // namespace

TEST_CASE("flattened cups and new ones are told apart from those that stayed") {
    const auto change = relief_change(raking({staying, flattened}, 0.0, 1), raking({staying, lifted}, 0.1, 2, 0.9),
                                      placed(), same_lamp(0.1))
                            .value();
    for (const auto& [cups, turn] : {std::pair{flattened, ReliefTurn::weaker}, std::pair{lifted, ReliefTurn::stronger}})
        for (const Cup& cup : cups) {
            const ReliefPlace* place = told(change, cup);
            REQUIRE(place != nullptr);
            CHECK(place->turn == turn);
            CHECK(place->strength > 1.0);
            CHECK(place->area_cm2 < 4.0);  // the discs measure 0.8 to 1.1, the window reaches 4 mm further
        }
    for (const Cup& cup : staying) CHECK(told(change, cup) == nullptr);
    // Nothing is told beside the cups that changed.
    for (const ReliefPlace& place : change.places) {
        double nearest = 1e9;
        for (const auto& cups : {flattened, lifted})
            for (const Cup& cup : cups)
                nearest =
                    std::min(nearest, place.region.distance_mm(Region::circle(cup.middle, cup.radius_mm).value()));
        CHECK(nearest == 0.0);
    }
    CHECK(change.note.empty());
}

TEST_CASE("the same surface twice: nothing changed, even half a pixel beside itself where that is known") {
    const Raster8 first = raking({staying, flattened}, 0.0, 1);
    CHECK(relief_change(first, raking({staying, flattened}, 0.0, 3), placed(), same_lamp(0.0)).value().places.empty());
    const Raster8 beside = raking({staying, flattened}, 0.5, 3, 1.1);
    CHECK(relief_change(first, beside, placed(), same_lamp(0.5)).value().places.empty());
}

TEST_CASE("what is not counted is not told, and lamps that differ are refused") {
    const Raster8 first = raking({staying, flattened}, 0.0, 1), second = raking({staying, lifted}, 0.0, 2);
    Raster8 counted(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y) std::fill_n(counted.row(y), 200, std::uint8_t{255});  // 50 mm
    ReliefChangeOptions left = same_lamp(0.0);
    left.counted = &counted;
    const auto change = relief_change(first, second, placed(), left).value();
    CHECK(told(change, lifted[0]) != nullptr);
    CHECK(told(change, lifted[1]) == nullptr);
    CHECK(change.change.at(400, 180) == 0.0F);

    const auto refused = [&](const RakingLamp& before, const RakingLamp& after) {
        ReliefChangeOptions options = same_lamp(0.0);
        options.before = before;
        options.after = after;
        return relief_change(first, second, placed(), options).error().code;
    };
    CHECK(refused({"left", 12.0}, {"top", 12.0}) == "relief.sides-differ");
    CHECK(refused({"", 12.0}, {"left", 12.0}) == "relief.side-unknown");
    CHECK(refused({"left", 5.0}, {"left", 25.0}) == "relief.angles-differ");
    ReliefChangeOptions unsure = same_lamp(0.0);
    unsure.after.angle_degrees.reset();
    CHECK(relief_change(first, second, placed(), unsure).value().note.find("not known") != std::string::npos);
    ReliefChangeOptions coarse = same_lamp(0.0);
    coarse.mm_per_px = 3.0;
    CHECK(relief_change(first, second, placed(), coarse).error().code == "relief.too-coarse");
    std::stop_source stop;
    stop.request_stop();
    CHECK(relief_change(first, second, placed(), same_lamp(0.0), Progress(stop.get_token(), {})).error().code ==
          "cancelled");
}
