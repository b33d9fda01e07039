#include "tedge/usecases/measure_weave.hpp"

#include "made_weave.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;

namespace {

Uuid taken_in(UsecaseBook& shop, const std::string& name, const imaging::Raster8& picture) {
    must(imaging::write_picture(shop.folder / name, picture, imaging::PictureFormat::png));
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = shop.folder / name;
    wanted.face = Face::verso;
    wanted.light = "raking";
    wanted.stage = "as-received";
    return must(take_in_photograph(shop.acting, wanted)).id;
}

}  // namespace

TEST_CASE("Threads counted on a placed photograph are two measurements with uncertainty and place") {
    UsecaseBook shop;
    // A face of 80 × 60 mm seen corner to corner in 800 × 600 px: 100 px to the centimetre.
    const MadeWeave made{.size = {801, 601}, .across_per_cm = 13.0, .down_per_cm = 11.0};
    const Uuid photograph = taken_in(shop, "verso.png", photographed(made));
    CHECK(measure_weave(shop.acting, photograph).error().code == "photograph.not-placed");
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {800, 0}, {800, 600}, {0, 600}}},
                          {.size = SizeMm{80, 60}}));
    const MeasuredWeave measured = must(measure_weave(shop.acting, photograph));
    REQUIRE(measured.recorded);
    CHECK(shop.count("measurement") == 2);
    const auto snapshot = shop.snapshot();
    const casebook::Record* across = snapshot.find(measured.recorded->across.record);
    const casebook::Record* down = snapshot.find(measured.recorded->down.record);
    REQUIRE(across != nullptr);
    REQUIRE(down != nullptr);
    CHECK(*across->body.number("value") == Approx(13.0).margin(0.1));
    CHECK(*down->body.number("value") == Approx(11.0).margin(0.1));
    CHECK(across->body.text_or("unit") == "threads/cm");
    CHECK(*across->body.number("uncertainty") > 0.0);
    CHECK(*across->body.number("uncertainty") < 0.5);
    const auto place = across->body.region("region");
    REQUIRE(place);
    CHECK(place->area_mm2() > 0.8 * 80 * 60);
    CHECK(place->area_mm2() < 1.001 * 80 * 60);
    CHECK(across->body.text_or("from_photographs/" + to_text(photograph)) == "weave");

    // The maps lie on the face, square on square.
    REQUIRE(measured.maps.size() == 2);
    CHECK(shop.count("derived_picture") == 2);
    for (const bool of_a : {true, false}) {
        const casebook::Record* map = snapshot.find(measured.maps[of_a ? 0 : 1].done.record);
        REQUIRE(map != nullptr);
        CHECK(map->body.text_or("what") == "weave-map");
        CHECK(map->body.record("face_frame") == across->body.record("face_frame"));
        CHECK(map->body.text_or("caption").find(of_a ? "counted across" : "counted down") != std::string::npos);
        const auto& recipe = map->body.as_json().at("recipe");
        CHECK(recipe.at("input_sha256") == must(shop.book.record(photograph)).body.text_or("sha256"));
        const double block_px = recipe.at("block_px").get<double>();
        const auto placement = map->body.placement("face_from_picture").value();
        for (const auto& [column, row] : {std::pair{0, 0}, std::pair{measured.count.map.columns - 1, 1}}) {
            const PointMm there = placement.to_face({(column + 0.5) * block_px - 0.5, (row + 0.5) * block_px - 0.5});
            const PointMm square = measured.count.map.at(column, row).on_face;
            CHECK(there.x_mm == Approx(square.x_mm).margin(0.1));
            CHECK(there.y_mm == Approx(square.y_mm).margin(0.1));
        }
    }
    // Once more: the same maps, nothing counted twice.
    const MeasuredWeave again = must(measure_weave(shop.acting, photograph));
    CHECK_FALSE(again.recorded);
    CHECK(again.maps.front().already);
    CHECK(shop.count("measurement") == 2);
    CHECK(shop.count("derived_picture") == 2);
}

TEST_CASE("What is not to be trusted is told and not recorded") {
    UsecaseBook shop;
    const Uuid photograph = taken_in(shop, "blank.png", imaging::Raster8(400, 300, 1));
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {399, 0}, {399, 299}, {0, 299}}},
                          {.size = SizeMm{40, 30}}));
    const MeasuredWeave measured = must(measure_weave(shop.acting, photograph));
    CHECK_FALSE(measured.count.usable);
    CHECK_FALSE(measured.recorded);
    CHECK(measured.maps.empty());
    CHECK(shop.count("measurement") == 0);
    CHECK(shop.count("derived_picture") == 0);
    CHECK(measure_weave(shop.acting, shop.recto()).error().code == "photograph.not-a-photograph");
}
