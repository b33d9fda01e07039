// The truth is made by the spectrum (coated_painting.hpp), not by the formula that is fitted.
#include "tedge/imaging/cleaning_forecast.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <stop_token>

#include "bare_forecast.hpp"
#include "coated_painting.hpp"
#include "coating_model.hpp"
#include "forecast_words.hpp"
#include "told_apart.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

const Raster8& painting() {
    static const Raster8 made = invented_painting(420, 315, 41);
    return made;
}

// As large as windows of 3 to 8 % of a side need to be to hold more than the pixel that the photographs lie apart.
const Raster8& large_painting() {
    static const Raster8 made = invented_painting(900, 675, 101);
    return made;
}

CleaningRecipe small_windows(CoatSort sort, double variation, int windows, std::uint64_t seed) {
    return {.sort = sort,
            .variation = variation,
            .windows = windows,
            .smallest_window = 0.03,
            .largest_window = 0.08,
            .seed = seed};
}

// Built once: making it takes longer than all that is asked of it.
const CleaningPair& usual_pair() {
    static const CleaningPair made =
        cleaning_pair(painting(), {.sort = CoatSort::yellow_resin, .windows = 2, .seed = 8});
    return made;
}

Expected<CleaningForecast> bare(const CleaningPair& pair, int threads = 0) {
    CleaningForecastOptions options;
    options.threads = threads;
    return bare_forecast(pair.uncleaned, pair.with_windows, pair.windows, options, {});
}

bool says(const std::vector<std::string>& notes, std::string_view what) {
    return std::ranges::any_of(notes, [&](const std::string& each) { return each.find(what) != std::string::npos; });
}

std::string refusal(const Raster8& uncleaned, const Raster8& cleaned, const Raster8& windows) {
    const auto forecast = forecast_cleaning(uncleaned, cleaned, windows);
    REQUIRE_FALSE(forecast);
    CHECK_FALSE(forecast.error().next.empty());
    return forecast.error().code;
}

Raster8 flat(int width, int height, std::array<std::uint8_t, 3> colour) {
    Raster8 picture(width, height, 3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < 3; ++c) picture.at(x, y, c) = colour[static_cast<std::size_t>(c)];
    return picture;
}

void fill(Raster8& picture, int left, int top, int side, std::array<std::uint8_t, 3> colour) {
    for (int y = top; y < top + side; ++y)
        for (int x = left; x < left + side; ++x)
            for (int c = 0; c < picture.channels(); ++c) picture.at(x, y, c) = colour[static_cast<std::size_t>(c)];
}

}  // namespace

TEST_CASE("A forecast comes at least three times as near to the truth where the coat is even, and knows how near") {
    const std::array recipes{small_windows(CoatSort::yellow_resin, 0.0, 1, 2000),
                             small_windows(CoatSort::brown_resin, 0.0, 4, 2012),
                             small_windows(CoatSort::gray_dirt, 0.0, 2, 2021)};
    for (const CleaningRecipe& recipe : recipes) {
        const CleaningPair pair = cleaning_pair(large_painting(), recipe);
        const auto forecast = bare(pair);
        REQUIRE(forecast);
        const Told told = told_apart(pair, *forecast);
        CAPTURE(static_cast<int>(recipe.sort), told.uncleaned, told.forecast, told.error_over_stated, told.within_two);
        CHECK(told.uncleaned > 5.0);
        CHECK(told.forecast < told.uncleaned / 3.0);
        CHECK(told.error_over_stated > 0.5);
        CHECK(told.error_over_stated < 1.6);
        CHECK(told.within_two > 0.85);
    }
}

TEST_CASE("Where the thickness varies by 30 % it still comes twice as near") {
    const std::array recipes{small_windows(CoatSort::brown_resin, 0.3, 2, 2011),
                             small_windows(CoatSort::gray_dirt, 0.3, 6, 2023)};
    for (const CleaningRecipe& recipe : recipes) {
        const CleaningPair pair = cleaning_pair(large_painting(), recipe);
        const auto forecast = bare(pair);
        REQUIRE(forecast);
        const Told told = told_apart(pair, *forecast);
        CAPTURE(static_cast<int>(recipe.sort), told.uncleaned, told.forecast, told.error_over_stated, told.within_two);
        CHECK(told.forecast < told.uncleaned / 2.0);
        CHECK(told.error_over_stated > 0.4);
        CHECK(told.error_over_stated < 2.0);
        CHECK(told.within_two > 0.8);
    }
}

TEST_CASE("Hidden windows say how good a forecast is; of one window its halves do") {
    const auto two = bare(usual_pair());
    REQUIRE(two);
    REQUIRE(two->left_out_windows);
    CHECK_FALSE(two->left_out_halves);
    CHECK(two->left_out_windows->mean < 0.5 * two->seen_change);
    CHECK(two->left_out_windows->p95 > two->left_out_windows->mean);
    REQUIRE(two->windows.size() == 2);
    CHECK(two->windows[0].left_out);
    CHECK(two->windows[0].thickness == Approx(1.0).margin(0.25));
    CHECK(says(two->notes, "Includes gloss"));
    Raster8 first_alone = usual_pair().windows;
    for (std::uint8_t& each : first_alone.samples()) each = each == 1 ? 1 : 0;
    const auto one =
        forecast_cleaning(usual_pair().uncleaned, usual_pair().with_windows, first_alone, {.without_gloss = true});
    REQUIRE(one);
    CHECK_FALSE(one->left_out_windows);
    CHECK(one->left_out_halves);
    CHECK(says(one->notes, "One window alone"));
    CHECK_FALSE(says(one->notes, "Includes gloss"));
}

TEST_CASE("A forecast does not depend on the number of threads, and stops when told to") {
    const auto one = bare(usual_pair(), 1);
    const auto three = bare(usual_pair(), 3);
    REQUIRE(one);
    REQUIRE(three);
    CHECK(one->picture == three->picture);
    CHECK(one->uncertainty == three->uncertainty);
    std::stop_source stop;
    stop.request_stop();
    const auto stopped = forecast_cleaning(usual_pair().uncleaned, usual_pair().with_windows, usual_pair().windows, {},
                                           Progress(stop.get_token(), {}));
    REQUIRE_FALSE(stopped);
    CHECK(stopped.error().code == "cancelled");
}

TEST_CASE("A black wall around the picture says nothing of the veil") {
    CleaningPair pair = usual_pair();
    Raster8 painted(pair.uncleaned.width_px(), pair.uncleaned.height_px(), 1);
    for (int y = 0; y < painted.height_px(); ++y)
        for (int x = 0; x < painted.width_px(); ++x) {
            if (y < 12 && pair.windows.at(x, y) == 0)
                for (int c = 0; c < 3; ++c) pair.uncleaned.at(x, y, c) = 0;
            painted.at(x, y) = y < 12 ? 0 : 1;
        }
    CleaningForecastOptions options;
    options.painted = &painted;
    const auto told = bare_forecast(pair.uncleaned, pair.with_windows, pair.windows, options, {});
    const auto usual = bare(usual_pair());
    REQUIRE(told);
    REQUIRE(usual);
    for (std::size_t c = 0; c < 3; ++c) {
        CHECK(told->veil[c] == Approx(usual->veil[c]).margin(0.003));
        CHECK(told->absorption[c] == Approx(usual->absorption[c]).margin(0.1));
    }
}

TEST_CASE("Beside the paint nothing is foretold: it stays as it was photographed, and does not count") {
    const CleaningPair& pair = usual_pair();
    Raster8 painted(pair.uncleaned.width_px(), pair.uncleaned.height_px(), 1);
    const int from = 60;  // the windows of this pair lie further right or not at its rim
    for (int y = 0; y < painted.height_px(); ++y)
        for (int x = from; x < painted.width_px(); ++x) painted.at(x, y) = 255;
    CleaningForecastOptions options;
    options.painted = &painted;
    const auto part = bare_forecast(pair.uncleaned, pair.with_windows, pair.windows, options, {});
    const auto whole = bare(pair);
    REQUIRE(part);
    REQUIRE(whole);
    const auto& laid = std::get<Raster8>(part->picture);
    std::size_t kept = 0, foretold = 0;
    for (int y = 0; y < laid.height_px(); ++y)
        for (int x = 0; x < laid.width_px(); ++x) {
            const bool same = std::equal(&laid.at(x, y), &laid.at(x, y) + 3, &pair.uncleaned.at(x, y));
            if (x < from) kept += same ? 1U : 0U;
            if (x >= from) foretold += same ? 0U : 1U;
        }
    CHECK(kept == static_cast<std::size_t>(from * laid.height_px()));
    CHECK(foretold > static_cast<std::size_t>(laid.width_px() - from) * static_cast<std::size_t>(laid.height_px()) / 2);
    // The mean is over the painted cells alone: told from the cells themselves.
    double sum = 0.0;
    int cells = 0;
    for (int j = 0; j < part->uncertainty.height_px(); ++j)
        for (int i = 0; i < part->uncertainty.width_px(); ++i)
            if (i * part->cell_px + part->cell_px / 2 >= from) {
                sum += static_cast<double>(part->uncertainty.at(i, j));
                ++cells;
            }
    CHECK(part->mean_uncertainty == Approx(sum / cells));
}

TEST_CASE("Sixteen bits tell the same as eight") {
    const auto wide = [](const Raster8& narrow) {
        Raster16 out(narrow.width_px(), narrow.height_px(), narrow.channels());
        for (std::size_t i = 0; i < narrow.samples().size(); ++i)
            out.samples()[i] = static_cast<std::uint16_t>(257 * narrow.samples()[i]);
        return out;
    };
    const auto eight = bare(usual_pair());
    const auto sixteen =
        bare_forecast(wide(usual_pair().uncleaned), wide(usual_pair().with_windows), usual_pair().windows, {}, {});
    REQUIRE(eight);
    REQUIRE(sixteen);
    const auto& a = std::get<Raster8>(eight->picture);
    const auto& b = std::get<Raster16>(sixteen->picture);
    int most = 0;
    for (std::size_t i = 0; i < a.samples().size(); ++i)
        most = std::max(most, std::abs(257 * a.samples()[i] - b.samples()[i]));
    CHECK(most <= 257);  // rounding
}

TEST_CASE("What cannot be forecast is refused with a sentence") {
    const Raster8 brown = flat(120, 90, {110, 90, 60});
    Raster8 windows(120, 90, 1);
    CHECK(refusal(brown, brown, windows) == "forecast.no-window");
    CHECK(refusal(brown, flat(119, 90, {1, 1, 1}), windows) == "forecast.sizes-differ");
    CHECK(refusal(brown, Raster8(120, 90, 1), windows) == "forecast.not-colour");
    fill(windows, 20, 20, 24, {1, 0, 0});
    CHECK(refusal(brown, brown, windows) == "forecast.not-cleaned");
    Raster8 white = brown;
    fill(white, 20, 20, 24, {255, 255, 255});
    CHECK(refusal(brown, white, windows) == "forecast.saturated");
    Raster8 tiny(120, 90, 1);
    fill(tiny, 20, 20, 6, {1, 0, 0});
    CHECK(refusal(brown, white, tiny) == "forecast.window-too-small");
}

TEST_CASE("Windows of which one became lighter and one black contradict each other") {
    const Raster8 brown = flat(160, 120, {110, 90, 60});
    Raster8 windows(160, 120, 1);
    fill(windows, 20, 20, 30, {1, 0, 0});
    fill(windows, 100, 60, 30, {2, 0, 0});
    Raster8 cleaned = brown;
    fill(cleaned, 20, 20, 30, {150, 140, 130});
    fill(cleaned, 100, 60, 30, {40, 30, 25});
    CHECK(refusal(brown, cleaned, windows) == "forecast.windows-disagree");
}

TEST_CASE("A coat's light: absorbed on both passages, with a veil that grows with its thickness") {
    // By hand: half of the light passes the mean thickness, a quarter twice of it; the veil is 0.1 and then 0.15.
    Coat coat;
    coat.absorption = {std::log(2.0), std::log(2.0), 0.0};
    coat.veil = {0.1, 0.0, 0.02};
    const Light3 once = CoatThere(coat, 1.0).without({0.5 * 0.6 + 0.1, 0.5 * 0.6, 0.6 + 0.02});
    const Light3 twice = CoatThere(coat, 2.0).without({0.25 * 0.6 + 0.15, 0.25 * 0.6, 0.6 + 0.04});
    for (std::size_t c = 0; c < 3; ++c) {
        CHECK(once[c] == Approx(0.6));
        CHECK(twice[c] == Approx(0.6));
    }
    // Blue that lost 0.1 of the green beside it.
    coat.crosstalk[2][1] = -0.1;
    CHECK(CoatThere(coat, 1.0).without({0.4, 0.3, 0.6 + 0.02 - 0.1 * 0.6})[2] == Approx(0.6));
}

TEST_CASE("Whatever shows half of a forecast shows the whole word at least once") {
    for (const SizePx size : {SizePx{900, 700}, SizePx{700, 900}, SizePx{3000, 600}, SizePx{500, 2400}}) {
        const auto boxes = forecast_word_boxes(size);
        const double shares[][2] = {{0.5, 1.0}, {1.0, 0.5}, {0.7072, 0.7072}, {0.6, 0.84}, {0.84, 0.6}};
        for (const auto& share : shares) {
            const double w = share[0] * size.width_px;
            const double h = share[1] * size.height_px;
            for (int i = 0; i <= 20; ++i)
                for (int j = 0; j <= 20; ++j) {
                    const double left = (size.width_px - w) * i / 20.0;
                    const double top = (size.height_px - h) * j / 20.0;
                    const bool whole = std::ranges::any_of(boxes, [&](const WordBox& box) {
                        return box.left >= left && box.top >= top && box.left + box.size.width_px <= left + w &&
                               box.top + box.size.height_px <= top + h;
                    });
                    CHECK(whole);
                }
        }
        // Large enough to be read: a tenth of the shorter side and more.
        CHECK(boxes.front().size.width_px > 0.1 * std::min(size.width_px, size.height_px));
    }
}

TEST_CASE("The word is written on light and on dark, and only in its places") {
    for (const std::uint8_t tone : {std::uint8_t{0}, std::uint8_t{128}, std::uint8_t{255}}) {
        Raster8 picture = flat(400, 300, {tone, tone, tone});
        write_forecast_words(picture);
        Raster8 outside = picture;
        for (const WordBox& box : forecast_word_boxes(picture.size())) {
            std::size_t changed = 0;
            for (int y = box.top; y < box.top + box.size.height_px; ++y)
                for (int x = box.left; x < box.left + box.size.width_px; ++x) {
                    if (std::abs(picture.at(x, y, 1) - tone) > 60) ++changed;
                    for (int c = 0; c < 3; ++c) outside.at(x, y, c) = tone;
                }
            CHECK(changed > static_cast<std::size_t>(box.size.width_px * box.size.height_px / 12));
        }
        CHECK(outside == flat(400, 300, {tone, tone, tone}));
    }
    const auto forecast =
        forecast_cleaning(usual_pair().uncleaned, usual_pair().with_windows, usual_pair().windows).value();
    auto expected = std::get<Raster8>(bare(usual_pair()).value().picture);
    CHECK_FALSE(std::get<Raster8>(forecast.picture) == expected);
    write_forecast_words(expected);
    CHECK(std::get<Raster8>(forecast.picture) == expected);
}
