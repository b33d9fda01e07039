// Truth is what the pictures were made with. Published counts, quoted only to show that the made ones lie where canvas
// does: 14.66 by 14.5 threads/cm (Mauritshuis, on Vermeer's Girl with a Pearl Earring), 9 by 10, 20 by 20 and 28
// by 22.5 (Carbonnel, Journal of the American Institute for Conservation 20, 1980, on French canvases of the 17th
// century).
#include "tedge/imaging/thread_count.hpp"

#include <cmath>

#include "made_weave.hpp"
#include "must.hpp"
#include "painted_pair.hpp"
#include "tedge/imaging/weave_drawing.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

void check_counts(const MadeWeave& made, const ThreadCount& count) {
    INFO(count.code << " " << count.reason << " confidence " << count.confidence);
    REQUIRE(count.usable);
    CHECK(count.confidence >= 0.5);
    CHECK(std::abs(count.a.threads_per_cm - made.across_per_cm) <= 0.1);
    CHECK(std::abs(count.b.threads_per_cm - made.down_per_cm) <= 0.1);
    CHECK(std::abs(count.a.angle_deg - made.degrees) <= 0.5);
    CHECK(std::abs(count.b.angle_deg - (made.degrees + 90.0 + made.skew_degrees)) <= 0.5);
}

void check_counted(const MadeWeave& made) {
    INFO(made.across_per_cm << " by " << made.down_per_cm << " at " << made.degrees << ", seed " << made.seed);
    check_counts(made, must(count_threads(photographed(made), made.px_per_cm)));
}

// Paint alone, as brushed.
Raster8 painted(SizePx size) {
    PaintedScene scene;
    scene.stroke_px = 60.0;
    return photograph(scene, size, {}, {.noise = 2.0}, 3);
}

Raster8 gray_noise(SizePx size, double levels) {
    Raster8 out(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            out.at(x, y) = static_cast<std::uint8_t>(128.0 + levels * (counted(5, x, y) - 0.5));
    return out;
}

}  // namespace

TEST_CASE("Threads of plain weave are counted to a tenth, coarse and fine, equal and unequal") {
    check_counted({.across_per_cm = 14.66, .down_per_cm = 14.5});
    check_counted({.across_per_cm = 9.0, .down_per_cm = 10.0, .seed = 2});
    check_counted({.across_per_cm = 20.0, .down_per_cm = 20.0, .seed = 3});
    check_counted({.px_per_cm = 118.11, .across_per_cm = 28.0, .down_per_cm = 22.5, .seed = 4});
    check_counted({.px_per_cm = 80.0, .across_per_cm = 11.2, .down_per_cm = 8.4, .seed = 5});
    check_counted({.px_per_cm = 60.0, .across_per_cm = 18.0, .down_per_cm = 12.5, .seed = 6});
}

TEST_CASE("The camera may be turned, and the canvas skewed") {
    check_counted({.across_per_cm = 13.0, .down_per_cm = 16.0, .degrees = 3.7});
    check_counted({.across_per_cm = 12.0, .down_per_cm = 17.0, .degrees = -21.0, .seed = 2});
    check_counted({.across_per_cm = 15.0, .down_per_cm = 12.0, .degrees = 43.0, .seed = 3});
    check_counted({.across_per_cm = 14.0, .down_per_cm = 13.0, .degrees = 1.0, .skew_degrees = 2.5, .seed = 4});
}

TEST_CASE("Threads are told from their checks by the streaks they leave, whichever way the camera was turned") {
    // Of equal counts turned by 45 degrees the checks lie level and upright, where threads are usually looked for.
    check_counted({.size = {400, 380}, .across_per_cm = 14.0, .down_per_cm = 14.0, .degrees = 41.0, .seed = 5});
}

TEST_CASE("Of twill and basket weave the threads are counted, not the lines") {
    const auto counted_as = [](const MadeWeave& made, Weave weave) {
        INFO("seed " << made.seed);
        const ThreadCount count = must(count_threads(photographed(made), made.px_per_cm));
        check_counts(made, count);
        CHECK(count.weave == weave);
        CHECK_FALSE(count.notes.empty());
    };
    MadeWeave made{.size = {400, 360}, .across_per_cm = 16.0, .down_per_cm = 13.0};
    made.binding = Binding::twill_two_one;
    counted_as(made, Weave::twill);
    made.binding = Binding::twill_two_two;
    made.degrees = 31.0;
    counted_as(made, Weave::twill);
    made.degrees = 2.0;
    made.binding = Binding::basket;
    counted_as(made, Weave::basket_or_herringbone);
}

TEST_CASE("Threads too fine for the pixels are not counted as coarser ones") {
    // 21 threads at 30 pixels to the centimetre look like 9.
    const MadeWeave made{.size = {240, 240}, .px_per_cm = 30.0, .across_per_cm = 21.0, .down_per_cm = 20.0};
    const ThreadCount count = must(count_threads(photographed(made), made.px_per_cm));
    CHECK_FALSE(count.usable);
    CHECK(count.confidence < 0.5);
}

TEST_CASE("Raking and transmitted light, and gratings without any over and under, are counted alike") {
    check_counted({.across_per_cm = 13.0, .down_per_cm = 11.0, .raking = 0.4});
    check_counted({.across_per_cm = 12.0, .down_per_cm = 15.0, .degrees = 2.0, .transmitted = true});
    check_counted({.across_per_cm = 16.0, .down_per_cm = 14.0, .checks = 0.0});
    // Plainer checks than threads: the checks must not be taken for the threads.
    check_counted({.across_per_cm = 15.0, .down_per_cm = 15.0, .uneven = 0.05, .checks = 2.5});
}

TEST_CASE("Weave under paint, in uneven light, in noise, and hidden in places") {
    check_counted({.across_per_cm = 14.0, .down_per_cm = 12.0, .contrast = 5.0, .paint = 40.0, .shading = 0.3});
    check_counted({.across_per_cm = 12.0, .down_per_cm = 13.5, .contrast = 3.0, .noise = 6.0, .seed = 2});
    check_counted({.size = {900, 800}, .across_per_cm = 13.0, .down_per_cm = 12.0, .paint = 20.0, .patchy = 0.5});
}

TEST_CASE("A small and very fine photograph, and 16-bit colour") {
    check_counted({.size = {640, 640}, .px_per_cm = 300.0, .across_per_cm = 16.0, .down_per_cm = 14.0, .jitter = 0.02});
    const MadeWeave made{.size = {500, 400}, .across_per_cm = 12.0, .down_per_cm = 15.0};
    check_counts(made, must(count_threads(photographed_in_colour(made), made.px_per_cm)));
}

TEST_CASE("A placement takes perspective and the camera's turn out") {
    const MadeWeave made{.size = {900, 600}, .across_per_cm = 14.0, .down_per_cm = 11.0, .perspective = 0.06};
    // The generator's own map, in mm: x / (1 + p·x/half) about the middle.
    const double half = 450.0, scale = 10.0 / made.px_per_cm;
    const auto face = must(compose(must(Homography::from_row_major({scale, 0, 0, 0, scale, 0, 0.06 / half, 0, 1})),
                                   Homography::translation(-half, -300.0)));
    const ThreadCount count = must(count_threads(photographed(made), face));
    check_counts(made, count);
    CHECK(count.a.spread_per_cm < 0.25);  // 6 % of 14 where perspective stays in: 0.84 at the edge
    // Held upright: what runs across the photograph runs down the face.
    const auto upright = must(compose(must(Homography::from_row_major({0, 1, 0, -1, 0, 0, 0, 0, 1})), face));
    const ThreadCount turned = must(count_threads(photographed(made), upright));
    REQUIRE(turned.usable);
    CHECK(turned.a.threads_per_cm == Approx(11.0).margin(0.1));
    CHECK(turned.b.threads_per_cm == Approx(14.0).margin(0.1));
    CHECK(turned.a.angle_deg == Approx(0.0).margin(0.5));
}

TEST_CASE("Cusping along one edge is told with its wave, and none where there is none") {
    const MadeWeave made{.size = {1300, 800},
                         .px_per_cm = 60.0,
                         .across_per_cm = 11.0,
                         .down_per_cm = 12.0,
                         .jitter = 0.02,
                         .cusp_mm = 2.0};
    const ThreadCount count = must(count_threads(photographed(made), made.px_per_cm));
    check_counts(made, count);
    REQUIRE(count.cusping.size() == 1);
    CHECK(count.cusping[0].edge == Cusping::Edge::top);
    CHECK(count.cusping[0].wavelength_mm == Approx(60.0).epsilon(0.05));
    // The first three rows of squares lie 5 to 15 mm from the edge, where exp(-x / 25 mm) leaves a half to four fifths.
    CHECK(count.cusping[0].amplitude_mm > 0.9);
    CHECK(count.cusping[0].amplitude_mm < 2.0);
    MadeWeave flat = made;
    flat.cusp_mm = 0.0;
    flat.size = {1000, 600};
    CHECK(must(count_threads(photographed(flat), flat.px_per_cm)).cusping.empty());
}

TEST_CASE("What is no weave is not counted, and says why") {
    const auto code = [](const auto& raster, double px_per_cm) {
        const ThreadCount count = must(count_threads(raster, px_per_cm));
        CHECK_FALSE(count.usable);
        CHECK_FALSE(count.reason.empty());
        CHECK(count.confidence < 0.5);
        return count.code;
    };
    CHECK(code(Raster8(400, 300, 3), 80.0) == "weave.none");
    CHECK(code(gray_noise({500, 400}, 40.0), 80.0) == "weave.none");
    CHECK(code(painted({600, 500}), 80.0).starts_with("weave."));
    // One set alone, as of a reed or a grain.
    Raster8 stripes(500, 400, 1);
    for (int y = 0; y < 400; ++y)
        for (int x = 0; x < 500; ++x)
            stripes.at(x, y) = static_cast<std::uint8_t>(128 + 30 * std::sin(0.9 * x) + 8 * counted(1, x, y));
    CHECK(code(stripes, 100.0) == "weave.one-direction");
    // The faint squares of a strongly compressed file: 8 px apart, 12.5 to the centimetre.
    Raster8 blocks(600, 500, 1);
    for (int y = 0; y < 500; ++y)
        for (int x = 0; x < 600; ++x)
            blocks.at(x, y) =
                static_cast<std::uint8_t>(128 + (x % 8 == 0) + (y % 8 == 0) + 2 * counted(1, x / 8, y / 8));
    CHECK(code(blocks, 100.0) == "weave.block-pattern");
}

TEST_CASE("Scales and sizes that allow no count are refused") {
    const Raster8 any(300, 300, 1);
    CHECK(count_threads(any, 0.0).error().code == "weave.scale");
    CHECK(count_threads(any, std::nan("")).error().code == "weave.scale");
    CHECK(count_threads(any, 20.0).error().code == "weave.too-few-pixels");
    CHECK(count_threads(any, 400.0).error().code == "weave.picture-too-small");
    std::stop_source stop;
    stop.request_stop();
    CHECK(count_threads(any, 100.0, {}, Progress(stop.get_token(), {})).error().code == "cancelled");
}

TEST_CASE("The count does not depend on the number of threads of the machine") {
    const MadeWeave made{.size = {500, 500}, .across_per_cm = 13.0, .down_per_cm = 12.0};
    const Raster8 picture = photographed(made);
    const ThreadCount one = must(count_threads(picture, 100.0, {.threads = 1}));
    const ThreadCount three = must(count_threads(picture, 100.0, {.threads = 3}));
    CHECK(one.a.threads_per_cm == three.a.threads_per_cm);
    CHECK(one.b.angle_deg == three.b.angle_deg);
    const DrawnWeave drawn = draw_weave(one);
    CHECK(drawn.drawn == draw_weave(three).drawn);
    CHECK(drawn.a.low_per_cm < one.a.threads_per_cm);
    CHECK(drawn.drawn.width_px() > 2 * one.map.columns);
}
