// Different pictures are refused, whatever they have in common.
#include <catch2/catch.hpp>

#include "painted_pair.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{320, 256};

Raster8 picture(std::uint64_t seed) {
    return photograph({.seed = seed, .stroke_px = 70.0, .layers = 3}, size, {}, {.noise = 1.5}, seed, 2);
}

// The same carved moulding and wall around another picture.
Raster8 framed(const Raster8& inner, const Raster8& surround) {
    Raster8 out = surround;
    const int left = 48;
    const int top = 38;
    for (int y = top; y < size.height_px - top; ++y) {
        for (int x = left; x < size.width_px - left; ++x) {
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = inner.at(x, y, c);
        }
    }
    return out;
}

}  // namespace

TEST_CASE("Two different pictures are refused") {
    const std::array<Raster8, 4> pictures{picture(101), picture(102), picture(103), picture(104)};
    for (std::size_t a = 0; a < pictures.size(); ++a) {
        for (std::size_t b = a + 1; b < pictures.size(); ++b) {
            const auto report = register_pictures(pictures[a], pictures[b], {});
            REQUIRE(report);
            CAPTURE(a, b, report->code, report->tiles, report->tiles_agreeing);
            CHECK_FALSE(report->usable);
            CHECK_FALSE(report->reason.empty());
        }
    }
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
