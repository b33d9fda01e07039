#include "tedge/imaging/difference_gates.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "../support/painted_pair.hpp"
#include "tedge/imaging/difference_regions.hpp"
#include "tedge/imaging/shrink.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

Raster8 plain(SizePx size, std::array<std::uint8_t, 3> colour) {
    Raster8 out(size.width_px, size.height_px, 3);
    for (std::size_t i = 0; i < out.samples().size(); ++i) out.samples()[i] = colour[i % 3];
    return out;
}

void fill(Raster8& picture, int x0, int y0, int x1, int y1, std::array<std::uint8_t, 3> colour) {
    for (int y = y0; y < y1; ++y)
        for (int x = x0; x < x1; ++x) std::copy(colour.begin(), colour.end(), &picture.at(x, y));
}

Raster8 gated(const Raster8& first, const Raster8& second, const DifferenceGates& gates) {
    const auto map = difference_map(first, second, DifferenceKind::delta_e00).value();
    return gate_differences(first, second, map, gates).value();
}

double share(const Raster8& gated, NotCounted reason) {
    const auto n = std::ranges::count(gated.samples(), static_cast<std::uint8_t>(reason));
    return static_cast<double>(n) / static_cast<double>(gated.samples().size());
}

}  // namespace

TEST_CASE("an edge beside itself by the error it was told of is no change, a change on plain paint is") {
    Raster8 first = plain({80, 60}, {120, 110, 90}), second = first;
    fill(first, 0, 0, 40, 60, {60, 50, 40});   // an edge at 40,
    fill(second, 0, 0, 41, 60, {60, 50, 40});  // one pixel beside itself
    fill(second, 60, 20, 70, 40, {150, 140, 90});
    const Raster8 loose = gated(first, second, {.error_px = 0.5});
    CHECK(loose.at(40, 30) == static_cast<std::uint8_t>(NotCounted::misfit));
    CHECK(loose.at(65, 30) == 0);  // a real change, away from its own edges
    CHECK(loose.at(10, 30) == 0);
    // Told that the two lie on each other to a fiftieth of a pixel, the same edge did change.
    CHECK(gated(first, second, {.error_px = 0.02}).at(40, 30) == 0);
}

TEST_CASE("pictures of other sizes are refused before either is read") {
    const Raster8 first = plain({80, 60}, {120, 110, 90}), smaller = plain({40, 30}, {120, 110, 90});
    const auto map = difference_map(first, first, DifferenceKind::delta_e00).value();
    CHECK(gate_differences(first, smaller, map, {}).error().code == "colour-difference.sizes-differ");
    const auto small_map = difference_map(smaller, smaller, DifferenceKind::delta_e00).value();
    CHECK(gate_differences(first, first, small_map, {}).error().code == "colour-difference.gate-differs");
}

TEST_CASE("a painting moved by a known amount: what is left over is no evidence") {
    // Taken three times as fine and averaged, as a sensor does: no edge is sharper than a pixel.
    const PaintedScene scene{.seed = 4, .stroke_px = 360.0, .layers = 3};
    const auto taken = [&](double shift_px) {
        return shrunk_to_fit(photograph(scene, {600, 420}, {Homography::translation(3.0 * shift_px, 0)}, {}, 1), 200);
    };
    const Raster8 first = taken(0.0);
    for (const double shift : {0.15, 0.3, 1.6}) {
        const Raster8 moved = taken(shift);
        const auto map = difference_map(first, moved, DifferenceKind::delta_e00).value();
        // Told the truth about the error: the shift is one standard deviation.
        const Raster8 counted = counted_of(gate_differences(first, moved, map, {.error_px = shift}).value());
        std::size_t changed = 0, called_changed = 0, counting = 0;
        for (std::size_t i = 0; i < map.samples().size(); ++i) {
            const bool seen = map.samples()[i] > 1.0F;
            changed += seen ? 1U : 0U;
            counting += counted.samples()[i] != 0 ? 1U : 0U;
            called_changed += seen && counted.samples()[i] != 0 ? 1U : 0U;
        }
        CAPTURE(shift, changed, called_changed, counting);
        CHECK(changed > 500);
        CHECK(called_changed * 10 < changed);
        if (shift < 1.0) CHECK(counting * 5 > map.samples().size());
    }
}

TEST_CASE("error maps join, and where one does not reach nothing is shown") {
    Raster8 first = plain({64, 64}, {100, 100, 100});
    for (int x = 0; x < 64; x += 2) fill(first, x, 0, x + 1, 64, {110, 100, 90});
    Raster8 second = first;
    for (auto& sample : second.samples()) sample = static_cast<std::uint8_t>(sample + 6);
    const RegistrationErrorMap map{.cell_px = 32.0, .columns = 2, .rows = 2, .error_px = {0.01F, 1.0F, -1.0F, 0.01F}};
    const Raster8 result = gated(first, second, {.error_maps = {&map}});
    CHECK(result.at(10, 10) == 0);
    CHECK(result.at(50, 10) == static_cast<std::uint8_t>(NotCounted::misfit));
    CHECK(result.at(10, 50) == static_cast<std::uint8_t>(NotCounted::not_shown));
    CHECK(result.at(50, 50) == 0);
}

TEST_CASE("glare is burnt out in one picture alone, with its rim; burnt out in both is another thing") {
    Raster8 first = plain({60, 60}, {120, 110, 90}), second = first;
    fill(second, 20, 20, 24, 24, {255, 255, 252});
    fill(first, 40, 40, 44, 44, {255, 250, 240});
    fill(second, 40, 40, 44, 44, {253, 252, 251});
    fill(first, 5, 50, 8, 53, {251, 243, 240});  // white paint that flickers about the limit: neither
    fill(second, 5, 50, 8, 53, {249, 242, 238});
    fill(second, 50, 5, 53, 8, {255, 250, 90});  // bright yellow is a colour
    const Raster8 result = gated(first, second, {});
    CHECK(result.at(21, 21) == static_cast<std::uint8_t>(NotCounted::glare));
    CHECK(result.at(18, 18) == static_cast<std::uint8_t>(NotCounted::glare));
    CHECK(result.at(17, 17) == 0);
    CHECK(result.at(41, 41) == static_cast<std::uint8_t>(NotCounted::clipped));
    CHECK(result.at(6, 51) == 0);
    CHECK(result.at(51, 6) == 0);
    CHECK(share(result, NotCounted::glare) == Approx(64.0 / 3600.0));
    Raster8 shown(60, 60, 1);
    fill(shown, 0, 0, 0, 0, {});
    for (int y = 0; y < 60; ++y) std::fill_n(shown.row(y), 30, std::uint8_t{255});
    const Raster8 half = gated(first, second, {.shown = &shown});
    CHECK(half.at(41, 41) == static_cast<std::uint8_t>(NotCounted::not_shown));
    CHECK(share(half, NotCounted::not_shown) == Approx(0.5));
    CHECK(gate_differences(first, second, RasterF(2, 2, 1), {}).error().code == "colour-difference.gate-differs");
    std::stop_source stop;
    stop.request_stop();
    CHECK(gate_differences(first, second, RasterF(60, 60, 1), {}, Progress(stop.get_token(), {})).error().code ==
          "cancelled");
}

TEST_CASE("figures of a place in millimetres, with the area they rest on and what was left out of it") {
    const SizePx size{200, 160};
    Placement placement;  // 0.5 mm to a pixel in the middle, with perspective
    placement.face_from_photo = Homography::from_four_points({{{0, 0}, {199, 0}, {199, 159}, {0, 159}}},
                                                             {{{0, 0}, {100, 5}, {98, 80}, {2, 78}}})
                                    .value();
    RasterF map(200, 160, 1);
    Raster8 gates(200, 160, 1);
    const Region left = Region::rectangle({20, 20}, {20, 30}).value();
    const Raster8 mask = region_mask(left, placement, size).value();
    for (int y = 0; y < 160; ++y)
        for (int x = 0; x < 200; ++x) {
            CHECK((mask.at(x, y) != 0) == left.contains(placement.to_face({double(x), double(y)})));
            map.at(x, y) = mask.at(x, y) != 0 ? 7.0F : 1.0F;
        }
    const auto figures = figures_in(map, gates, left, placement).value();
    CHECK(figures.area_cm2 == Approx(6.0));
    CHECK(figures.counted_cm2 == Approx(6.0).epsilon(0.01));
    REQUIRE(figures.figures);
    CHECK(figures.figures->mean == Approx(7.0));
    CHECK(figures.left_out_cm2[0] == 0.0);

    const Region hole = Region::rectangle({25, 25}, {10, 10}).value();
    const Raster8 inner = region_mask(hole, placement, size).value();
    for (std::size_t i = 0; i < gates.samples().size(); ++i)
        if (inner.samples()[i] != 0) gates.samples()[i] = static_cast<std::uint8_t>(NotCounted::misfit);
    const auto with_hole = figures_in(map, gates, left, placement).value();
    CHECK(with_hole.counted_cm2 == Approx(5.0).epsilon(0.01));
    CHECK(with_hole.left_out_cm2[3] == Approx(1.0).epsilon(0.02));
    // The same hole cut out of the region: the same area, nothing left out.
    const auto cut = figures_in(map, Raster8(200, 160, 1), left.without(hole), placement).value();
    CHECK(cut.counted_cm2 == Approx(5.0).epsilon(0.01));
    CHECK(cut.left_out_cm2[3] == 0.0);
    // Half of it beyond the pixels.
    const auto beyond = figures_in(map, gates, Region::rectangle({80, 60}, {40, 40}).value(), placement).value();
    CHECK(beyond.area_cm2 == Approx(16.0));
    CHECK(beyond.left_out_cm2[0] + beyond.counted_cm2 == Approx(16.0).epsilon(0.01));
    CHECK(beyond.left_out_cm2[0] > 8.0);
    const auto outside = figures_in(map, gates, Region::rectangle({500, 500}, {10, 10}).value(), placement).value();
    CHECK_FALSE(outside.figures);
    CHECK(outside.counted_cm2 == 0.0);
}

TEST_CASE("an error map made coarser keeps the mean square of what is reached") {
    // Four columns by three rows: 3 and 4 beside each other, one cell that is not reached, a square of none.
    const RegistrationErrorMap map{10.0, 4, 3, {3, 4, -1, -1, 3, 4, -1, -1, 2, -1, 1, 1}};
    const RegistrationErrorMap two = coarser(map, 2);
    CHECK(two.cell_px == 20.0);
    REQUIRE(two.columns == 2);
    REQUIRE(two.rows == 2);
    CHECK(two.error_px[0] == Approx(std::sqrt(12.5)));
    CHECK(two.error_px[1] < 0.0F);
    CHECK(two.error_px[2] == Approx(2.0));
    CHECK(two.error_px[3] == Approx(1.0));
    CHECK(coarser(map, 4) == map);
    CHECK(coarser(map, 1).error_px.size() == 1);
}
