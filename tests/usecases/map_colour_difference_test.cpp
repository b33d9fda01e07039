// The map is checked against the colour formula itself (CIE 142-2001, CIEDE2000; colour.hpp), on pictures of one
// colour.
#include "tedge/usecases/map_colour_difference.hpp"

#include <array>

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
        must(imaging::write_picture(folder / name, raster, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.light = light;
        wanted.stage = "as-received";
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double w = size.width_px - 1;
        const double h = size.height_px - 1;
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
    CHECK(map.delta_e00.p95 == Approx(expected).margin(0.5));
    // Along the edge between the colours the cubic kernel swings over a little (Keys 1981: by some hundredths of a
    // step).
    CHECK(map.delta_e00.max >= expected - 0.5);
    CHECK(map.delta_e00.max < 1.15 * expected);
    CHECK(map.delta_e00.mean == Approx(expected / 2).margin(0.4));
    CHECK(map.delta_e00.p50 < expected);
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

TEST_CASE("What shows no colour, is not placed or is told to stop is refused") {
    TwoColours shop;
    const Colour grey{119, 119, 119};
    const Uuid normal = shop.photo("normal.png", {406, 305}, grey, {120, 119, 119});
    const Uuid raking = shop.photo("raking.png", {406, 305}, grey, {121, 119, 119}, "raking");
    CHECK(map_colour_difference(shop.book, normal, raking).error().code == "photograph.no-colour-light");
    const Uuid other = shop.photo("other.png", {406, 305}, grey, {122, 119, 119});
    must(change_record(shop.acting, other, FieldValues().unset("face_from_photo").unset("face_frame")));
    CHECK(map_colour_difference(shop.book, normal, other).error().code == "photograph.not-placed");
    CHECK(map_colour_difference(shop.book, other, normal).error().code == "photograph.not-placed");
    const Uuid last = shop.photo("last.png", {406, 305}, grey, {123, 119, 119});
    std::stop_source stop;
    stop.request_stop();
    CHECK(map_colour_difference(shop.book, normal, last, Progress(stop.get_token(), {})).error().code == "cancelled");
}
