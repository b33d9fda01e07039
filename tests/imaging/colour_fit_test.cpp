// Calibration by the chart: made cameras whose truth is known, the published figures of a real raw file, tolerances.
#include "tedge/imaging/colour_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "../support/made_chart.hpp"
#include "tedge/imaging/capture_tolerances.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

// Patches as a camera with this matrix sees them, without a photograph; `bend` raises each channel to a power.
ChartReading seen_by(const Matrix3& camera_from_xyz, double exposure, double bend = 1.0, double glare = 0.0) {
    ChartReading reading{.light = ChartLight::camera};
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    for (std::size_t i = 0; i < chart_patches; ++i) {
        const Xyz xyz = xyz_from_lab(reference.lab[i]);
        std::array<double, 3> v{};
        for (std::size_t c = 0; c < 3; ++c) {
            const auto& m = camera_from_xyz[c];
            v[c] = exposure * (std::pow(std::max(0.0, m[0] * xyz.x + m[1] * xyz.y + m[2] * xyz.z), bend) + glare);
        }
        reading.patches[i] = {.mean = {v[0], v[1], v[2]}, .pixels = 100};
    }
    return reading;
}

// An invented camera: broad channels that overlap.
constexpr Matrix3 camera{{{0.62, 0.31, -0.08}, {-0.21, 1.05, 0.13}, {0.04, -0.09, 0.83}}};

}  // namespace

TEST_CASE("A camera that is a matrix is calibrated exactly, at any exposure and white balance") {
    const double exposure = GENERATE(0.9, 0.2);
    Matrix3 tinted = camera;
    for (double& v : tinted[0]) v *= 0.55;
    const auto fit = fit_chart(seen_by(tinted, exposure), chart_reference(ChartEdition::maker_2005));
    REQUIRE(fit);
    CHECK(fit->transform.model() == ColourModel::matrix);
    CHECK(fit->foretold.max < 0.01);
    CHECK(fit->white_balance_delta_ab < 0.01);
    CHECK(fit->tone_delta_l < 0.01);
    CHECK(fit->foretold.patches == 23);
    CHECK(fit->black.name == "black 2 (1.5 D)");
}

TEST_CASE("Exposure is told from the neutrals") {
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    const auto full = fit_chart(seen_by(camera, 0.8), reference);
    const auto half = fit_chart(seen_by(camera, 0.4), reference);
    REQUIRE(full);
    REQUIRE(half);
    CHECK(full->exposure_stops - half->exposure_stops == Approx(1.0).margin(1e-6));
}

TEST_CASE("The wrong edition is seen in the figures") {
    const auto fit = fit_chart(seen_by(camera, 0.8), chart_reference(ChartEdition::maker_2014));
    REQUIRE(fit);
    CHECK(fit->foretold.mean > 0.3);
    CHECK(fit->edition == "maker-2014");
}

TEST_CASE("Leaving out one patch foretells worse than the fit, and black stands apart") {
    const auto fit = fit_chart(seen_by(camera, 0.8, 1.0, 0.02), chart_reference(ChartEdition::maker_2005));
    REQUIRE(fit);
    CHECK(fit->foretold.mean > fit->fitted.mean);
    CHECK(fit->black.foretold_delta_e00 > fit->foretold.max);
    CHECK(fit->foretold.p90 <= fit->foretold.max);
    CHECK(fit->foretold.mean <= fit->foretold.p90);
}

TEST_CASE("The larger model is taken only where it foretells better, and keeps exposure") {
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    ChartReading reading = seen_by(camera, 0.8);
    // What a root-polynomial undoes: a channel that leaks the geometric mean of two others.
    for (PatchReading& patch : reading.patches) patch.mean.g += 0.35 * std::sqrt(patch.mean.r * patch.mean.b);
    const auto fit = fit_chart(reading, reference);
    REQUIRE(fit);
    CHECK(fit->transform.model() == ColourModel::root_polynomial);
    CHECK(fit->root_polynomial_foretold_mean < fit->matrix_foretold_mean);
    const Rgb colour{0.3, 0.2, 0.1};
    const Xyz bright = fit->transform.xyz(colour);
    const Xyz dim = fit->transform.xyz({colour.r / 4, colour.g / 4, colour.b / 4});
    CHECK(dim.x * 4 == Approx(bright.x));
    CHECK(dim.y * 4 == Approx(bright.y));
    CHECK(dim.z * 4 == Approx(bright.z));
}

TEST_CASE("Clipped patches take no part; too many of them are refused") {
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    ChartReading reading = seen_by(camera, 0.8);
    reading.patches[15].mean = {1.0, 1.0, 0.1};
    reading.patches[15].clipped_share = 1.0;
    const auto fit = fit_chart(reading, reference);
    REQUIRE(fit);
    CHECK_FALSE(fit->patches[15].used);
    CHECK(fit->foretold.patches == 22);
    CHECK(fit->foretold.max < 0.01);
    for (std::size_t i = 0; i < 10; ++i) reading.patches[i].clipped_share = 0.5;
    CHECK(fit_chart(reading, reference).error().code == "colour-fit.too-few-patches");
    ChartReading grey = seen_by(camera, 0.8);
    for (PatchReading& patch : grey.patches) patch.mean.r = patch.mean.b = patch.mean.g;
    CHECK(fit_chart(grey, reference).error().code == "colour-fit.not-fitted");
}

TEST_CASE("Noise is the spread of lightness") {
    ChartReading reading = seen_by(camera, 0.8);
    // L* 50.867 of neutral 5: dL* = (L* + 16) / 3 · dY/Y (CIE 15, derivative of its cube root).
    PatchReading& patch = reading.patches[21];
    const double level = (patch.mean.r + patch.mean.g + patch.mean.b) / 3;
    patch.deviation = {0.03 * level, 0.0, 0.0};
    const auto fit = fit_chart(reading, chart_reference(ChartEdition::maker_2005));
    REQUIRE(fit);
    CHECK(fit->noise_l == Approx((50.867 + 16.0) / 3.0 * 0.01).epsilon(0.01));
}

TEST_CASE("Figures stand beside published tolerances, never certified") {
    CaptureFigures figures;
    figures.colour_mean_delta_e00 = 2.0;   // FADGI 2016: below 2 for four stars, below 4 for three
    figures.white_balance_delta_ab = 2.0;  // at most 2 for four stars
    figures.noise_l = 5.0;                 // beyond all
    figures.colour_mean_flat_delta_e00 = 3.5;
    const auto lines = beside_tolerances(figures);
    const auto line = [&lines](const std::string& guideline, const std::string& parameter) {
        for (const ToleranceLine& candidate : lines)
            if (candidate.guideline == guideline && candidate.parameter == parameter) return candidate;
        return ToleranceLine{};
    };
    CHECK(line("FADGI 2016", "mean colour error").sentence ==
          "Mean colour error 2.00 ΔE00 is within the FADGI 2016 3-star tolerance (below 4).");
    CHECK(line("FADGI 2016", "white balance error").level == "4-star");
    const auto noise = line("FADGI 2016", "noise");
    CHECK_FALSE(noise.level);
    CHECK(noise.sentence == "Noise 5.00 L* is outside every FADGI 2016 tolerance, the widest being 1-star (below 4).");
    CHECK(line("ISO/TS 19264-1:2017", "white balance error").sentence ==
          "White balance error 2.00 ΔE(a*b*) is within the ISO/TS 19264-1:2017 level A tolerance (at most 3), as "
          "reported.");
    CHECK(line("FADGI 2023", "mean colour error").sentence ==
          "Mean colour error 2.00 ΔE00 is outside the FADGI 2023 4-star tolerance (below 2), as reported.");
    CHECK(line("Metamorfoze 2.0 draft", "mean colour error").level == "Light");
    for (const ToleranceLine& each : lines) {
        CHECK(each.sentence.find("ertif") == std::string::npos);
        CHECK_FALSE(each.source.empty());
        CHECK_FALSE(each.status.empty());
    }
}

TEST_CASE("The floor of change joins both photographs' errors") {
    ColourFit first;
    ColourFit second;
    first.foretold.mean = 2.0;
    second.foretold.mean = 2.0;
    // Two frames of mean error 2 give about 2·√2.
    const ChangeFloor floor = change_floor(first, second);
    CHECK(floor.delta_e00 == Approx(2.0 * std::sqrt(2.0)));
    CHECK(floor.sentence == "Differences below 2.8 ΔE00 are no evidence of a change.");
}

// Photographs that are not part of the project: TEDGE_TEST_PHOTOS names their folder.
TEST_CASE("A real raw file of the chart is calibrated as well as by hand", "[photos]") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) {
        WARN("TEDGE_TEST_PHOTOS is not set: no real chart was calibrated");
        return;
    }
    const auto raw = read_picture(std::filesystem::path(folder) / "raw" / "colorchart_canon_kissx4_24patch.dng",
                                  {.raw = RawRendering::camera_linear});
    REQUIRE(raw);
    const auto reading = find_chart(chart_picture(*raw).value());
    REQUIRE(reading);
    const auto fit = fit_chart(*reading, chart_reference(ChartEdition::maker_2005));
    REQUIRE(fit);
    // By hand, patches placed by eye, a matrix minimising ΔE00: mean 2.62 and maximum 6.73 over all 24 patches, the
    // worst of them neutral 3.5; the scene has glare, mixed light and is a little out of focus.
    double mean = fit->black.fitted_delta_e00 / 24.0;
    for (std::size_t i = 0; i < chart_black; ++i) mean += fit->patches[i].fitted_delta_e00 / 24.0;
    CAPTURE(mean, fit->fitted.mean, fit->fitted.p90, fit->fitted.max, fit->fitted.worst, fit->foretold.mean,
            fit->foretold.p90, fit->foretold.max, fit->foretold.worst, fit->matrix_foretold_mean,
            fit->root_polynomial_foretold_mean, fit->black.fitted_delta_e00, fit->noise_l);
    CHECK(mean < 3.0);
    CHECK(mean > 1.5);
    CHECK(fit->foretold.mean < 4.0);
    CHECK(fit->foretold.mean > fit->fitted.mean);
}
