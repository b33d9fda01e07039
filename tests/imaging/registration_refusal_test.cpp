// Different pictures are refused, whatever they have in common.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "painted_pair.hpp"
#include "tedge/imaging/registration.hpp"
#include "wrong_pairs.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{320, 256};

constexpr SizePx small_size{240, 192};

Raster8 picture(std::uint64_t seed, SizePx of = size) {
    return photograph({.seed = seed, .stroke_px = 70.0, .layers = 3}, of, {}, {.noise = 1.5}, seed, 2);
}

Raster8 rearranged(const Raster8& picture, bool turn_x, bool turn_y) {
    Raster8 out(picture.width_px(), picture.height_px(), 3);
    for (int y = 0; y < out.height_px(); ++y) {
        const int from_y = turn_y ? picture.height_px() - 1 - y : y;
        for (int x = 0; x < out.width_px(); ++x) {
            const int from_x = turn_x ? picture.width_px() - 1 - x : x;
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = picture.at(from_x, from_y, c);
        }
    }
    return out;
}

Raster8 cropped(const Raster8& picture, int left, int top, SizePx part) {
    Raster8 out(part.width_px, part.height_px, 3);
    for (int y = 0; y < part.height_px; ++y) {
        for (int x = 0; x < part.width_px; ++x) {
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = picture.at(left + x, top + y, c);
        }
    }
    return out;
}

double worst_px(const PixelMap& found, const Homography& truth, SizePx moving) {
    double worst = 0.0;
    for (int y = 10; y < moving.height_px; y += 20) {
        for (int x = 10; x < moving.width_px; x += 20) {
            const PointPx p = found.map({static_cast<double>(x), static_cast<double>(y)});
            const auto t = truth.apply(x, y);
            worst = std::max(worst, std::hypot(p.x_px - t[0], p.y_px - t[1]));
        }
    }
    return worst;
}

RegistrationReport registered(const Raster8& reference, const Raster8& moving) {
    const auto report = register_pictures(reference, moving, {});
    REQUIRE(report);
    CHECK_FALSE(report->reason.empty());
    return *report;
}

}  // namespace

TEST_CASE("A picture and its mirror image are never laid on each other unasked") {
    const Raster8 one = picture(111, small_size);
    const auto report = registered(one, rearranged(one, true, false));
    CHECK(report.code == "registration.mirrored");
    CHECK_FALSE(report.usable);
    const auto flipped = registered(one, rearranged(one, false, true));
    CHECK(flipped.code == "registration.mirrored");
    CHECK_FALSE(flipped.usable);
}

TEST_CASE("A picture turned upside down is found upside down") {
    const Raster8 one = picture(112);
    const auto report = registered(one, rearranged(one, true, true));
    CHECK(report.usable);
    const auto half_turn =
        Homography::from_row_major({-1, 0, size.width_px - 1.0, 0, -1, size.height_px - 1.0, 0, 0, 1}).value();
    CHECK(worst_px(report.reference_from_moving, half_turn, size) < 0.1);
}

TEST_CASE("A copy is refused: its outlines stray and its brushwork is its own") {
    const PaintedScene original{.seed = 131, .stroke_px = 70.0, .layers = 3};
    PaintedScene copy = original;
    copy.copyist = 5;
    copy.own_layers_from = 2;
    copy.strays_px = 4.0;
    const Raster8 first = photograph(original, size, {}, {.noise = 1.5}, 131, 2);
    const auto report = registered(first, photograph(copy, size, {}, {.noise = 1.5}, 132, 2));
    CAPTURE(report.code, report.tiles, report.tiles_agreeing);
    CHECK_FALSE(report.usable);
    // The same brushwork strayed as far is canvas that moved.
    copy.own_layers_from = 99;
    const auto moved = registered(first, photograph(copy, size, {}, {.noise = 1.5}, 132, 2));
    CAPTURE(moved.code);
    CHECK(moved.usable);
}

TEST_CASE("A crop is found in its own picture and nowhere else") {
    const Raster8 one = picture(113);
    const SizePx part{140, 120};
    const auto own = registered(one, cropped(one, 90, 70, part));
    CHECK(own.usable);
    CHECK(worst_px(own.reference_from_moving, Homography::from_row_major({1, 0, 90, 0, 1, 70, 0, 0, 1}).value(), part) <
          0.1);
    CHECK_FALSE(registered(one, cropped(picture(114), 90, 70, part)).usable);
    CHECK_FALSE(registered(cropped(picture(114), 90, 70, part), one).usable);
}

TEST_CASE("Noise, a blank picture and a weave are laid on nothing") {
    const Raster8 one = picture(115, small_size);
    const Raster8 blank(small_size.width_px, small_size.height_px, 3);
    CHECK_FALSE(registered(one, noise(1, small_size)).usable);
    CHECK_FALSE(registered(noise(1, small_size), noise(2, small_size)).usable);
    CHECK_FALSE(registered(one, blank).usable);
    CHECK_FALSE(registered(blank, blank).usable);
    CHECK_FALSE(registered(one, weave(3, {}, size)).usable);
}

TEST_CASE("A thumbnail so small that one tile would cover the picture is refused") {
    const Raster8 whole = picture(116, size);
    const SizePx thumbnail{80, 64};
    const Homography quarter = Homography::from_row_major({4, 0, 1.5, 0, 4, 1.5, 0, 0, 1}).value();
    const Raster8 small = photograph({.seed = 116, .stroke_px = 70.0, .layers = 3}, thumbnail, {quarter}, {}, 117, 2);
    RegistrationOptions options;
    for (const PointPx at : {PointPx{5, 5}, PointPx{70, 8}, PointPx{66, 58}, PointPx{9, 50}}) {
        const auto there = quarter.apply(at.x_px, at.y_px);
        options.pairs.push_back({{there[0], there[1]}, at});
    }
    const auto report = register_pictures(whole, small, options);
    REQUIRE(report);
    CHECK(report->code == "registration.pairs-not-borne-out");
}

TEST_CASE("Machine cloth lies on itself at every thread and is refused, however wide its threads are") {
    int told = 0;
    // A tile of the first round looks 16 px around: it sees the nearest fit of the first cloth, of the others not.
    for (const Cloth& further :
         {Cloth{11.0, 9.0, 0.0, 2}, Cloth{16.0, 13.0, 0.0, 0}, Cloth{16.0, 13.0, 0.0, 1}, Cloth{26.0, 21.0, 0.0, 1}}) {
        Cloth cloth = further;
        cloth.repeats_on = 0;
        CAPTURE(cloth.warp_px, further.repeats_on);
        const SizePx of = cloth.warp_px < 20.0 ? small_size : size;
        const auto report = registered(weave(3, cloth, of), weave(4, further, of));
        CHECK_FALSE(report.usable);
        told += report.code == "registration.repeats-itself" ? 1 : 0;
    }
    CHECK(told >= 3);  // one may already fail by its features
}

TEST_CASE("Threads spun by hand tell where they are") {
    for (const Cloth& cloth : {Cloth{11.0, 9.0, 0.4, 2}, Cloth{16.0, 13.0, 0.4, 1}}) {
        Cloth before = cloth;
        before.repeats_on = 0;
        CAPTURE(cloth.warp_px);
        const auto report = registered(weave(5, before, size), weave(6, cloth, size));
        CAPTURE(report.code);
        REQUIRE(report.usable);
        const auto truth =
            Homography::translation(2.0 * cloth.warp_px * cloth.repeats_on, 2.0 * cloth.weft_px * cloth.repeats_on);
        CHECK(worst_px(report.reference_from_moving, truth, size) < 0.5);
    }
}

TEST_CASE("Two different pictures are refused") {
    const std::array<Raster8, 4> pictures{picture(101), picture(102, small_size), picture(103, small_size),
                                          picture(104, small_size)};
    for (std::size_t a = 0; a < pictures.size(); ++a) {
        const std::size_t b = (a + 1) % pictures.size();
        const auto report = register_pictures(pictures[a], pictures[b], {});
        REQUIRE(report);
        CAPTURE(a, b, report->code, report->tiles, report->tiles_agreeing);
        CHECK_FALSE(report->usable);
        CHECK_FALSE(report->reason.empty());
    }
}

TEST_CASE("A small picture is looked at once in every way, a large one in larger copies too") {
    const auto looks = [](SizePx reference) {
        int count = 0;
        const Progress progress({}, [&](double, std::string_view what) { count += what == "looking for features"; });
        REQUIRE(register_pictures(Raster8(reference.width_px, reference.height_px, 3), picture(105, small_size), {},
                                  progress));
        return count;
    };
    // Brightness and edges, each as it is and mirror-wise, brightness once more with dark and bright exchanged; copies
    // of 320 px twice more, and a large copy is compared with a small one twice more.
    CHECK(looks(small_size) == 5);
    CHECK(looks({700, 500}) == 9);
}

TEST_CASE("Two different pictures in one frame are refused, one picture in two frames is not") {
    const Raster8 frame = picture(201);
    const auto different = register_pictures(framed(picture(202), frame), framed(picture(203), frame), {});
    REQUIRE(different);
    CAPTURE(different->code, different->tiles, different->tiles_agreeing);
    CHECK_FALSE(different->usable);

    const auto same = register_pictures(framed(picture(202), frame), framed(picture(202), picture(204)), {});
    REQUIRE(same);
    CAPTURE(same->code, same->tiles, same->tiles_agreeing);
    CHECK(same->usable);
}
