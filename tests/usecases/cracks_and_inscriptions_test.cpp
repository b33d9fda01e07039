// Cracks and inscriptions on photographs of one case. What is found is checked against what was drawn.
#include <cmath>

#include "made_cracks.hpp"
#include "painted_pair.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/compare_cracks.hpp"
#include "tedge/usecases/make_legible.hpp"
#include "tedge/usecases/map_cracks.hpp"
#include "tedge/usecases/photographs.hpp"
#include "tedge/usecases/remake_picture.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{812, 610};  // a pixel to the millimetre of the face

MadeCrack line(PointPx from, PointPx to) {
    MadeCrack out{{}, 2.5, 0.6, false};
    const double length = std::hypot(to.x_px - from.x_px, to.y_px - from.y_px);
    for (double t = 0; t <= length; t += 0.5)
        out.line.push_back(
            {from.x_px + (to.x_px - from.x_px) * t / length, from.y_px + (to.y_px - from.y_px) * t / length});
    return out;
}

// Upright and level cracks 100 px apart, from edge to edge.
std::vector<MadeCrack> lattice() {
    std::vector<MadeCrack> out;
    for (int x = 100; x < size.width_px; x += 100) out.push_back(line({x * 1.0, 0}, {x * 1.0, 609}));
    for (int y = 100; y < size.height_px; y += 100) out.push_back(line({0, y * 1.0}, {811, y * 1.0}));
    return out;
}

imaging::Raster8 paint(std::uint8_t value, std::uint64_t seed) {
    imaging::Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = static_cast<std::uint8_t>(value + 6 * counted(seed, x, y, static_cast<unsigned>(c)));
    return out;
}

struct Shop : UsecaseBook {
    template <class Raster>
    Uuid photograph(const std::string& name, const Raster& pixels, const char* light = "normal", bool placed = true) {
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.light = light;
        wanted.stage = "as-received";
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double w = pixels.width_px() - 1;
        const double h = pixels.height_px() - 1;
        if (placed) must(place_by_corners(acting, id, {{{0, 0}, {w, 0}, {w, h}, {0, h}}}));
        return id;
    }
};

}  // namespace

TEST_CASE("Cracks of a placed photograph are kept as a picture and as measurements with their place") {
    Shop shop;
    imaging::Raster8 pixels = paint(190, 1);
    draw_lines(pixels, lattice());
    const Uuid id = shop.photograph("cracked.png", pixels);
    const MappedCracks mapped = must(map_cracks(shop.acting, id));
    // 8 × 610 + 6 × 812 mm on 812 × 610 mm.
    const double truth = (8 * 610.0 + 6 * 812.0) / (8.12 * 6.10 * 10.0) / 10.0;
    CHECK(mapped.figures.density_mm_per_cm2().value() == Approx(truth).epsilon(0.03));
    CHECK(mapped.figures.islands.count == 7 * 5);
    CHECK(mapped.figures.islands.median_px2 / std::pow(*mapped.figures.px_per_mm, 2) == Approx(10'000).epsilon(0.02));
    CHECK(mapped.figures.directions.crossed > 0.95);

    const auto picture = must(shop.book.record(mapped.picture.done.record));
    CHECK(picture.body.text_or("what") == "crack-map");
    CHECK(picture.body.as_json().at("recipe").at("squares_column_row_mm_per_cm2").size() ==
          mapped.figures.squares.size());
    const auto place = picture.body.placement("face_from_picture").value();
    CHECK(place.to_face({0, 0}).x_mm == Approx(0.5).margin(0.1));
    REQUIRE(mapped.measurements.size() == 3);
    const auto density = must(shop.book.record(mapped.measurements[0].record));
    CHECK(*density.body.number("value") == Approx(truth).epsilon(0.03));
    CHECK(density.body.text_or("unit") == "mm/cm²");
    CHECK(density.body.region("region")->area_mm2() == Approx(812.0 * 610.0).epsilon(0.01));

    // From its recipe and the original alone, wherever the photograph lies by now.
    must(place_by_corners(shop.acting, id, {{{5, 5}, {800, 3}, {803, 600}, {2, 601}}}));
    const RemadePicture remade = must(remake_picture(shop.book, mapped.picture.done.record));
    CHECK(remade.identical);
    CHECK(remade.sha256 == mapped.picture.sha256);
    must(place_by_corners(shop.acting, id, {{{0, 0}, {811, 0}, {811, 609}, {0, 609}}}));

    // Once more: the same picture, nothing measured twice.
    const MappedCracks again = must(map_cracks(shop.acting, id));
    CHECK(again.picture.already);
    CHECK(again.measurements.empty());
    CHECK(shop.count("measurement") == 3);
    CHECK(map_cracks(shop.acting, shop.photograph("lying.png", paint(90, 9), "normal", false)).error().code ==
          "photograph.not-placed");
}

TEST_CASE("A crack that was not there before is called new, with its length") {
    Shop shop;
    imaging::Raster8 before = paint(120, 1);
    imaging::Raster8 after = paint(200, 2);
    draw_lines(before, lattice());
    draw_lines(after, lattice());
    draw_lines(after, {line({330, 320}, {480, 390})});
    const Uuid first = shop.photograph("before.png", before);
    const Uuid second = shop.photograph("after.png", after, "raking");
    const ComparedCracks compared = must(compare_cracks(shop.acting, first, second));
    const double truth = std::hypot(150.0, 70.0);
    CHECK(compared.appeared_mm == Approx(truth).margin(25.0));  // it crosses an old one
    CHECK(compared.gone_mm == 0.0);
    CHECK(compared.same_mm == Approx(8 * 610.0 + 6 * 812.0).epsilon(0.05));
    CHECK(compared.note.find("different light") != std::string::npos);
    REQUIRE(compared.at({360, 334}, 4.0) != nullptr);
    CHECK(compared.at({360, 334}, 4.0)->fate == imaging::CrackFate::appeared);
    CHECK(compared.at({200, 250}, 4.0)->fate == imaging::CrackFate::same);
    CHECK(compared.at({250, 250}, 4.0) == nullptr);
    REQUIRE(compared.measurement);
    CHECK(*must(shop.book.record(compared.measurement->record)).body.number("value") == compared.appeared_mm);
    CHECK(must(shop.book.record(compared.picture.done.record)).body.text_or("what") == "crack-change");
    CHECK(compare_cracks(shop.acting, first, first).error().code == "photograph.same");
}

TEST_CASE("A crack beside itself is new where the registration is tight, and is not where it is loose") {
    Shop shop;
    imaging::Raster8 before = paint(190, 1), after = paint(190, 2);
    const std::vector<MadeCrack> cracks{line({200, 100}, {200, 500}), line({600, 100}, {600, 500})};
    draw_lines(before, cracks);
    draw_lines(after, cracks, [](PointPx at) { return PointPx{at.x_px + 6.0, at.y_px}; });
    const Uuid first = shop.photograph("before.png", before), second = shop.photograph("after.png", after);
    casebook::FieldValues grid;
    grid.value("error_grid", {{"cell_px", 406.0}, {"columns", 2}, {"rows", 1}, {"error_px", {0.1, 3.0}}});
    shop.laid_over(first, second, 0.4, grid);
    const ComparedCracks compared = must(compare_cracks(shop.acting, first, second));
    REQUIRE(compared.at({206, 300}, 4.0) != nullptr);
    REQUIRE(compared.at({606, 300}, 4.0) != nullptr);
    CHECK(compared.at({206, 300}, 4.0)->fate == imaging::CrackFate::appeared);
    CHECK(compared.at({606, 300}, 4.0)->fate == imaging::CrackFate::same);
    CHECK(compared.appeared_mm == Approx(400.0).margin(30.0));
    CHECK(must(remake_picture(shop.book, compared.picture.done.record)).identical);
    // What was reckoned with stands in the recipe.
    const nlohmann::json by_place =
        must(shop.book.record(compared.picture.done.record)).body.as_json().at("recipe").at("error_by_place");
    CHECK(by_place.at("rest_px") == 0.0);
    CHECK(by_place.at("map").at("error_px").front().get<double>() == Approx(0.1).margin(0.002));
    CHECK(by_place.at("map").at("error_px").back().get<double>() == Approx(3.0).margin(0.02));
}

TEST_CASE("Photographs that may lie far apart tell nothing of new cracks") {
    Shop shop;
    const Uuid first = shop.photograph("before.png", paint(120, 1));
    const Uuid second = shop.photograph("after.png", paint(200, 2));
    auto placement = must(shop.book.record(second)).body.placement("face_from_photo").value();
    placement.error_mm = 9.0;
    casebook::Edit edit;
    edit.operation = casebook::Operation::patch;
    edit.record = second;
    edit.values.placement("face_from_photo", placement);
    must(shop.book.commit(shop.acting.author, {edit}));
    CHECK(compare_cracks(shop.acting, first, second).error().code == "crack-change.too-coarse");
}

TEST_CASE("A faint inscription is kept with a recipe that makes the same file again") {
    Shop shop;
    // Tone common to all channels; the letter is a per cent in red and in green, against one another.
    imaging::Raster16 pixels(size.width_px, size.height_px, 3);
    const auto in_letter = [](int x, int y) { return x >= 300 && x < 330 && y >= 200 && y < 400; };
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x) {
            const double tone = 0.5 + 0.2 * std::sin(x / 31.0) * std::cos(y / 43.0);
            for (int c = 0; c < 3; ++c) {
                const double letter = in_letter(x, y) && c < 2 ? (c == 0 ? 0.01 : -0.01) : 0.0;
                const double noise = 0.004 * (counted(5, x, y, static_cast<unsigned>(c)) - 0.5);
                pixels.at(x, y, c) = static_cast<std::uint16_t>(60000.0 * tone * (1.0 + letter + noise));
            }
        }
    const Uuid id = shop.photograph("panel.png", pixels);
    LegibilityWanted wanted;
    wanted.photographs = {id};
    wanted.recipe.component = 1;
    wanted.recipe.smooth_px = 1;
    wanted.region = square(250, 150, 300);
    wanted.caption = "Letter in the sky";
    const MadeLegible made = must(make_legible(shop.acting, wanted));
    CHECK(made.components.eigenvalues.size() == 3);
    const auto record = must(shop.book.record(made.picture.done.record));
    CHECK(record.body.text_or("what") == "legibility");
    const std::string kept = must(read_file(shop.book.original_path(made.picture.sha256)));
    const auto recipe = record.body.as_json().at("recipe");
    CHECK(must(made_by_recipe(shop.book, recipe)).png == kept);
    CHECK(recipe.at("inputs").at(0).at("sha256") == must(shop.book.record(id)).body.text_or("sha256"));

    // The letter stands out, where it was drawn on the face.
    const auto view =
        must(imaging::to_srgb8(must(imaging::read_picture(shop.book.original_path(made.picture.sha256)))));
    const auto place = record.body.placement("face_from_picture").value();
    const auto mean = [&](double from_x_mm, double to_x_mm) {
        double sum = 0.0;
        int count = 0;
        for (int y = 0; y < view.height_px(); ++y)
            for (int x = 0; x < view.width_px(); ++x)
                if (const auto at = place.to_face({x * 1.0, y * 1.0});
                    at.x_mm > from_x_mm && at.x_mm < to_x_mm && at.y_mm > 210 && at.y_mm < 390) {
                    sum += view.at(x, y, 0);
                    ++count;
                }
        return sum / count;
    };
    CHECK(std::abs(mean(303, 328) - mean(340, 500)) > 60.0);

    CHECK(made_by_recipe(shop.book, nlohmann::json::object()).error().code == "legibility.recipe");
    CHECK(make_legible(shop.acting, {}).error().code == "legibility.no-lights");
    wanted.region = square(5000, 5000, 10);
    CHECK(make_legible(shop.acting, wanted).error().code == "photograph.no-overlap");
}
