#include "tedge/imaging/crack_figures.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "must.hpp"
#include "skeleton_paths.hpp"
#include "thinning.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

CrackPixel pixel(int x, int y) {
    return {{x, y}, 2.0F, 50.0F};
}

// Lines every `pitch` pixels both ways, from edge to edge; `upright` and `level` say which.
CrackMap lattice(SizePx size, int pitch, bool upright, bool level) {
    CrackMap out{size, {}};
    for (int at = pitch; upright && at < size.width_px; at += pitch) {
        Crack crack;
        for (int y = 0; y < size.height_px; ++y) crack.pixels.push_back(pixel(at, y));
        crack.length_px = size.height_px;
        out.cracks.push_back(std::move(crack));
    }
    for (int at = pitch; level && at < size.height_px; at += pitch) {
        Crack crack;
        for (int x = 0; x < size.width_px; ++x) crack.pixels.push_back(pixel(x, at));
        crack.length_px = size.width_px;
        out.cracks.push_back(std::move(crack));
    }
    return out;
}

int pieces_of(const Raster8& mask, std::uint8_t of) {
    Raster8 seen(mask.width_px(), mask.height_px(), 1);
    int count = 0;
    for (int y = 0; y < mask.height_px(); ++y)
        for (int x = 0; x < mask.width_px(); ++x) {
            if (mask.at(x, y) != of || seen.at(x, y) != 0) continue;
            ++count;
            std::vector<PixelXY> open{{x, y}};
            seen.at(x, y) = 1;
            while (!open.empty()) {
                const PixelXY at = open.back();
                open.pop_back();
                for (int dy = -1; dy <= 1; ++dy)
                    for (int dx = -1; dx <= 1; ++dx) {
                        if (of == 0 && dx != 0 && dy != 0) continue;  // background holds together by sides
                        const int nx = at.x + dx, ny = at.y + dy;
                        if (nx < 0 || ny < 0 || nx >= mask.width_px() || ny >= mask.height_px()) continue;
                        if (mask.at(nx, ny) != of || seen.at(nx, ny) != 0) continue;
                        seen.at(nx, ny) = 1;
                        open.push_back({nx, ny});
                    }
            }
        }
    return count;
}

}  // namespace

TEST_CASE("A lattice of cracks has the density, islands and directions of a lattice") {
    // Lines 50 px apart in a picture of 400 × 300 px at 10 px/mm: 7 × 300 + 5 × 400 = 4,100 px = 410 mm on 12 cm².
    CrackFigureOptions options;
    options.px_per_mm = 10.0;
    options.square_mm = 10.0;
    const auto figures = must(crack_figures(lattice({400, 300}, 50, true, true), options));
    CHECK(figures.length_mm().value() == Approx(410.0));
    CHECK(figures.density_mm_per_cm2().value() == Approx(410.0 / 12.0));
    // 8 × 6 cells, those on the edge are open: 6 × 4, each 50 × 50 px.
    CHECK(figures.islands.count == 24);
    CHECK(figures.islands.median_px2 == Approx(2500.0).epsilon(0.01));
    CHECK(figures.islands.lower_quartile_px2 == Approx(2500.0).epsilon(0.01));
    CHECK(figures.islands.share == Approx(24 * 2500.0 / 120'000).epsilon(0.01));
    CHECK(figures.directions.crossed == Approx(1.0));
    CHECK(figures.directions.directed == Approx(100.0 / 4100.0));  // 2,100 upright against 2,000 level
    CHECK(figures.directions.length_px[0] == Approx(2000.0));
    CHECK(figures.directions.length_px[18] == Approx(2100.0));
    CHECK(figures.median_width_px == Approx(2.0));
    // A square of 100 × 100 px holds parts of two lines each way at most.
    CHECK(figures.squares.size() == 12);
    CHECK(figures.density_mm_per_cm2(figures.squares[5]).value() == Approx(40.0));
}

TEST_CASE("Cracks one way are directed, and close no island") {
    const auto figures = must(crack_figures(lattice({200, 200}, 20, true, false)));
    CHECK(figures.directions.directed == Approx(1.0));
    CHECK(figures.directions.main_degrees == Approx(90.0));
    CHECK(figures.islands.count == 0);
    CHECK_FALSE(figures.length_mm());
    CHECK_FALSE(figures.density_mm_per_cm2());
}

TEST_CASE("What was not looked at neither counts nor closes an island") {
    const SizePx size{200, 200};
    Raster8 upper(200, 200, 1);
    for (int y = 0; y < 100; ++y)
        for (int x = 0; x < 200; ++x) upper.at(x, y) = 255;
    CrackFigureOptions options;
    options.counted = &upper;
    const auto figures = must(crack_figures(lattice(size, 40, true, true), options));
    CHECK(figures.counted_px == 20'000);
    // Cells from 40 to 80 lie within; those from 80 to 120 reach out of it.
    CHECK(figures.islands.count == 3);
    options.square_px = 0.0;
    CHECK(crack_figures(lattice(size, 40, true, true), options).error().code == "cracks.options");
}

TEST_CASE("Thinning leaves lines one pixel wide and cuts or closes nothing") {
    // A ring, a blot that touches it, a bar apart.
    Raster8 mask(120, 90, 1);
    for (int y = 0; y < 90; ++y)
        for (int x = 0; x < 120; ++x) {
            const double r = std::hypot(x - 40, y - 45);
            const bool ring = r > 20 && r < 30;
            const bool blot = std::hypot(x - 72, y - 45) < 8;
            const bool bar = x > 90 && x < 114 && y > 10 && y < 16;
            if (ring || blot || bar) mask.at(x, y) = 255;
        }
    const int lines = pieces_of(mask, 255);
    const int grounds = pieces_of(mask, 0);
    thin(mask);
    CHECK(pieces_of(mask, 255) == lines);
    CHECK(pieces_of(mask, 0) == grounds);
    for (int y = 1; y < 90; ++y)
        for (int x = 1; x < 120; ++x)
            CHECK_FALSE((mask.at(x, y) && mask.at(x - 1, y) && mask.at(x, y - 1) && mask.at(x - 1, y - 1)));
    CHECK(mask.at(96, 13) == 255);
}

TEST_CASE("A skeleton comes apart at its crossings, and a ring is one path that closes") {
    Raster8 mask(60, 40, 1);
    for (int x = 5; x <= 45; ++x) mask.at(x, 10) = 255;
    for (int y = 10; y <= 30; ++y) mask.at(25, y) = 255;
    auto paths = paths_of(mask);
    // Around a T the crossing may take a pixel or two of its own.
    std::erase_if(paths, [](const SkeletonPath& path) { return path.pixels.size() < 4; });
    REQUIRE(paths.size() == 3);
    for (const SkeletonPath& path : paths) {
        CHECK(path.free_start != path.free_end);
        CHECK(path.pixels.size() >= 19);
        CHECK(dangling(path, mask.size()));
    }
    Raster8 ring(30, 30, 1);
    for (int i = 8; i <= 20; ++i)
        for (const auto& at : {PixelXY{i, 8}, PixelXY{i, 20}, PixelXY{8, i}, PixelXY{20, i}}) ring.at(at.x, at.y) = 255;
    thin(ring);
    const auto one = paths_of(ring);
    REQUIRE(one.size() == 1);
    CHECK(one[0].pixels.front() == one[0].pixels.back());
    CHECK_FALSE(dangling(one[0], ring.size()));
}
