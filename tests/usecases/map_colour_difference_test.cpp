// The map is checked against the colour formula itself (CIE 142-2001, CIEDE2000; colour.hpp), on pictures of one
// colour.
#include "tedge/usecases/map_colour_difference.hpp"

#include <array>
#include <cmath>

#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

using Colour = std::array<std::uint8_t, 3>;

struct TwoColours : UsecaseBook {
    // The face (812 × 610 mm) from corner to corner, its right half in another colour.
    Uuid photo(const std::string& name, SizePx size, Colour left, Colour right, const char* light = "normal") {
        imaging::Raster8 raster(size.width_px, size.height_px, 3);
        for (int y = 0; y < size.height_px; ++y) {
            for (int x = 0; x < size.width_px; ++x) {
                for (int c = 0; c < 3; ++c)
                    raster.at(x, y, c) = (2 * x < size.width_px ? left : right)[static_cast<std::size_t>(c)];
            }
        }
        return placed(name, raster, light);
    }
    Uuid placed(const std::string& name, const imaging::Raster8& raster, const char* light = "normal") {
        must(imaging::write_picture(folder / name, raster, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.light = light;
        wanted.stage = "as-received";
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double w = raster.width_px() - 1;
        const double h = raster.height_px() - 1;
        must(place_by_corners(acting, id, {{{0, 0}, {w, 0}, {w, h}, {0, h}}}));
        return id;
    }
};

}  // namespace

TEST_CASE("Half of the face that changed its colour is measured and drawn, the other half is dark") {
    TwoColours shop;
    const Colour grey{119, 119, 119};
    const Colour warm{150, 119, 90};
    const Uuid before = shop.photo("before.png", {406, 305}, grey, grey);
    const Uuid after = shop.photo("after.png", {812, 610}, grey, warm);  // twice as fine
    const auto map = must(map_colour_difference(shop.book, before, after));
    const auto lab = [](const Colour& c) { return imaging::lab_from_srgb8(c[0], c[1], c[2]); };
    const double expected = imaging::delta_e00(lab(grey), lab(warm));
    REQUIRE(expected > 10);
    CHECK(map.figures.p95 == Approx(expected).margin(0.5));
    // Along the edge between the colours the cubic kernel swings over a little (Keys 1981: by some hundredths of a
    // step).
    CHECK(map.figures.max >= expected - 0.5);
    CHECK(map.figures.max < 1.15 * expected);
    CHECK(map.figures.mean == Approx(expected / 2).margin(0.4));
    CHECK(map.figures.p50 < expected);
    CHECK(map.note == "includes gloss");
    REQUIRE(map.drawn.size() == SizePx{406, 305});
    const auto dark = imaging::scale_colour(0.0);
    const auto changed = imaging::scale_colour(expected / map.scale.top);
    for (int c = 0; c < 3; ++c) {
        const auto channel = static_cast<std::size_t>(c);
        CHECK(int{map.drawn.at(100, 150, c)} == Approx(int{dark[channel]}).margin(2));
        CHECK(int{map.drawn.at(300, 150, c)} == Approx(int{changed[channel]}).margin(6));
    }
}

TEST_CASE("Where the two lie too loosely on each other the map is a look, and its figure is not kept") {
    TwoColours shop;
    // Every pixel another tone: a misfit of a pixel could make any difference there is.
    const auto speckled = [](std::uint32_t seed) {
        imaging::Raster8 raster(160, 120, 3);
        for (std::uint8_t& sample : raster.samples()) {
            seed = seed * 1664525U + 1013904223U;
            sample = static_cast<std::uint8_t>(60 + (seed >> 25U));
        }
        return raster;
    };
    const Uuid before = shop.placed("before.png", speckled(1));
    const Uuid after = shop.placed("after.png", speckled(2));
    const auto map = must(map_colour_difference(shop.book, before, after));
    CHECK(map.only_a_look);
    CHECK(map.figures.mean > 5);
    CHECK(map.floor_sentence.find("no evidence") != std::string::npos);
    const auto kept = record_colour_difference(shop.acting, before, after, map);
    REQUIRE_FALSE(kept);
    CHECK(shop.count("measurement") == 0);
}

TEST_CASE("What shows no colour, is not placed or is told to stop is refused") {
    TwoColours shop;
    const Colour grey{119, 119, 119};
    const Uuid normal = shop.photo("normal.png", {406, 305}, grey, {120, 119, 119});
    const Uuid raking = shop.photo("raking.png", {406, 305}, grey, {121, 119, 119}, "raking");
    CHECK(map_colour_difference(shop.book, normal, raking).error().code == "photograph.no-colour-light");
    const Uuid colourless = shop.placed("colourless.png", imaging::Raster8(406, 305, 1));
    CHECK(map_colour_difference(shop.book, normal, colourless).error().code == "photograph.grey");
    CHECK(map_colour_difference(shop.book, colourless, normal).error().code == "photograph.grey");
    const Uuid other = shop.photo("other.png", {406, 305}, grey, {122, 119, 119});
    must(change_record(shop.acting, other, FieldValues().unset("face_from_photo").unset("face_frame")));
    CHECK(map_colour_difference(shop.book, normal, other).error().code == "photograph.not-placed");
    CHECK(map_colour_difference(shop.book, other, normal).error().code == "photograph.not-placed");
    const Uuid last = shop.photo("last.png", {406, 305}, grey, {123, 119, 119});
    std::stop_source stop;
    stop.request_stop();
    CHECK(map_colour_difference(shop.book, normal, last, {}, Progress(stop.get_token(), {})).error().code ==
          "cancelled");
}

namespace {

// As measure_chart records it (measure_chart_test.cpp holds that to it), of a photograph whose colours are true.
void chart_measured(TwoColours& shop, const Uuid& photograph, double delta_e00) {
    std::array<double, 18> coefficients{};
    for (std::size_t row = 0; row < 3; ++row)
        for (std::size_t column = 0; column < 3; ++column)
            coefficients[6 * row + column] = imaging::xyz_d50_from_linear_srgb()[row][column];
    shop.add("measurement", FieldValues()
                                .text("what", "colour error by the chart")
                                .number("value", delta_e00)
                                .text("unit", "ΔE00")
                                .value("chart_fit", {{"model", "matrix"},
                                                     {"light", "srgb"},
                                                     {"edition", "maker-2005"},
                                                     {"gains", {1.0, 1.0, 1.0}},
                                                     {"coefficients", coefficients}})
                                .value("from_photographs", nlohmann::json::object({{to_text(photograph), "chart"}})));
}

}  // namespace

TEST_CASE("Without charts in both it is a look and no measurement; with them the floor is said and the figure kept") {
    TwoColours shop;
    const Colour grey{119, 119, 119};
    const Colour warm{150, 119, 90};
    const Uuid before = shop.photo("before.png", {406, 305}, grey, grey);
    const Uuid after = shop.photo("after.png", {406, 305}, grey, warm);
    const auto look = must(map_colour_difference(shop.book, before, after));
    CHECK_FALSE(look.floor_delta_e00);
    CHECK(look.floor_sentence.starts_with("A look, not a measurement. No chart is in either photograph"));
    CHECK(look.scale.floor == 0.0);
    CHECK(record_colour_difference(shop.acting, before, after, look).error().code == "colour-difference.no-chart");
    chart_measured(shop, before, 9.0);  // measured again since
    chart_measured(shop, before, 3.0);
    CHECK_FALSE(must(map_colour_difference(shop.book, before, after)).floor_delta_e00);
    chart_measured(shop, after, 4.0);

    const Uuid right = shop.add("measurement", FieldValues()
                                                   .text("what", "area")
                                                   .number("value", 400)
                                                   .text("unit", "cm²")
                                                   .record("face_frame", shop.recto())
                                                   .region("region", square(500, 100, 200)));
    const auto map = must(
        map_colour_difference(shop.book, before, after, {.kind = imaging::DifferenceKind::delta_b, .places = {right}}));
    CHECK(*map.floor_delta_e00 == Approx(5.0));  // 3 and 4 as independent errors
    CHECK(map.floor_sentence ==
          "Both are corrected by their charts. Differences below 5.0 ΔE00 are no evidence of a change.");
    CHECK(map.scale.both_ways);
    CHECK(map.scale.floor == Approx(5.0));
    REQUIRE(map.places.size() == 1);
    const auto lab = [](const Colour& c) { return imaging::lab_from_srgb8(c[0], c[1], c[2]); };
    const double yellower = lab(warm).b - lab(grey).b;
    const auto& there = map.places[0].figures;
    REQUIRE(there.figures);
    CHECK(there.figures->mean == Approx(yellower).margin(0.1));
    CHECK(there.area_cm2 == Approx(400.0));
    CHECK(there.counted_cm2 == Approx(400.0).epsilon(0.02));
    CHECK(map.whole.area_cm2 == Approx(81.2 * 61.0));

    const Done done = must(record_colour_difference(shop.acting, before, after, map, right));
    const casebook::Record kept = must(shop.book.record(done.record));
    CHECK(*kept.body.number("value") == Approx(yellower).margin(0.1));
    CHECK_FALSE(kept.body.has("uncertainty"));  // the floor is one of ΔE00, not of b*
    CHECK(kept.body.text_or("note").find("Differences below 5.0 ΔE00") != std::string::npos);
    const auto whole = must(map_colour_difference(shop.book, before, after));
    const Done of_de = must(record_colour_difference(shop.acting, before, after, whole));
    CHECK(*must(shop.book.record(of_de.record)).body.number("uncertainty") == Approx(5.0));
    CHECK(kept.body.region("region")->area_mm2() == Approx(40000.0));
    CHECK(kept.body.text_or("note").find("Includes gloss.") != std::string::npos);
    const Uuid nowhere = shop.add("measurement", FieldValues().text("what", "x").number("value", 1).text("unit", "mm"));
    CHECK(map_colour_difference(shop.book, before, after, {.places = {nowhere}}).error().code ==
          "colour-difference.no-place");
}

TEST_CASE("What is below the floor of ΔE00 is no evidence in any map, and a wide floor stays the map's floor") {
    TwoColours shop;
    const Colour red{200, 40, 30}, redder{214, 32, 12}, grey{119, 119, 119};
    const auto lab = [](const Colour& c) { return imaging::lab_from_srgb8(c[0], c[1], c[2]); };
    const auto chroma = [&](const Colour& c) { return std::hypot(lab(c).a, lab(c).b); };
    // S_C = 1 + 0.045 C' (CIE 142-2001): the chroma of saturated red moves far while ΔE00 stays small.
    REQUIRE(chroma(redder) - chroma(red) > 6.0);
    REQUIRE(imaging::delta_e00(lab(red), lab(redder)) < 4.5);
    const Uuid before = shop.photo("before.png", {406, 305}, grey, red);
    const Uuid after = shop.photo("after.png", {406, 305}, grey, redder);
    chart_measured(shop, before, 3.0);
    chart_measured(shop, after, 4.0);
    const auto map = must(map_colour_difference(shop.book, before, after, {.kind = imaging::DifferenceKind::delta_c}));
    CHECK(map.figures.p95 > 6.0);  // told all the same, beside the floor
    const auto nothing = imaging::two_way_colour(0.0);
    for (int c = 0; c < 3; ++c) CHECK(map.drawn.at(300, 150, c) == nothing[static_cast<std::size_t>(c)]);

    chart_measured(shop, before, 9.0);
    chart_measured(shop, after, 12.03);
    const auto wide = must(map_colour_difference(shop.book, before, after));
    CHECK(*wide.floor_delta_e00 == Approx(std::hypot(9.0, 12.03)));
    CHECK(wide.floor_sentence.find("below 15.0 ΔE00") != std::string::npos);
    CHECK(wide.scale.floor == 15.0);
    CHECK(wide.scale.top == 30.0);
}

TEST_CASE("Two photographs registered on one do not carry the error of its corners between them") {
    TwoColours shop;
    const Colour grey{119, 119, 119};
    const Uuid first = shop.photo("first.png", {406, 305}, grey, grey);
    const Uuid second = shop.photo("second.png", {406, 305}, grey, {120, 119, 119});
    const double by_corners = must(map_colour_difference(shop.book, first, second)).error_mm;
    const double corners_mm = shop.snapshot().find(first)->body.placement("face_from_photo")->error_mm;
    CHECK(by_corners == Approx(std::sqrt(2.0) * corners_mm));
    shop.laid_over(first, second, 0.3);
    CHECK(must(map_colour_difference(shop.book, first, second)).error_mm == Approx(0.3));
    CHECK(must(map_colour_difference(shop.book, second, first)).error_mm == Approx(0.3));
}

TEST_CASE("A cleaned window is told with its area, from the stored originals") {
    TwoColours shop;
    const Uuid before = shop.photo("before.png", {406, 305}, {120, 95, 50}, {150, 110, 60});
    const Uuid after = shop.photo("after.png", {406, 305}, {150, 135, 110}, {150, 110, 60});
    const auto map = must(map_colour_difference(shop.book, before, after, {.cleaned_areas = true}));
    REQUIRE(map.cleaned);
    REQUIRE(map.cleaned->areas.size() == 1);  // the left half
    // How true outlines are is cleaned_areas_test.cpp's; two flat colours tell little about where their edge lies.
    CHECK(map.cleaned->areas[0].area_cm2 == Approx(40.6 * 61.0).epsilon(0.1));
    CHECK(map.cleaned->areas[0].delta_b < -10.0);
    CHECK_FALSE(must(map_colour_difference(shop.book, before, after)).cleaned);
}

TEST_CASE("A drawn difference is kept where it lies, with what makes it again, and once") {
    TwoColours shop;
    const Uuid first = shop.photo("first.png", {406, 305}, {119, 119, 119}, {119, 119, 119});
    const Uuid second = shop.photo("second.png", {406, 305}, {119, 119, 119}, {150, 119, 90});
    shop.laid_over(first, second, 0.3);
    const ColourDifferenceWanted wanted{.kind = imaging::DifferenceKind::delta_b};
    const auto map = must(map_colour_difference(shop.book, first, second, wanted));
    CHECK(shop.count("derived_picture") == 0);
    const KeptPicture kept = must(keep_colour_difference(shop.acting, first, second, map));
    const auto record = must(shop.book.record(kept.done.record));
    CHECK(record.body.text_or("what") == "difference");
    CHECK(record.body.text_or("from_photographs/" + to_text(first)) == "before");
    CHECK(record.body.text_or("from_photographs/" + to_text(second)) == "after");
    CHECK(record.body.text_or("caption") == "Δb* between two photographs: a look, not a measurement");
    CHECK(record.body.record("face_frame") == map.face_frame);
    CHECK(record.body.placement("face_from_picture")->to_face({405, 304}).x_mm == Approx(812.0).margin(0.01));
    CHECK(record.body.integer("width_px") == map.drawn.width_px());
    const auto& recipe = record.body.as_json().at("recipe");
    CHECK(recipe.at("map") == "delta-b");
    CHECK(recipe.at("floor_delta_e00").is_null());
    CHECK(recipe.at("floor") == map.floor_sentence);
    CHECK(recipe.at("scale") == nlohmann::json{0.0, 20.0});
    CHECK(recipe.at("scale_both_ways") == true);
    CHECK(recipe.at("first").at("sha256") == must(shop.book.record(first)).body.text_or("sha256"));
    CHECK(recipe.at("second").at("correction").is_null());
    CHECK(recipe.at("error_px").get<double>() == Approx(0.3 * 405.0 / 812.0).epsilon(0.01));
    const auto again = must(map_colour_difference(shop.book, first, second, wanted));
    CHECK(must(keep_colour_difference(shop.acting, first, second, again)).already);
    CHECK(shop.count("derived_picture") == 1);

    // No change is told backwards, and none where a misfit could make all of it.
    must(change_record(shop.acting, second, FieldValues().text("stage", "cleaned")));
    const auto backwards = must(map_colour_difference(shop.book, second, first));
    CHECK(keep_colour_difference(shop.acting, second, first, backwards).error().code == "photograph.wrong-way-round");
    auto loose = again;
    loose.only_a_look = true;
    CHECK(keep_colour_difference(shop.acting, first, second, loose).error().code == "colour-difference.too-loose");
}
