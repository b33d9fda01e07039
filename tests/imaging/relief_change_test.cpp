// Made raking photographs (made_relief.hpp). Before, some cups; after, some of them flattened and others new.
#include "tedge/imaging/relief_change.hpp"

#include <catch2/catch.hpp>

#include "made_relief.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size = relief_size;
constexpr double mm_per_px = relief_mm_per_px;

Placement placed() {
    Placement placement;
    placement.face_from_photo = Homography::scaling(mm_per_px, mm_per_px);
    return placement;
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

TEST_CASE("a surface beside itself is no change where the map is loose, and is one where it is called tight") {
    const Raster8 first = raking({staying, flattened}, 0.0, 1), beside = raking({staying, flattened}, 1.0, 3);
    const auto places_on = [&](float left, float right) {
        const RegistrationErrorMap error{
            .cell_px = size.width_px / 2.0, .columns = 2, .rows = 1, .error_px = {left, right}};
        ReliefChangeOptions options = same_lamp(0.0);
        options.error_maps = {&error};
        const auto change = relief_change(first, beside, placed(), options).value();
        std::array<int, 2> out{};
        for (const ReliefPlace& place : change.places)
            ++out[place.region.label_point().x_mm < size.width_px / 2 * mm_per_px ? 0 : 1];
        return out;
    };
    CHECK(places_on(1.0F, 1.0F) == std::array{0, 0});
    const auto left_tight = places_on(0.0F, 1.0F);
    CHECK(left_tight[0] > 0);
    CHECK(left_tight[1] == 0);
    CHECK(places_on(-1.0F, 1.0F)[0] == 0);  // nothing lies there
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
