// Made raking photographs of a panel whose cups are known (made_relief.hpp).
#include "tedge/usecases/map_relief_change.hpp"

#include "made_relief.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "tedge/usecases/remake_picture.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;
using casebook::FieldValues;

namespace {

struct Shop : UsecaseBook {
    Shop() { case_id = open_case(acting, {"Panel with cupping", "", SizeMm{120, 90}}).value(); }

    Uuid photograph(const std::string& name, const imaging::Raster8& pixels, const char* stage) {
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.light = "raking";
        wanted.raking_side = "left";
        wanted.raking_angle_degrees = 12.0;
        wanted.stage = stage;
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        must(place_by_corners(acting, id, {{{-0.5, -0.5}, {479.5, -0.5}, {479.5, 359.5}, {-0.5, 359.5}}}));
        return id;
    }
    std::string refusal(const Uuid& before, const Uuid& after) {
        const auto map = map_relief_change(book, before, after);
        return map ? "" : map.error().code;
    }
};

const imaging::ReliefPlace* told(const ReliefChangeMap& map, const Cup& cup) {
    const Region disc = must(Region::circle(cup.middle, cup.radius_mm));
    for (const imaging::ReliefPlace& place : map.change.places)
        if (place.region.intersected(disc).area_mm2() > 0.5 * disc.area_mm2()) return &place;
    return nullptr;
}

}  // namespace

TEST_CASE("Cups that were laid down and cups that are new are told on the face, and kept when asked") {
    Shop shop;
    const Uuid before = shop.photograph("before.png", raking({staying, flattened}, 0.0, 1), "as-received");
    const Uuid after = shop.photograph("after.png", raking({staying, lifted}, 0.0, 2, 0.9), "faced");
    shop.laid_over(before, after, 0.02);
    const auto map = must(map_relief_change(shop.book, before, after));
    CHECK(map.error_mm == Approx(0.02));
    for (const Cup& cup : flattened) {
        REQUIRE(told(map, cup) != nullptr);
        CHECK(told(map, cup)->turn == imaging::ReliefTurn::weaker);
    }
    for (const Cup& cup : lifted) {
        REQUIRE(told(map, cup) != nullptr);
        CHECK(told(map, cup)->turn == imaging::ReliefTurn::stronger);
    }
    for (const Cup& cup : staying) CHECK(told(map, cup) == nullptr);
    CHECK(map.total_cm2 > 3.6);  // the four discs
    CHECK(shop.count("derived_picture") == 0);

    const auto kept = must(keep_relief_change(shop.acting, map));
    const auto record = must(shop.book.record(kept.done.record));
    CHECK(record.body.text_or("what") == "relief-change");
    CHECK(record.body.text_or("from_photographs/" + to_text(before)) == "before");
    const auto& recipe = record.body.as_json().at("recipe");
    CHECK(recipe.at("lamp_after").at("side") == "left");
    CHECK(recipe.at("before").at("sha256") == must(shop.book.record(before)).body.text_or("sha256"));
    const auto place = record.body.placement("face_from_picture").value();
    CHECK(place.to_face({0, 0}).x_mm == Approx(0.125).margin(0.05));
    CHECK(must(remake_picture(shop.book, kept.done.record)).identical);
    // The recipe's word: the same bytes again.
    CHECK(must(keep_relief_change(shop.acting, must(map_relief_change(shop.book, before, after)))).already);
}

TEST_CASE("Relief that lies beside itself has changed where the registration is tight, not where it is loose") {
    Shop shop;
    const Uuid before = shop.photograph("before.png", raking({staying, flattened}, 0.0, 1), "as-received");
    const Uuid after = shop.photograph("after.png", raking({staying, flattened}, 1.0, 2), "faced");
    FieldValues grid;
    grid.value("error_grid", {{"cell_px", 240.0}, {"columns", 2}, {"rows", 1}, {"error_px", {0.01, 1.0}}});
    shop.laid_over(before, after, 0.02, grid);
    const auto map = must(map_relief_change(shop.book, before, after));
    REQUIRE_FALSE(map.change.places.empty());
    for (const imaging::ReliefPlace& place : map.change.places) CHECK(place.region.bounds().min.x_mm < 60.0);
    const auto recipe = nlohmann::json::parse(map.recipe);
    CHECK(recipe.at("error_by_place").at("map").at("error_px").back().get<double>() == Approx(1.0).margin(0.01));
    const auto kept = must(keep_relief_change(shop.acting, map));
    CHECK(must(remake_picture(shop.book, kept.done.record)).identical);
}

TEST_CASE("Pairs whose shading cannot be compared are refused with the reason") {
    Shop shop;
    const Uuid before = shop.photograph("before.png", raking({staying}, 0.0, 1), "as-received");
    const Uuid after = shop.photograph("after.png", raking({staying}, 0.0, 2), "faced");
    CHECK(shop.refusal(before, after) == "relief.not-registered");
    shop.laid_over(before, after, 0.02);
    CHECK(must(map_relief_change(shop.book, before, after)).change.places.empty());
    CHECK(shop.refusal(after, before) == "photograph.wrong-way-round");
    CHECK(shop.refusal(before, before) == "photograph.same");
    const auto said = [&](const FieldValues& values) { must(change_record(shop.acting, after, values)); };
    said(FieldValues().text("raking_side", "top"));
    CHECK(shop.refusal(before, after) == "relief.sides-differ");
    said(FieldValues().unset("raking_side"));
    CHECK(shop.refusal(before, after) == "relief.side-unknown");
    said(FieldValues().text("raking_side", "left").number("raking_angle_degrees", 30));
    CHECK(shop.refusal(before, after) == "relief.angles-differ");
    said(FieldValues().unset("raking_angle_degrees"));
    CHECK(must(map_relief_change(shop.book, before, after)).change.note.find("not known") != std::string::npos);
    said(FieldValues().unset("raking_side").text("light", "normal"));
    CHECK(shop.refusal(before, after) == "relief.not-raking");
}
