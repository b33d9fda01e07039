// Colours compared by the charts that lie beside the picture in both photographs.
#include "charted_shop.hpp"

using namespace tedge;
using namespace tedge::charted;

TEST_CASE("An unchanged painting in two exposures: a large difference as developed, below the floor by the charts") {
    Shop shop;
    const Uuid first = shop.taken("first.png", first_shot), second = shop.taken("second.png", second_shot);
    shop.laid_over(first, second, 0.05);
    const auto as_developed = must(map_colour_difference(shop.book, first, second));
    CHECK(as_developed.figures.mean > 8.0);
    CHECK_FALSE(as_developed.floor_delta_e00);
    CHECK(as_developed.charts_missing.find("A chart is in the first and is not measured yet") == 0);
    CHECK(as_developed.floor_sentence.find("measure it first") != std::string::npos);
    CHECK(as_developed.floor_sentence.find("another exposure") != std::string::npos);

    const double one = shop.measure(first, first_shot);
    const auto half_way = must(map_colour_difference(shop.book, first, second));
    CHECK_FALSE(half_way.floor_delta_e00);
    CHECK(half_way.figures.mean == Approx(as_developed.figures.mean));
    CHECK(half_way.charts_missing.find("A chart is in the second") == 0);

    const double other = shop.measure(second, second_shot);
    const auto corrected = must(map_colour_difference(shop.book, first, second));
    REQUIRE(corrected.floor_delta_e00);
    CHECK(corrected.charts_missing.empty());
    CHECK(*corrected.floor_delta_e00 >= std::hypot(one, other));
    CHECK(*corrected.floor_delta_e00 < 2.5);
    CHECK(corrected.figures.mean < *corrected.floor_delta_e00);
    CHECK(corrected.figures.mean < as_developed.figures.mean / 4.0);  // what is left is noise
    CHECK(corrected.floor_sentence.starts_with("Both are corrected by their charts. Differences below"));
    CAPTURE(as_developed.figures.mean, corrected.figures.mean, *corrected.floor_delta_e00, one, other);
    SUCCEED("figures, for -s");
}

TEST_CASE("A true change comes out as large as it is, whatever the exposures, and nothing beside it") {
    Shop shop;
    Shot after = second_shot;
    after.changed = true;
    const Uuid first = shop.taken("first.png", first_shot), second = shop.taken("second.png", after);
    shop.laid_over(first, second, 0.05);
    shop.measure(first, first_shot);
    shop.measure(second, after);
    const auto place = [&](double x_mm, double y_mm, double side_mm) {
        return shop.add("measurement", FieldValues()
                                           .text("what", "place")
                                           .number("value", 1)
                                           .text("unit", "mm")
                                           .record("face_frame", shop.recto())
                                           .region("region", square(x_mm, y_mm, side_mm)));
    };
    const Uuid changed = place(changed_at.x_mm, changed_at.y_mm, changed_mm), beside = place(500, 150, changed_mm);
    const auto map = must(map_colour_difference(shop.book, first, second, {.places = {changed, beside}}));
    REQUIRE(map.places.size() == 2);
    CHECK(map.places[0].figures.figures->mean == Approx(true_change()).margin(*map.floor_delta_e00));
    CHECK(map.places[1].figures.figures->mean < *map.floor_delta_e00);
    CHECK(map.places[0].figures.figures->mean > 2.0 * *map.floor_delta_e00);
    // The recipe says by what both were corrected, and from where on a difference counts.
    const auto recipe = nlohmann::json::parse(map.recipe);
    for (const char* each : {"first", "second"})
        CHECK(recipe.at(each).at("correction").at("coefficients").size() == 18);
    CHECK(recipe.at("first").at("correction") != recipe.at("second").at("correction"));
    CHECK(recipe.at("floor_delta_e00") == *map.floor_delta_e00);
    CHECK(recipe.at("scale").front().get<double>() ==
          Approx(*map.floor_delta_e00).margin(0.05));  // as the legend says it
}

TEST_CASE("A chart that was measured before corrections were kept is to be measured again") {
    Shop shop;
    const Uuid first = shop.taken("first.png", first_shot), second = shop.taken("second.png", second_shot);
    shop.measure(first, first_shot);
    shop.add("measurement", FieldValues()
                                .text("what", "colour error by the chart")
                                .number("value", 1.2)
                                .text("unit", "ΔE00")
                                .value("from_photographs", nlohmann::json::object({{to_text(second), "chart"}})));
    const auto map = must(map_colour_difference(shop.book, first, second));
    CHECK_FALSE(map.floor_delta_e00);
    CHECK(map.charts_missing.find("measure it again") != std::string::npos);
}

TEST_CASE("A chart that was evened by a board corrects nothing once the board's measurement was removed") {
    Shop shop;
    const Uuid first = shop.taken("first.png", first_shot), second = shop.taken("second.png", second_shot);
    imaging::Raster8 board(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            std::fill_n(&board.at(x, y), 3, static_cast<std::uint8_t>(200 - 16 * x / size.width_px));
    must(imaging::write_picture(shop.folder / "board.png", board, imaging::PictureFormat::png));
    const auto measured = must(measure_board(shop.acting, shop.case_id, shop.folder / "board.png", {first}));
    shop.measure(first, first_shot);
    shop.measure(second, second_shot);
    CHECK(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);
    must(take_back(shop.acting, measured.done.inverse));
    const auto map = must(map_colour_difference(shop.book, first, second));
    CHECK_FALSE(map.floor_delta_e00);
    CHECK(map.charts_missing.find("in the first was measured without a correction that fits it") != std::string::npos);
    shop.measure(first, first_shot);  // as it is now: evened by nothing
    CHECK(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);
}
