// Evenness of the light, sharpness and scale of photographs in a casebook. The photographs are made: what they show is
// a formula.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "../support/made_chart.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/measure_noise.hpp"
#include "tedge/usecases/measure_scale.hpp"
#include "tedge/usecases/measure_sharpness.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;

namespace {

constexpr SizePx usual_size{640, 480};

// Light from 0 to 1 by a formula of x, y and channel, as a 16-bit sRGB file.
template <class Light>
std::filesystem::path lit(UsecaseBook& shop, const std::string& name, SizePx size, Light&& light) {
    imaging::Raster16 shown(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c)
                shown.at(x, y, c) = static_cast<std::uint16_t>(
                    std::lround(65535.0 * imaging::srgb_encoded(std::clamp(light(x, y, c), 0.0, 1.0))));
    const auto file = shop.folder / (name + ".png");
    must(imaging::write_picture(file, shown, imaging::PictureFormat::png));
    return file;
}

Uuid taken(UsecaseBook& shop, const std::filesystem::path& file, const char* stage = "as-received") {
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.stage = stage;
    return must(take_in_photograph(shop.acting, wanted)).id;
}

void place_whole(UsecaseBook& shop, const Uuid& photograph, SizePx size) {
    const double w = size.width_px - 1, h = size.height_px - 1;
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {w, 0}, {w, h}, {0, h}}}));
}

// From 1 at the left to 1 - loss at the right.
double falls(double x, double loss) {
    return 1.0 - loss * x / (usual_size.width_px - 1);
}

// As made_chart.hpp takes light off towards the corners.
double vignetted(double x, double y, double loss) {
    const double cx = usual_size.width_px / 2.0, cy = usual_size.height_px / 2.0;
    return 1.0 - loss * ((x - cx) * (x - cx) + (y - cy) * (y - cy)) / (cx * cx + cy * cy);
}

bool has_line(const std::vector<imaging::ToleranceLine>& lines, std::string_view parameter, std::string_view level) {
    return std::ranges::any_of(lines, [&](const imaging::ToleranceLine& line) {
        return line.parameter == parameter && line.level == level && line.guideline == "FADGI 2016";
    });
}

}  // namespace

TEST_CASE(
    "A board tells how uneven the light is, once, beside the published tolerance; nothing of it is a photograph") {
    UsecaseBook shop;
    const auto board = lit(shop, "board", usual_size, [](int x, int, int) { return 0.7 * falls(x, 0.04); });
    const MeasuredBoard measured = must(measure_board(shop.acting, shop.case_id, board));
    CHECK(measured.non_uniformity_percent == Approx(4.0).margin(0.1));
    CHECK(measured.evened_percent < 0.2);
    CHECK(has_line(measured.tolerances, "unevenness of the light", "2-star"));  // below 5 %, not below 3 %
    const auto record = must(shop.book.record(measured.done.record));
    CHECK(record.kind == "measurement");
    CHECK(record.body.text_or("unit") == "%");
    CHECK(*record.body.number("value") == Approx(measured.non_uniformity_percent));
    CHECK(std::filesystem::exists(shop.book.original_path(record.body.text_or("sha256"))));
    CHECK(shop.count("photograph") == 0);
    CHECK(must(measure_board(shop.acting, shop.case_id, board)).already);
    CHECK(shop.count("measurement") == 1);
    CHECK(must(shop.book.check()).problems.empty());
    must(take_back(shop.acting, measured.done.inverse));
    CHECK(shop.count("measurement") == 0);

    const auto stripes = lit(shop, "stripes", usual_size, [](int x, int, int) { return x / 80 % 2 ? 0.2 : 0.7; });
    CHECK(measure_board(shop.acting, shop.case_id, stripes).error().code == "flat-field.not-even");
}

TEST_CASE("A board is named for photographs of its size, for all of them or for none") {
    UsecaseBook shop;
    const auto board = lit(shop, "board", usual_size, [](int x, int, int) { return 0.7 * falls(x, 0.3); });
    const Uuid same = taken(shop, lit(shop, "same", usual_size, [](int, int y, int) { return y / 600.0; }));
    const Uuid small = taken(shop, lit(shop, "small", {320, 240}, [](int, int y, int) { return y / 600.0; }));
    CHECK(measure_board(shop.acting, shop.case_id, board, {same, small}).error().code == "flat-field.size");
    CHECK(shop.count("measurement") == 0);
    CHECK_FALSE(must(shop.book.record(same)).body.has("even_board"));
    const MeasuredBoard measured = must(measure_board(shop.acting, shop.case_id, board, {same}));
    REQUIRE(measured.named.size() == 1);
    CHECK(must(shop.book.record(same)).body.record("even_board") == measured.done.record);
    CHECK(name_board(shop.acting, shop.recto(), {same}).error().code == "flat-field.no-board");
    const Uuid other = must(open_case(shop.acting, {"Mill", "", SizeMm{300, 200}}));
    CHECK(measure_board(shop.acting, other, board, {same}).error().code == "flat-field.other-case");
    must(take_back(shop.acting, measured.named.front().inverse));
    CHECK_FALSE(must(shop.book.record(same)).body.has("even_board"));
}

TEST_CASE("A chart under uneven light measures better once it is evened, and the record says so") {
    UsecaseBook shop;
    constexpr double loss = 0.45;
    const MadeChart chart{.size = usual_size,
                          .photo_from_chart = chart_seen(usual_size, 4, 88, 0.01),
                          .noise = 0.002,
                          .vignetting = loss,
                          .exposure = 0.8};
    must(write_photographed(chart, shop.folder / "chart.png"));
    const Uuid photograph = taken(shop, shop.folder / "chart.png");
    const MeasuredChart plain = must(measure_chart(shop.acting, photograph));
    CHECK_FALSE(plain.figures.evened);
    const auto board = lit(shop, "board", usual_size, [](int x, int y, int) { return 0.7 * vignetted(x, y, loss); });
    must(measure_board(shop.acting, shop.case_id, board, {photograph}));
    const MeasuredChart even = must(measure_chart(shop.acting, photograph));
    REQUIRE(even.figures.evened);
    CHECK(even.figures.evened->as_photographed_mean_delta_e00 == Approx(plain.figures.fit.foretold.mean));
    CHECK(even.figures.evened->non_uniformity_percent == Approx(100 * loss).margin(1.0));
    CHECK(even.figures.evened->evened_percent < 1.0);
    CHECK(even.figures.fit.foretold.mean < 0.5 * plain.figures.fit.foretold.mean);
    CHECK(even.figures.fit.foretold.mean < 1.0);
    const auto note = must(shop.book.record(even.done.record)).body.text_or("note");
    CHECK(note.find("Evened by the board") != std::string::npos);
    // The same of a file, by a board that is named for it there.
    const auto file = must(chart_figures(shop.folder / "chart.png", {.board = board}));
    CHECK(file.fit.foretold.mean == Approx(even.figures.fit.foretold.mean));
}

TEST_CASE("Two photographs of one surface under two lamps do not differ once each is evened by its board") {
    UsecaseBook shop;
    const auto paint = [](int x, int y, int c) { return 0.25 + 0.15 * std::sin(x / 30.0 + c) * std::cos(y / 40.0); };
    const auto from_left = [](int x) { return falls(x, 0.4); };
    const auto from_right = [](int x) { return 0.6 + 0.4 * x / (usual_size.width_px - 1.0); };
    const Uuid first =
        taken(shop, lit(shop, "first", usual_size, [&](int x, int y, int c) { return from_left(x) * paint(x, y, c); }));
    const Uuid second = taken(
        shop, lit(shop, "second", usual_size, [&](int x, int y, int c) { return from_right(x) * paint(x, y, c); }),
        "cleaned");
    place_whole(shop, first, usual_size);
    place_whole(shop, second, usual_size);
    const ColourDifferenceMap before = must(map_colour_difference(shop.book, first, second));
    CHECK(before.evened.empty());
    CHECK(before.figures.mean > 4.0);
    const auto board = [&](const char* name, const auto& lamp, const Uuid& photograph) {
        must(measure_board(shop.acting, shop.case_id,
                           lit(shop, name, usual_size, [&](int x, int, int) { return 0.7 * lamp(x); }), {photograph}));
    };
    board("board-left", from_left, first);
    CHECK(must(map_colour_difference(shop.book, first, second)).evened.size() == 1);
    board("board-right", from_right, second);
    const ColourDifferenceMap after = must(map_colour_difference(shop.book, first, second));
    REQUIRE(after.evened.size() == 2);
    CHECK(after.evened.front().find("40.0 % uneven") != std::string::npos);
    // Each is as bright as in the middle of its frame, where both lamps are alike.
    // What is left are the steps of 8 bits, which are compared.
    CHECK(after.figures.mean < 0.5);
    CHECK(after.figures.p95 < 1.5);
}

TEST_CASE("Sharpness of an edge of known blur is recorded, on the picture where the photograph is placed") {
    UsecaseBook shop;
    constexpr double sigma = 1.0, degrees = 5.0;
    const double a = degrees * std::numbers::pi / 180;
    const Uuid photograph = taken(shop, lit(shop, "edge", {406, 305}, [&](int x, int y, int) {
                                      const double d = (x - 200.0) * std::cos(a) + (y - 150.0) * std::sin(a);
                                      return 0.1 + 0.6 * 0.5 * std::erfc(-d / (sigma * std::numbers::sqrt2));
                                  }));
    const imaging::BoxPx box{150, 110, 100, 80};
    const MeasuredSharpness loose = must(measure_sharpness(shop.acting, photograph, box));
    CHECK_FALSE(loose.px_per_mm);
    // The Fourier transform of a Gaussian: exp(-2 π² σ² f²).
    const double half = std::sqrt(-std::log(0.5) / 2.0) / (std::numbers::pi * sigma);
    const double tenth = std::sqrt(-std::log(0.1) / 2.0) / (std::numbers::pi * sigma);
    CHECK(loose.edge.sfr50_cycles_per_px == Approx(half).epsilon(0.03));
    CHECK(loose.edge.sampling_efficiency_percent == Approx(200.0 * tenth).epsilon(0.05));
    CHECK(has_line(loose.tolerances, "sampling efficiency (SFR10)", "1-star"));  // 68 %: above 60, not above 70
    place_whole(shop, photograph, {406, 305});                                   // 812 × 610 mm over 405 × 304 px
    const MeasuredSharpness placed = must(measure_sharpness(shop.acting, photograph, box));
    REQUIRE(placed.px_per_mm);
    CHECK(*placed.px_per_mm == Approx(405.0 / 812.0).epsilon(0.005));
    CHECK(*placed.sfr50_cycles_per_mm == Approx(half * 405.0 / 812.0).epsilon(0.04));
    const auto record = must(shop.book.record(placed.done.record));
    CHECK(record.kind == "measurement");
    CHECK(record.body.text_or("note").find("slanted by 5.0°") != std::string::npos);
    CHECK(measure_sharpness(shop.acting, photograph, imaging::BoxPx{10, 10, 60, 60}).error().code ==
          "sharpness.no-edge");
    CHECK(measure_sharpness(shop.acting, shop.recto(), box).error().code == "photograph.not-a-photograph");
    CHECK(shop.count("measurement") == 2);
}

TEST_CASE("Without a box the edge is found, and the record says so; with none to be found it is refused") {
    UsecaseBook shop;
    constexpr double sigma = 1.0, a = 5.0 * std::numbers::pi / 180;
    const Uuid photograph = taken(shop, lit(shop, "card", {406, 305}, [&](int x, int y, int) {
                                      const double d = (x - 300.0) * std::cos(a) + (y - 150.0) * std::sin(a);
                                      return 0.1 + 0.6 * 0.5 * std::erfc(-d / (sigma * std::numbers::sqrt2));
                                  }));
    const MeasuredSharpness found = must(measure_sharpness(shop.acting, photograph, std::nullopt));
    CHECK(found.found);
    CHECK(found.edge_in.x_px < 300);
    CHECK(found.edge_in.x_px + found.edge_in.width_px > 300);
    const double half = std::sqrt(-std::log(0.5) / 2.0) / (std::numbers::pi * sigma);
    CHECK(found.edge.sfr50_cycles_per_px == Approx(half).epsilon(0.03));
    const auto note = must(shop.book.record(found.done.record)).body.text_or("note");
    CHECK(note.find("found and not pointed at, slanted by 5.0°") != std::string::npos);
    const Uuid plain = taken(shop, lit(shop, "plain", {406, 305}, [](int, int, int) { return 0.5; }));
    CHECK(measure_sharpness(shop.acting, plain, std::nullopt).error().code == "sharpness.none-found");
}

TEST_CASE("Noise of a patch is recorded beside the published tolerances") {
    UsecaseBook shop;
    // Y of 0.18 is L* 49.5; noise of 4 % of it on all three channels alike: dL* = (L* + 16) / 3 · 4 % = 0.87.
    const Uuid photograph = taken(shop, lit(shop, "grey", {200, 150}, [](int x, int y, int) {
                                      double gauss = -6.0;  // the sum of twelve uniform ones, Irwin and Hall
                                      for (unsigned k = 0; k < 12; ++k) gauss += counted(3, x, y, k);
                                      return x < 120 ? 0.18 * (1.0 + 0.04 * gauss) : 0.6;
                                  }));
    const MeasuredNoise measured = must(measure_noise(shop.acting, photograph, {10, 10, 100, 100}));
    CHECK(measured.noise.lightness_l == Approx(49.5).margin(0.2));
    CHECK(measured.noise.noise_l == Approx(0.87).epsilon(0.04));
    CHECK(has_line(measured.tolerances, "noise", "4-star"));  // below 1
    const auto record = must(shop.book.record(measured.done.record));
    CHECK(record.body.text_or("unit") == "L*");
    CHECK(*record.body.number("value") == Approx(measured.noise.noise_l));
    CHECK(record.body.text_or("from_photographs/" + to_text(photograph)) == "uniform patch");
    CHECK(measure_noise(shop.acting, photograph, {70, 10, 100, 100}).error().code == "noise.not-uniform");
    CHECK(measure_noise(shop.acting, shop.recto(), {10, 10, 100, 100}).error().code == "photograph.not-a-photograph");
    CHECK(shop.count("measurement") == 1);
}

TEST_CASE("The scale comes from a ruler, checked against the placement, or from the sides of the face") {
    UsecaseBook shop;
    constexpr double px_per_mm = 7.3137;
    const Uuid photograph = taken(shop, lit(shop, "ruler", {900, 676}, [&](int x, int, int) {
                                      const double mm = (x - 40) / px_per_mm;
                                      return std::abs(mm - std::round(mm)) * px_per_mm < 1.0 ? 0.1 : 0.7;
                                  }));
    // Pointed at a pixel too far.
    const RulerSeen ruler{{40, 300}, {41 + 100 * px_per_mm, 300}, 100.0};
    const MeasuredScale seen = must(measure_scale(shop.acting, photograph, ruler));
    CHECK(seen.scale.from_ticks);
    CHECK(seen.scale.px_per_mm == Approx(px_per_mm).epsilon(0.0005));
    CHECK_FALSE(seen.placement_off_percent);
    CHECK(measure_scale(shop.acting, photograph).error().code == "photograph.not-placed");
    // Placed by corners that make the face 1.5 % too small: the ruler is too long on it.
    const double scale = px_per_mm / 1.015;
    const double w = 812 * scale, h = 610 * scale;
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {w, 0}, {w, h}, {0, h}}}));
    const MeasuredScale placed = must(measure_scale(shop.acting, photograph, ruler));
    REQUIRE(placed.placement_off_percent);
    CHECK(*placed.placement_off_percent == Approx(1.5).margin(0.06));
    CHECK(has_line(placed.tolerances, "error of the scale", "3-star"));  // at most 2 %, not at most 1 %
    const MeasuredScale by_face = must(measure_scale(shop.acting, photograph));
    CHECK(by_face.scale.px_per_mm == Approx(scale).epsilon(1e-6));
    // Both sides agree, for both come from the same corners; these were met to so many millimetres.
    const double error_mm = must(shop.book.record(photograph)).body.placement("face_from_photo")->error_mm;
    CHECK(by_face.scale.half_range_percent == Approx(100.0 * std::sqrt(2.0) * error_mm / 610.0).epsilon(0.01));
    const auto record = must(shop.book.record(by_face.done.record));
    CHECK(record.body.text_or("unit") == "px/mm");
    CHECK(record.body.text_or("from_photographs/" + to_text(photograph)) == "sides of the face");
    CHECK(measure_scale(shop.acting, photograph, RulerSeen{{40, 300}, {42, 300}, 100.0}).error().code ==
          "scale.points");
}

TEST_CASE("A grey photograph, as infrared often is, has a ruler and an edge, but no colour to measure") {
    UsecaseBook shop;
    imaging::Raster8 grey(900, 300, 1);
    for (int y = 0; y < 300; ++y)
        for (int x = 0; x < 900; ++x) {
            const bool tick = y < 100 && x % 8 < 2;
            const double d = (x - 400.0) * std::cos(0.1) + (y - 200.0) * std::sin(0.1);
            const double edge = 0.1 + 0.3 * std::erfc(-d / std::numbers::sqrt2);
            grey.at(x, y) = static_cast<std::uint8_t>(std::lround(255.0 * imaging::srgb_encoded(tick      ? 0.05
                                                                                                : y < 100 ? 0.7
                                                                                                          : edge)));
        }
    must(imaging::write_picture(shop.folder / "grey.png", grey, imaging::PictureFormat::png));
    const Uuid photograph = taken(shop, shop.folder / "grey.png");
    const MeasuredScale scale = must(measure_scale(shop.acting, photograph, RulerSeen{{40, 50}, {841, 50}, 100.0}));
    CHECK(scale.scale.from_ticks);
    CHECK(scale.scale.px_per_mm == Approx(8.0).epsilon(0.0005));
    const MeasuredSharpness sharpness =
        must(measure_sharpness(shop.acting, photograph, imaging::BoxPx{350, 150, 100, 100}));
    CHECK(sharpness.edge.edge_degrees == Approx(0.1 * 180 / std::numbers::pi).margin(0.3));
    CHECK(measure_chart(shop.acting, photograph, {}).error().code == "chart.grey");
}
