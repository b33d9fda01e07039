// Forecasts saved anew are known by their word, what they were made from is not taken for one.
#include "tedge/imaging/forecast_mark.hpp"

#include <catch2/catch.hpp>

#include "coated_painting.hpp"
#include "forecast_words.hpp"
#include "resaved.hpp"
#include "tedge/imaging/difference_sheet.hpp"
#include "tedge/imaging/forecast_sheet.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

// What ordinary pictures must stay below; the word is believed from 0.7 on.
constexpr double ordinary_likeness = 0.6;

Raster8 with_words(Raster8 picture) {
    write_forecast_words(picture);
    return picture;
}

// The cleaned picture as foretold, and as it was under its coat.
const CleaningPair& coated(int which) {
    static const std::array<CleaningPair, 2> made{
        cleaning_pair(invented_painting(840, 630, 7), {.windows = 2, .seed = 3}),
        cleaning_pair(invented_painting(500, 900, 19), {.sort = CoatSort::brown_resin, .windows = 1, .seed = 5})};
    return made[static_cast<std::size_t>(which)];
}

}  // namespace

TEST_CASE("A forecast saved anew, smaller, cut or turned is known by the word in its pixels") {
    for (const int which : {0, 1}) {
        const Raster8 forecast = with_words(coated(which).cleaned);
        for (const Resaving& how : usual_resavings) {
            const ForecastMark mark = forecast_mark_in(resaved(forecast, how));
            CAPTURE(which, how.name, mark.likeness);
            CHECK(mark.seen);
        }
    }
}

TEST_CASE("Photographs of the same picture, cleaned or not, bear no word") {
    for (const int which : {0, 1})
        for (const Raster8* ordinary : {&coated(which).cleaned, &coated(which).uncleaned, &coated(which).with_windows})
            for (const Resaving& how : {usual_resavings[2], usual_resavings[3], usual_resavings[5]}) {
                const ForecastMark mark = forecast_mark_in(resaved(*ordinary, how));
                CAPTURE(which, how.name, mark.likeness);
                CHECK_FALSE(mark.seen);
                CHECK(mark.likeness < ordinary_likeness);
            }
}

TEST_CASE("Other writing, canvas, plain and tiny pictures bear no word") {
    // The same letters in the same lettering, otherwise put together, dark on white.
    const Raster8 written = with_legend(coated(0).cleaned, {0.0, 10.0}, "FORCE CAST",
                                        {"A CASTLE AFORE THE FOREST, CAST IN BRONZE. FOREMAST"});
    CHECK(forecast_mark_in(written).likeness < ordinary_likeness);
    Raster8 plain(400, 300, 3);
    CHECK_FALSE(forecast_mark_in(plain).seen);
    std::ranges::fill(plain.samples(), std::uint8_t{200});
    CHECK_FALSE(forecast_mark_in(plain).seen);
    CHECK_FALSE(forecast_mark_in(Raster8(1, 1, 3)).seen);
    CHECK_FALSE(forecast_mark_in(Raster8()).seen);
}

TEST_CASE("The sheet that tells how sure a forecast is bears the word as well, and its scale below") {
    CleaningForecast forecast;
    forecast.picture = Raster8(600, 450, 3);
    forecast.cell_px = 10;
    forecast.uncertainty = RasterF(60, 45, 1);
    for (int y = 0; y < 45; ++y)
        for (int x = 0; x < 60; ++x) forecast.uncertainty.at(x, y) = static_cast<float>(x) / 6.0F;
    Raster8 painted(600, 450, 1);
    for (int y = 0; y < 450; ++y)
        for (int x = 0; x < 600; ++x) painted.at(x, y) = x < 500 ? 255 : 0;
    const Raster8 sheet = uncertainty_sheet(forecast, &painted);
    REQUIRE(sheet.width_px() == 600);
    REQUIRE(sheet.height_px() > 450 + 20);
    CHECK(forecast_mark_in(resaved(sheet, {.jpeg_quality = 75})).seen);
    // Between the words the map is that of the scale, beside the paint it is grey.
    const auto is = [&](int x, int y, std::array<std::uint8_t, 3> colour) {
        return std::equal(colour.begin(), colour.end(), &sheet.at(x, y));
    };
    CHECK(is(5, 2, scale_colour(0.0)));
    CHECK(is(305, 2, scale_colour(0.5)));
    CHECK(sheet.at(550, 2, 0) == sheet.at(550, 2, 1));
    // The legend's bar holds the scale from end to end.
    for (const double position : {0.02, 0.5, 0.98}) {
        const auto wanted = scale_colour(position);
        bool found = false;
        for (int y = 450; y < sheet.height_px() && !found; ++y)
            for (int x = 0; x < 600 && !found; ++x)
                found = std::abs(sheet.at(x, y, 0) - wanted[0]) < 6 && std::abs(sheet.at(x, y, 1) - wanted[1]) < 6 &&
                        std::abs(sheet.at(x, y, 2) - wanted[2]) < 6;
        CAPTURE(position);
        CHECK(found);
    }
}
