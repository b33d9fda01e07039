// What is on record of how photographs were taken, told as it was measured.
#include "tedge/usecases/photograph_figures.hpp"

#include <algorithm>

#include "../support/made_chart.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/measure_scale.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{640, 480};

Uuid taken(UsecaseBook& shop, const std::filesystem::path& file) {
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.stage = "as-received";
    return must(take_in_photograph(shop.acting, wanted)).id;
}

Uuid with_chart(UsecaseBook& shop) {
    const MadeChart made{
        .size = size, .photo_from_chart = chart_seen(size, 4, 75, 0.01), .noise = 0.002, .exposure = 0.8};
    must(write_photographed(made, shop.folder / "chart.png"));
    return taken(shop, shop.folder / "chart.png");
}

std::filesystem::path even_board(UsecaseBook& shop) {
    imaging::Raster8 board(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c) board.at(x, y, c) = static_cast<std::uint8_t>(200 - 10 * x / size.width_px);
    const auto file = shop.folder / "board.png";
    must(imaging::write_picture(file, board, imaging::PictureFormat::png));
    return file;
}

std::vector<std::string> sentences(const std::vector<imaging::ToleranceLine>& lines) {
    std::vector<std::string> told;
    std::ranges::transform(lines, std::back_inserter(told), &imaging::ToleranceLine::sentence);
    return told;
}

}  // namespace

TEST_CASE("A chart's figures and their tolerances are read from the record as they were when it was measured") {
    UsecaseBook shop;
    const Uuid photograph = with_chart(shop);
    CHECK_FALSE(photograph_figures(shop.snapshot()).at(photograph).colour);
    const MeasuredChart measured = must(measure_chart(shop.acting, photograph));
    const auto figures = photograph_figures(shop.snapshot()).at(photograph);
    REQUIRE(figures.colour);
    CHECK(figures.colour->measurement == measured.done.record);
    REQUIRE(figures.colour->patches);
    const imaging::PatchErrors& was = measured.figures.fit.foretold;
    CHECK(figures.colour->patches->mean == Approx(was.mean));
    CHECK(figures.colour->patches->p90 == Approx(was.p90));
    CHECK(figures.colour->patches->p95 == Approx(was.p95));
    CHECK(figures.colour->patches->max == Approx(was.max));
    CHECK(figures.colour->patches->worst == was.worst);
    CHECK(sentences(figures.colour->tolerances) == sentences(measured.figures.tolerances));
    CHECK(figures.colour->tolerances.size() > 8);  // noise, tone and white balance among them
    CHECK_FALSE(figures.colour_is_overtaken);
}

TEST_CASE("A chart measured by an earlier version tells its mean alone") {
    UsecaseBook shop;
    const Uuid photograph = with_chart(shop);
    shop.add("measurement", casebook::FieldValues()
                                .text("what", "colour error by the chart")
                                .number("value", 1.5)
                                .text("unit", "ΔE00")
                                .value("from_photographs", {{to_text(photograph), "chart"}}));
    const auto figures = photograph_figures(shop.snapshot()).at(photograph);
    REQUIRE(figures.colour);
    CHECK_FALSE(figures.colour->patches);
    CHECK(std::ranges::all_of(figures.colour->tolerances,
                              [](const auto& line) { return line.parameter == "mean colour error"; }));
}

TEST_CASE("The board that is named tells how even the light was, and overtakes a chart measured before it") {
    UsecaseBook shop;
    const Uuid photograph = with_chart(shop);
    must(measure_chart(shop.acting, photograph));
    const MeasuredBoard board = must(measure_board(shop.acting, shop.case_id, even_board(shop), {photograph}));
    auto figures = photograph_figures(shop.snapshot()).at(photograph);
    REQUIRE(figures.evenness);
    CHECK(figures.evenness->value == Approx(board.non_uniformity_percent));
    CHECK(sentences(figures.evenness->tolerances) == sentences(board.tolerances));
    CHECK(figures.colour_is_overtaken);
    must(measure_chart(shop.acting, photograph));
    figures = photograph_figures(shop.snapshot()).at(photograph);
    CHECK_FALSE(figures.colour_is_overtaken);
}

TEST_CASE("Scale is told, what is of this photograph alone beside it, and what two of them gave is not") {
    UsecaseBook shop;
    const Uuid photograph = with_chart(shop);
    const double w = size.width_px - 1, h = size.height_px - 1;
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {w, 0}, {w, h}, {0, h}}}));
    const MeasuredScale scale = must(measure_scale(shop.acting, photograph));
    const auto other = [&](const char* what, const char* unit, const nlohmann::json& from) {
        shop.add("measurement", casebook::FieldValues()
                                    .text("what", what)
                                    .number("value", 1.25)
                                    .text("unit", unit)
                                    .value("from_photographs", from));
    };
    other("noise", "L*", {{to_text(photograph), "even patch"}});
    other("threads across", "per cm", {{to_text(photograph), "photograph"}});
    other("colour difference", "ΔE00", {{to_text(photograph), "reference"}, {to_text(shop.recto()), "second"}});
    const auto figures = photograph_figures(shop.snapshot()).at(photograph);
    REQUIRE(figures.scale);
    CHECK(figures.scale->value == Approx(scale.scale.px_per_mm));
    REQUIRE(figures.others.size() == 1);
    REQUIRE(figures.noise);
    CHECK(figures.noise->tolerances.size() == 2);  // FADGI 2016 and ISO/TS 19264-1 have a limit
    CHECK(figures.others[0].what == "threads across");
    CHECK(figures.others[0].tolerances.empty());
    CHECK_FALSE(figures.colour);
}
