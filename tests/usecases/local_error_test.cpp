// Stripes that lie on each other on the left and a pixel beside themselves on the right: what is a change and what a
// misfit is known by construction.
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

constexpr SizePx size{406, 305};  // 2 mm to the pixel

// Stripes 6 px wide; from the middle on moved by so much.
imaging::Raster8 stripes(int moved_px) {
    imaging::Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x) {
            const int at = x < size.width_px / 2 ? x : x + moved_px;
            std::fill_n(&out.at(x, y), 3, static_cast<std::uint8_t>(at / 6 % 2 == 0 ? 90 : 150));
        }
    return out;
}

struct Shop : UsecaseBook {
    Uuid photograph(const std::string& name, const imaging::Raster8& pixels) {
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.stage = "as-received";
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        must(place_by_corners(acting, id, {{{-0.5, -0.5}, {405.5, -0.5}, {405.5, 304.5}, {-0.5, 304.5}}}));
        return id;
    }
    Uuid place(double x_mm) {
        return add("measurement", FieldValues()
                                      .text("what", "place")
                                      .number("value", 1)
                                      .text("unit", "mm")
                                      .record("face_frame", recto())
                                      .region("region", square(x_mm, 200, 200)));
    }
};

FieldValues grid(double left_px, double right_px) {
    FieldValues out;
    out.value("error_grid", {{"cell_px", 203.0}, {"columns", 2}, {"rows", 1}, {"error_px", {left_px, right_px}}});
    return out;
}

// Of 400 cm² at the place.
double counted_cm2(const ColourDifferenceMap& map, std::size_t place) {
    return map.places.at(place).figures.counted_cm2;
}

}  // namespace

TEST_CASE("Where the registration is loose its edges are left out, where it is tight they count") {
    for (const bool first_is_reference : {true, false}) {
        Shop shop;
        const Uuid one = shop.photograph("one.png", stripes(0));
        const Uuid other = shop.photograph("other.png", stripes(1));
        const std::vector<Uuid> places{shop.place(100), shop.place(550)};
        // 0.2 px as the one figure: too little for the right, more than there is on the left.
        shop.laid_over(first_is_reference ? one : other, first_is_reference ? other : one, 0.4);
        const auto by_one_figure = must(map_colour_difference(shop.book, one, other, {.places = places}));
        CHECK(counted_cm2(by_one_figure, 0) < 300.0);                // edges are left out that lie well
        CHECK(by_one_figure.places[1].figures.figures->max > 15.0);  // a misfit is taken for a change

        Shop gridded;
        const Uuid a = gridded.photograph("one.png", stripes(0)), b = gridded.photograph("other.png", stripes(1));
        const std::vector<Uuid> there{gridded.place(100), gridded.place(550)};
        gridded.laid_over(first_is_reference ? a : b, first_is_reference ? b : a, 0.4, grid(0.02, 1.0));
        const auto by_place = must(map_colour_difference(gridded.book, a, b, {.places = there}));
        CHECK(counted_cm2(by_place, 0) > 390.0);
        CHECK(counted_cm2(by_place, 1) < 300.0);
        REQUIRE(by_place.places[1].figures.figures);
        CHECK(by_place.places[1].figures.figures->max < 5.0);
    }
}

TEST_CASE("A grid that does not hold together counts for none") {
    Shop shop;
    const Uuid one = shop.photograph("one.png", stripes(0));
    const Uuid other = shop.photograph("other.png", stripes(1));
    FieldValues torn;
    torn.value("error_grid", {{"cell_px", 203.0}, {"columns", 2}, {"rows", 3}, {"error_px", {0.02, 9.0}}});
    const std::vector<Uuid> places{shop.place(550)};
    shop.laid_over(one, other, 0.4, torn);
    const auto map = must(map_colour_difference(shop.book, one, other, {.places = places}));
    CHECK(map.places[0].figures.figures->max > 15.0);  // by the one figure of 0.2 px
}
