#include "tedge/usecases/measure_chart.hpp"

#include <cmath>

#include "../support/made_chart.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;

namespace {

Uuid chart_photograph(UsecaseBook& shop, const std::string& light, const MadeChart& made) {
    const auto file = shop.folder / (light + ".png");
    must(write_photographed(made, file));
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.light = light;
    wanted.stage = "as-received";
    wanted.has_chart = true;
    return must(take_in_photograph(shop.acting, wanted)).id;
}

MadeChart seen() {
    return {
        .size = {640, 480}, .photo_from_chart = chart_seen({640, 480}, 4, 75, 0.01), .noise = 0.002, .exposure = 0.8};
}

}  // namespace

TEST_CASE("A photograph's chart is measured and the figure recorded, and taking it back removes it") {
    UsecaseBook shop;
    const Uuid photograph = chart_photograph(shop, "normal", seen());
    const MeasuredChart measured = must(measure_chart(shop.acting, photograph));
    // Made from the very reference values, so what is left is 8 bits, noise and the patches outside sRGB.
    CHECK(measured.figures.fit.foretold.mean < 1.0);
    CHECK(measured.figures.fit.foretold.p90 <= measured.figures.fit.foretold.p95);
    CHECK(measured.figures.fit.foretold.p95 <= measured.figures.fit.foretold.max);
    CHECK_FALSE(measured.figures.tolerances.empty());
    const auto snapshot = shop.snapshot();
    const casebook::Record* record = snapshot.find(measured.done.record);
    REQUIRE(record != nullptr);
    CHECK(record->kind == "measurement");
    CHECK(record->body.text_or("unit") == "ΔE00");
    CHECK(*record->body.number("value") == Approx(measured.figures.fit.foretold.mean));
    CHECK(record->body.text_or("from_photographs/" + to_text(photograph)) == "chart");
    CHECK(record->body.text_or("note").find("before November 2014") != std::string::npos);
    CHECK(record->body.text_or("chart_fit/edition") == "maker-2005");
    CHECK(record->body.as_json().at("chart_fit").at("coefficients").size() == 18);
    must(take_back(shop.acting, measured.done.inverse));
    CHECK(shop.count("measurement") == 0);
}

TEST_CASE("By corners, by another edition, and what is refused leaves no record") {
    UsecaseBook shop;
    const MadeChart made = seen();
    const Uuid photograph = chart_photograph(shop, "normal", made);
    const MeasuredChart late =
        must(measure_chart(shop.acting, photograph, {.corners_px = true_corners(made), .edition = "maker-2014"}));
    CHECK(late.figures.fit.edition == "maker-2014");
    CHECK(shop.count("measurement") == 1);

    CHECK(measure_chart(shop.acting, photograph, {.edition = "newest"}).error().code == "chart-reference.unknown");
    CHECK(measure_chart(shop.acting, photograph, {.own_chart = shop.folder / "none.txt"}).error().code ==
          "files.missing");
    MadeChart other = made;
    other.seed = 2;
    const Uuid violet = chart_photograph(shop, "ultraviolet", other);
    CHECK(measure_chart(shop.acting, violet).error().code == "photograph.no-colour-light");
    CHECK(measure_chart(shop.acting, shop.recto()).error().code == "photograph.not-a-photograph");
    CHECK(shop.count("measurement") == 1);
}
