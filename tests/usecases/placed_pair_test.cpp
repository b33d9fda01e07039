// Whatever compares two photographs reads them one way: the same refusals, the same error between them.
#include <array>
#include <functional>

#include "tedge/casebook/photograph_words.hpp"
#include "tedge/casebook/placed_by.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/compare_cracks.hpp"
#include "tedge/usecases/forecast_cleaning.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

constexpr SizePx size{203, 153};

struct Shop : UsecaseBook {
    Uuid photograph(const std::string& name, std::uint8_t grey, const char* stage, bool placed = true) {
        imaging::Raster8 raster(size.width_px, size.height_px, 3);
        std::ranges::fill(raster.samples(), grey);
        must(imaging::write_picture(folder / name, raster, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.stage = stage;
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        if (placed) must(place_by_corners(acting, id, {{{0, 0}, {202, 0}, {202, 152}, {0, 152}}}));
        return id;
    }
    // What each comparison says of this pair, the earlier first.
    std::vector<std::string> said_of(const Uuid& before, const Uuid& after) {
        const auto code = [](const auto& answer) { return answer ? std::string() : answer.error().code; };
        return {code(map_colour_difference(book, before, after, {.cleaned_areas = true})),
                code(compare_cracks(acting, before, after)), code(forecast_cleaning(acting, {before, after, {}, {}}))};
    }
    void all_say(const Uuid& before, const Uuid& after, const std::string& expected) {
        for (const std::string& code : said_of(before, after)) CHECK(code == expected);
    }
};

}  // namespace

TEST_CASE("Every comparison refuses the same pairs in the same words") {
    Shop shop;
    const Uuid early = shop.photograph("early.png", 100, "as-received");
    const Uuid late = shop.photograph("late.png", 140, "cleaned");
    const Uuid lying = shop.photograph("lying.png", 150, "cleaned", false);
    const Uuid gone = shop.photograph("gone.png", 160, "cleaned");
    must(remove_record(shop.acting, gone, "out of focus"));
    const Uuid width =
        shop.add("measurement", FieldValues().text("what", "width").number("value", 9).text("unit", "mm"));
    shop.all_say(early, early, "photograph.same");
    shop.all_say(early, shop.recto(), "photograph.not-a-photograph");
    shop.all_say(width, late, "photograph.not-a-photograph");
    shop.all_say(early, gone, "casebook.deleted-record");
    shop.all_say(gone, late, "casebook.deleted-record");
    shop.all_say(early, lying, "photograph.not-placed");
    shop.all_say(lying, late, "photograph.not-placed");
    shop.all_say(late, early, "photograph.wrong-way-round");
    const Uuid elsewhere = must(open_case(shop.acting, {"Another", "", SizeMm{812, 610}}));
    NewPhotograph wanted;
    wanted.case_id = elsewhere;
    wanted.file = shop.folder / "late.png";
    wanted.stage = "cleaned";
    shop.all_say(early, must(take_in_photograph(shop.acting, wanted)).id, "photograph.other-case");
    // Looking at a difference the other way round is no mistake; telling what was cleaned by it is.
    CHECK(map_colour_difference(shop.book, late, early));
}

TEST_CASE("What takes one photograph refuses what is none as comparisons do") {
    Shop shop;
    const Uuid id = shop.photograph("early.png", 100, "as-received");
    const Uuid gone = shop.photograph("gone.png", 160, "cleaned");
    must(remove_record(shop.acting, gone, "out of focus"));
    const std::array<PointPx, 4> corners{{{0, 0}, {202, 0}, {202, 152}, {0, 152}}};
    for (const auto& [what, expected] : {std::pair{shop.recto(), std::string("photograph.not-a-photograph")},
                                         std::pair{gone, std::string("casebook.deleted-record")}}) {
        CHECK(register_photograph(shop.acting, what, id).error().code == expected);
        CHECK(register_photograph(shop.acting, id, what).error().code == expected);
        CHECK(place_by_corners(shop.acting, what, corners).error().code == expected);
        CHECK(measure_chart(shop.acting, what).error().code == expected);
    }
}

TEST_CASE("Colour is asked of photographs in normal and cross-polarised light alone") {
    Shop shop;
    const Uuid normal = shop.photograph("normal.png", 100, "as-received");
    const Uuid other = shop.photograph("other.png", 140, "as-received");
    for (const std::string_view light : casebook::words_of(*casebook::find_kind("photograph")->field("light"))) {
        CAPTURE(std::string(light));
        must(change_record(shop.acting, other, FieldValues().text("light", light).text("caption", light)));
        const bool shows = light == "normal" || light == "cross-polarised";
        CHECK(casebook::shows_colour(light) == shows);
        const auto map = map_colour_difference(shop.book, normal, other);
        CHECK((map ? "" : map.error().code) == (shows ? "" : "photograph.no-colour-light"));
        // A chart is looked for in vain in a grey field; in another light it is not even looked for.
        CHECK((measure_chart(shop.acting, other).error().code == "photograph.no-colour-light") == !shows);
    }
}

TEST_CASE("Cracks and colours of a pair lie apart by one figure") {
    Shop shop;
    const Uuid first = shop.photograph("first.png", 100, "as-received");
    const Uuid second = shop.photograph("second.png", 140, "cleaned");
    const auto lie_apart = [&] { return must(map_colour_difference(shop.book, first, second)).error_mm; };
    shop.laid_over(first, second, 0.3);
    CHECK(lie_apart() == Approx(0.3));
    CHECK(must(compare_cracks(shop.acting, first, second)).error_mm == Approx(lie_apart()));
}

namespace {

// By corners both, to one error; `moving` laid over `reference` within 0.3 mm.
struct LaidPair : Shop {
    Uuid reference = photograph("reference.png", 100, "as-received");
    Uuid moving = photograph("moving.png", 140, "cleaned");
    Uuid registration = laid_over(reference, moving, 0.3);
    double by_corners_mm = placement_of(reference).error_mm;

    LaidPair() {
        FieldValues lies;
        must(change_record(acting, moving, casebook::place_by(lies, placement_of(moving), registration)));
    }

    Placement placement_of(const Uuid& id) { return *snapshot().find(id)->body.placement("face_from_photo"); }
    double apart_mm() { return must(map_colour_difference(book, reference, moving)).error_mm; }
};

}  // namespace

TEST_CASE("A photograph lies by the registration that its placement names, whatever another one's figures are") {
    LaidPair shop;
    // A later one of the same photograph over another, with the very figure of the first.
    const Uuid third = shop.photograph("third.png", 120, "as-received");
    FieldValues later;
    later.record("reference", third).record("moving", shop.moving).flag("usable", true);
    later.number("error_mm", shop.placement_of(shop.moving).error_mm);
    shop.add("registration", later);
    CHECK(shop.apart_mm() == Approx(0.3));
    // What the named one says no longer counts for anything once it is gone; no other takes its place.
    must(remove_record(shop.acting, shop.registration, "laid wrongly"));
    CHECK(shop.apart_mm() == Approx(std::hypot(shop.by_corners_mm, shop.placement_of(shop.moving).error_mm)));
}

TEST_CASE("Placing by corners takes the name of the registration away, and taking that back brings it again") {
    LaidPair shop;
    const auto placed = must(place_by_corners(shop.acting, shop.moving, {{{0, 0}, {202, 0}, {202, 152}, {0, 152}}}));
    CHECK_FALSE(shop.snapshot().find(shop.moving)->body.has("face_from_photo/registration"));
    CHECK(shop.apart_mm() == Approx(std::sqrt(2.0) * shop.by_corners_mm));
    must(take_back(shop.acting, placed.done.back().inverse));
    CHECK(shop.snapshot().find(shop.moving)->body.record("face_from_photo/registration") == shop.registration);
    CHECK(shop.apart_mm() == Approx(0.3));
}

TEST_CASE("A placement of an older program, which names no registration, is known by its error") {
    LaidPair shop;
    const Placement unnamed = shop.placement_of(shop.moving);
    must(change_record(shop.acting, shop.moving, FieldValues().placement("face_from_photo", unnamed)));
    CHECK(shop.apart_mm() == Approx(0.3));
    Placement other = unnamed;
    other.error_mm += 0.01;
    must(change_record(shop.acting, shop.moving, FieldValues().placement("face_from_photo", other)));
    CHECK(shop.apart_mm() == Approx(std::hypot(shop.by_corners_mm, other.error_mm)));
}
