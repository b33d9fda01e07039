// The layers of the painted picture against the laws they are said to follow.
#include <catch2/catch.hpp>
#include <cmath>

#include "appearance.hpp"
#include "coatings.hpp"
#include "random.hpp"
#include "surface.hpp"
#include "weave.hpp"

using namespace tedge;
using namespace tedge::painter;

namespace {

constexpr double px_per_mm = 2.0;

const Surface& surface() {
    static const Surface made(Grid::over(face_size, px_per_mm), 2);
    return made;
}

// Slope of y over x by least squares.
struct Line2 {
    double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
    void add(double x, double y) {
        n += 1;
        sx += x;
        sy += y;
        sxx += x * x;
        sxy += x * y;
    }
    [[nodiscard]] double slope() const { return (n * sxy - sx * sy) / (n * sxx - sx * sx); }
};

bool untouched(const Surface& s, int x, int y) {
    return s.crack_cover.at(x, y) == 0.0F && s.ground_shows.at(x, y) == 0.0F && s.canvas_shows.at(x, y) == 0.0F &&
           s.overpaint.at(x, y) == 0.0F;
}

// The strongest frequency in threads per cm along x (or y), by Fourier sums over several lines of 120 mm.
double strongest_frequency(bool along_x) {
    double best = 0.0, best_power = 0.0;
    for (double per_cm = 8.0; per_cm < 20.0; per_cm += 0.1) {
        double power = 0.0;
        for (int line = 0; line < 24; ++line) {
            double cosine = 0.0, sine = 0.0;
            const double aside = 90.0 + 11.37 * line;
            for (int i = 0; i < 1500; ++i) {
                const double along = 150.0 + 0.08 * i;
                const auto x = static_cast<float>(along_x ? along : aside),
                           y = static_cast<float>(along_x ? aside : along);
                const double phase = 2.0 * 3.14159265358979 * per_cm * 0.1 * along;
                const auto height = static_cast<double>(weave_at(canvas, x, y).height) - 0.5;
                cosine += height * std::cos(phase);
                sine += height * std::sin(phase);
            }
            power += cosine * cosine + sine * sine;
        }
        if (power > best_power) {
            best_power = power;
            best = per_cm;
        }
    }
    return best;
}

}  // namespace

TEST_CASE("a layer weakens light as Beer and Lambert say: thicknesses add, transmittances multiply") {
    for (const Matter& matter : {aged_varnish, fresh_varnish, surface_dirt}) {
        const DoublePassage table(matter);
        for (const float um : {0.0F, 0.37F, 4.0F, 17.2F, 31.0F, 58.6F, 99.0F}) {
            const Rgb one = transmittance(matter, um);
            const Rgb more = transmittance(matter, um + 7.5F);
            const Rgb step = transmittance(matter, 7.5F);
            CHECK(more.b == Approx(one.b * step.b).epsilon(1e-5));
            CHECK(one.g == Approx(std::exp(-static_cast<double>(matter.absorption_per_um.g) * static_cast<double>(um)))
                               .epsilon(1e-6));
            CHECK(std::fabs(table.at(um).b - one.b * one.b) < 2e-6F);
            CHECK(std::fabs(table.at(um).r - one.r * one.r) < 2e-6F);
        }
    }
}

// Read back from the finished pictures: of the same place before and after cleaning, the logarithm of the ratio must
// fall with the thickness of the varnish that was there, by twice its absorption, once dirt and scatter are taken off.
TEST_CASE("the picture before and after cleaning shows the varnish's absorption") {
    const Surface& s = surface();
    const imaging::Raster16 before = appearance(s, Stage::received, Light::normal, 2);
    const imaging::Raster16 after = appearance(s, Stage::cleaned, Light::normal, 2);
    const double dirt_b = static_cast<double>(surface_dirt.absorption_per_um.b);
    const double varnish_b = static_cast<double>(aged_varnish.absorption_per_um.b);
    Line2 line;
    for (int y = 40; y < 480; ++y)
        for (int x = 40; x < s.grid.width_px - 40; ++x) {
            const auto clean = static_cast<double>(from_share(after.at(x, y, 2)));
            if (!untouched(s, x, y) || clean < 0.3) continue;
            const float x_mm = s.grid.mm(x), y_mm = s.grid.mm(y);
            const auto dirt_um = static_cast<double>(s.dirt_um.at(x_mm, y_mm));
            const auto varnish_um = static_cast<double>(s.varnish_um.at(x_mm, y_mm));
            const auto milky = static_cast<double>(s.cloud.at(x_mm, y_mm));
            const double share = 0.006 * dirt_um;  // of the dirt that scatters
            const double under_dirt = (static_cast<double>(from_share(before.at(x, y, 2))) -
                                       share * static_cast<double>(surface_dirt.scattered.b)) /
                                      ((1.0 - share) * (1.0 - share) * std::exp(-2.0 * dirt_b * dirt_um));
            const double under_haze =
                (under_dirt - milky * static_cast<double>(aged_varnish.scattered.b)) / ((1.0 - milky) * (1.0 - milky));
            line.add(varnish_um, std::log(under_haze / clean));
        }
    REQUIRE(line.n > 20000);
    // The cleaned picture keeps 2.5 % of the varnish, so the difference is 97.5 % of it.
    CHECK(line.slope() == Approx(-2.0 * varnish_b * 0.975).epsilon(0.02));
}

TEST_CASE("a loss covers the area of its outline") {
    const Surface& s = surface();
    for (const char* name : {"loss at 232, 118", "loss at 327, 322"})
        for (const Loss& loss : s.damage.losses) {
            if (loss.name != name) continue;
            double covered = 0.0;
            double middle_x = 0.0, middle_y = 0.0;
            for (const PointMm& p : loss.outline) {
                middle_x += p.x_mm / static_cast<double>(loss.outline.size());
                middle_y += p.y_mm / static_cast<double>(loss.outline.size());
            }
            for (int y = 0; y < s.grid.height_px; ++y)
                for (int x = 0; x < s.grid.width_px; ++x)
                    if (std::hypot(static_cast<double>(s.grid.mm(x)) - middle_x,
                                   static_cast<double>(s.grid.mm(y)) - middle_y) < 8.0)
                        covered += static_cast<double>(s.ground_shows.at(x, y)) / (px_per_mm * px_per_mm);
            CHECK(area_mm2(loss.outline) > 4.0);
            CHECK(covered == Approx(area_mm2(loss.outline)).epsilon(0.03));
        }
}

TEST_CASE("the canvas has as many threads to the centimetre as it says") {
    CHECK(std::fabs(strongest_frequency(true) - canvas.warp_per_cm) < 0.25);
    CHECK(std::fabs(strongest_frequency(false) - canvas.weft_per_cm) < 0.25);
}

TEST_CASE("throws of the dice spread as they should") {
    Dice dice(7U);
    double sum = 0.0, squares = 0.0, even = 0.0;
    constexpr int throws = 100000;
    for (int i = 0; i < throws; ++i) {
        const auto value = static_cast<double>(dice.normal());
        sum += value;
        squares += value * value;
        even += static_cast<double>(dice.unit());
    }
    CHECK(std::fabs(sum / throws) < 0.012);  // four standard errors
    CHECK(squares / throws == Approx(1.0).epsilon(0.015));
    CHECK(even / throws == Approx(0.5).epsilon(0.008));
}

TEST_CASE("age cracks hold together in a network and stay on the canvas") {
    const Surface& s = surface();
    CHECK(s.cracks.size() > 800);
    for (const Crack& crack : s.cracks) {
        CHECK(crack.line.size() >= 4);
        for (const PointMm& p : crack.line) {
            if (p.x_mm < -2.0 || p.y_mm < -2.0 || p.x_mm > face_size.width_mm + 2.0 ||
                p.y_mm > face_size.height_mm + 2.0)
                FAIL("a crack has left the canvas");
        }
    }
}
