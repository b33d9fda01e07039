#include "tedge/imaging/legibility.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <stop_token>

#include "must.hpp"
#include "painted_pair.hpp"
#include "principal_axes.hpp"
#include "tedge/imaging/colour.hpp"

using namespace tedge;
using namespace tedge::imaging;
using test_support::counted;

namespace {

constexpr SizePx size{360, 240};

// Strokes of letters: bars and a ring, as wide as a brush.
bool in_letters(int x, int y) {
    const double ring = std::hypot(x - 110, y - 120);
    const bool bars = (x >= 180 && x < 192 && y >= 70 && y < 170) || (x >= 180 && x < 240 && y >= 70 && y < 82) ||
                      (x >= 180 && x < 230 && y >= 112 && y < 124);
    return (ring > 38 && ring < 50) || bars;
}

// Uneven paint and lamp, the same in all channels, and noise of its own in each; in linear light.
double tone(int x, int y) {
    return 0.3 * std::exp(0.35 * std::sin(x / 37.0 + 0.4) * std::cos(y / 23.0) + 0.25 * std::sin(x / 9.0 + y / 7.0)) *
           (1.0 - 0.4 * x / size.width_px);
}

double noise(std::uint64_t seed, int x, int y) {
    double sum = 0.0;
    for (std::uint64_t i = 0; i < 4; ++i) sum += counted(seed, x, y, i);
    return (sum - 2.0) * std::sqrt(3.0);
}

// Each channel darker or lighter in the letters by that share.
Raster16 light(std::uint64_t seed, const std::vector<double>& letters, const std::vector<double>& warmth,
               double noise_share) {
    Raster16 out(size.width_px, size.height_px, static_cast<int>(letters.size()));
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (std::size_t c = 0; c < letters.size(); ++c) {
                const double linear = tone(x, y) * warmth[c] * (in_letters(x, y) ? 1.0 + letters[c] : 1.0) *
                                      (1.0 + noise_share * noise(seed + 10 * c, x, y));
                out.at(x, y, static_cast<int>(c)) =
                    static_cast<std::uint16_t>(std::lround(65535.0 * std::clamp(srgb_encoded(linear), 0.0, 1.0)));
            }
    return out;
}

// Difference of the letters' mean from their surroundings', over the deviation of the latter.
double contrast_to_noise(const std::function<double(int, int)>& value) {
    double in = 0.0, out = 0.0, squares = 0.0;
    int letters = 0, ground = 0;
    for (int y = 50; y < 190; ++y)
        for (int x = 50; x < 260; ++x) {
            const double v = value(x, y);
            if (in_letters(x, y)) {
                in += v;
                ++letters;
            } else {
                out += v;
                squares += v * v;
                ++ground;
            }
        }
    const double mean = out / ground;
    return std::abs(in / letters - mean) / std::sqrt(squares / ground - mean * mean);
}

double contrast_of(const Raster16& raster, int channel) {
    return contrast_to_noise([&](int x, int y) { return double{1} * raster.at(x, y, channel); });
}
double contrast_of(const Raster8& view) {
    return contrast_to_noise([&](int x, int y) { return double{1} * view.at(x, y); });
}

}  // namespace

TEST_CASE("An inscription of one per cent that no channel shows is recovered from their combination") {
    // One per cent more in red, one per cent less in green, a little in an infrared frame: tones vary by half.
    const std::vector<Raster16> lights{light(1, {0.01, -0.01, 0.0}, {1.0, 0.9, 0.7}, 0.004),
                                       light(5, {0.004}, {1.1}, 0.004)};
    for (int c = 0; c < 3; ++c) CHECK(contrast_of(lights[0], c) < 0.3);
    CHECK(contrast_of(lights[1], 0) < 0.3);

    LegibilityRecipe recipe;
    recipe.component = 1;  // the first is the tone, common to all
    recipe.smooth_px = 1;
    const auto view = must(legibility_view(lights, recipe));
    CHECK(contrast_of(view.gray) > 5.0);
    REQUIRE(view.components.eigenvalues.size() == 4);
    for (std::size_t i = 1; i < 4; ++i) CHECK(view.components.eigenvalues[i - 1] >= view.components.eigenvalues[i]);
    // Tone is log-normal and the same in all: the first axis is the diagonal of the four.
    for (const double loading : view.components.loadings[0]) CHECK(loading == Approx(0.5).margin(0.02));

    LegibilityRecipe ratio;
    ratio.method = LegibilityMethod::channel_ratio;
    ratio.channel = 0;
    ratio.divisor = 1;
    ratio.smooth_px = 1;
    CHECK(contrast_of(must(legibility_view(lights, ratio)).gray) > 5.0);
}

TEST_CASE("Local contrast takes uneven tone away from one channel") {
    // Slow tone alone, letters of three per cent.
    Raster16 slow(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x) {
            const double linear =
                0.2 * (1.0 + 2.0 * x / size.width_px) * (in_letters(x, y) ? 0.97 : 1.0) * (1.0 + 0.01 * noise(3, x, y));
            slow.at(x, y) = static_cast<std::uint16_t>(std::lround(65535.0 * srgb_encoded(linear)));
        }
    const std::vector<Raster16> lights{slow};
    CHECK(contrast_of(slow, 0) < 0.35);
    LegibilityRecipe recipe;
    recipe.method = LegibilityMethod::local_contrast;
    recipe.smooth_px = 2;
    recipe.surroundings_px = 40;
    CHECK(contrast_of(must(legibility_view(lights, recipe)).gray) > 2.5);
}

TEST_CASE("The same recipe makes the same bytes, whichever pixels count") {
    const std::vector<Raster16> lights{light(1, {0.01, -0.01, 0.0}, {1.0, 0.9, 0.7}, 0.004)};
    LegibilityRecipe recipe;
    recipe.component = 2;
    recipe.surroundings_px = 30;
    Raster8 left(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < 200; ++x) left.at(x, y) = 1;
    CHECK(must(legibility_view(lights, recipe)).gray == must(legibility_view(lights, recipe)).gray);
    CHECK(must(legibility_view(lights, recipe, &left)).gray == must(legibility_view(lights, recipe, &left)).gray);
    CHECK_FALSE(must(legibility_view(lights, recipe, &left)).gray == must(legibility_view(lights, recipe)).gray);
}

TEST_CASE("Axes of a symmetric matrix whose eigenvalues are known") {
    // Rows of the matrix by Q · diag(9, 4, 1) · Qt with Q the reflection 1 - 2 u ut, u = (1, 2, 2) / 3.
    const double q[3][3] = {
        {7.0 / 9, -4.0 / 9, -4.0 / 9}, {-4.0 / 9, 1.0 / 9, -8.0 / 9}, {-4.0 / 9, -8.0 / 9, 1.0 / 9}};
    const double values[3] = {9.0, 4.0, 1.0};
    std::vector<double> matrix(9, 0.0);
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k) matrix[i * 3 + j] += q[i][k] * values[k] * q[j][k];
    const auto axes = axes_of(matrix, 3);
    for (std::size_t k = 0; k < 3; ++k) {
        CHECK(axes.eigenvalues[k] == Approx(values[k]));
        // The entry of largest size is positive: 7/9 in the first, -8/9 turned in the others.
        const double sign = k == 0 ? 1.0 : -1.0;
        for (std::size_t i = 0; i < 3; ++i) CHECK(axes.loadings[k][i] == Approx(sign * q[i][k]).margin(1e-9));
    }
}

TEST_CASE("What cannot be made legible is refused in a sentence") {
    const std::vector<Raster16> lights{Raster16(8, 8, 3), Raster16(8, 8, 1)};
    LegibilityRecipe recipe;
    CHECK(legibility_view({}, recipe).error().code == "legibility.no-lights");
    const std::vector<Raster16> other{Raster16(8, 8, 3), Raster16(8, 9, 1)};
    CHECK(legibility_view(other, recipe).error().code == "legibility.sizes-differ");
    recipe.component = 4;
    CHECK(legibility_view(lights, recipe).error().code == "legibility.no-such-channel");
    recipe = {};
    recipe.method = LegibilityMethod::local_contrast;
    CHECK(legibility_view(lights, recipe).error().code == "legibility.parameters");
    std::stop_source stop;
    stop.request_stop();
    CHECK(legibility_view(lights, {}, nullptr, Progress(stop.get_token(), {})).error().code == "cancelled");
    for (const auto method :
         {LegibilityMethod::local_contrast, LegibilityMethod::channel_ratio, LegibilityMethod::principal_component})
        CHECK(must(parse_legibility_method(name_of(method))) == method);
    CHECK(parse_legibility_method("magic").error().code == "legibility.method");
}
