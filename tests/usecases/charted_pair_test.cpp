// Made photographs of one invented painting with a colour chart beside it, in two exposures and white balances: what
// changed is known by construction, in the light of the painting itself.
#include <array>
#include <cmath>

#include "made_chart.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;
using casebook::FieldValues;

namespace {

constexpr SizePx size{640, 540};
constexpr int left = 60, top = 10, width = 520, height = 391;  // of the painted face
constexpr double px_per_mm = width / 812.0;
constexpr PointMm changed_at{200, 150};  // a square of 200 mm where paint became lighter, when it did
constexpr double changed_mm = 200.0, changed_light = 1.6;

struct Shot {
    double exposure = 1.0;
    std::array<double, 3> balance{1.0, 1.0, 1.0};
    bool changed = false;
    std::uint64_t seed = 1;
};
constexpr double noise = 0.002;  // of full scale, one standard deviation in linear light

bool in_changed(int x, int y) {
    const double x_mm = (x - left) / px_per_mm, y_mm = (y - top) / px_per_mm;
    return x_mm >= changed_at.x_mm && x_mm < changed_at.x_mm + changed_mm && y_mm >= changed_at.y_mm &&
           y_mm < changed_at.y_mm + changed_mm;
}

// Linear light of the painting itself, at most 0.55: room for what becomes lighter.
std::array<double, 3> painted(int x, int y, bool changed) {
    static const PaintedScene scene{.seed = 5, .stroke_px = 80.0, .layers = 2};
    const auto colour = scene.colour({static_cast<double>(x), static_cast<double>(y)});
    std::array<double, 3> out{};
    for (std::size_t c = 0; c < 3; ++c)
        out[c] = 0.03 + 0.5 * imaging::srgb_decoded(colour[c]) * (changed && in_changed(x, y) ? changed_light : 1.0);
    return out;
}

MadeChart chart_of(const Shot& shot) {
    MadeChart made{.size = size,
                   .photo_from_chart = chart_seen(size, 0, 24, 0.0, 0.0, 205.0),
                   .noise = noise,
                   .exposure = shot.exposure,
                   .samples = 4,
                   .seed = shot.seed};
    for (std::size_t c = 0; c < 3; ++c)
        for (double& each : made.camera_from_xyz[c]) each *= shot.balance[c];
    return made;
}

imaging::Raster8 photograph_of(const Shot& shot) {
    imaging::ChartPicture linear = photographed(chart_of(shot));
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x) {
            const auto light = painted(x, y, shot.changed);
            for (std::size_t c = 0; c < 3; ++c) {
                double n = -6.0;
                for (unsigned k = 0; k < 12; ++k) n += counted(shot.seed + 77, x, y, c * 12 + k);
                const double v = light[c] * shot.exposure * shot.balance[c] + n * noise;
                linear.linear.at(x, y, static_cast<int>(c)) =
                    static_cast<std::uint16_t>(std::lround(std::clamp(v, 0.0, 1.0) * 65535.0));
            }
        }
    imaging::Raster8 shown(size.width_px, size.height_px, 3);
    for (std::size_t i = 0; i < shown.samples().size(); ++i)
        shown.samples()[i] =
            static_cast<std::uint8_t>(std::lround(255 * imaging::srgb_encoded(linear.linear.samples()[i] / 65535.0)));
    return shown;
}

struct Shop : UsecaseBook {
    Uuid taken(const std::string& name, const Shot& shot) {
        must(imaging::write_picture(folder / name, photograph_of(shot), imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.stage = "as-received";
        wanted.has_chart = true;
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double right = left + width - 0.5, bottom = top + height - 0.5;
        must(place_by_corners(acting, id,
                              {{{left - 0.5, top - 0.5}, {right, top - 0.5}, {right, bottom}, {left - 0.5, bottom}}}));
        return id;
    }
    double measure(const Uuid& id, const Shot& shot) {
        return must(measure_chart(acting, id, {.corners_px = true_corners(chart_of(shot))})).figures.fit.foretold.mean;
    }
};

constexpr Shot first_shot{.exposure = 0.9, .balance = {1.0, 1.0, 1.0}, .changed = false, .seed = 11};
constexpr Shot second_shot{.exposure = 0.6, .balance = {1.12, 1.0, 0.8}, .changed = false, .seed = 12};

// Mean ΔE00 that the change of the painting makes within the square, in true colours.
double true_change() {
    double sum = 0.0;
    int pixels = 0;
    const auto lab = [](const std::array<double, 3>& light) {
        return imaging::lab_from_xyz(imaging::xyz_from_linear_srgb({light[0], light[1], light[2]}));
    };
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x)
            if (in_changed(x, y)) {
                sum += imaging::delta_e00(lab(painted(x, y, false)), lab(painted(x, y, true)));
                ++pixels;
            }
    return sum / pixels;
}

}  // namespace

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
