// How surely a forecast that was saved anew is known by its word, and how near ordinary pictures come to it: on
// invented paintings and on every picture below the folder that TEDGE_TEST_PHOTOS names.
//   bench_forecast_words [INVENTED PAINTINGS]
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string>
#include <vector>

#include "coated_painting.hpp"
#include "forecast_words.hpp"
#include "resaved.hpp"
#include "tedge/imaging/forecast_mark.hpp"

using namespace tedge;
using namespace tedge::test_support;

namespace {

struct Named {
    std::string name;
    imaging::Raster8 pixels;
};

std::vector<Named> pictures(int invented) {
    std::vector<Named> all;
    for (int i = 0; i < invented; ++i) {
        const auto seed = static_cast<std::uint64_t>(200 + i);
        const bool upright = i % 2 == 1;
        const auto pair =
            cleaning_pair(invented_painting(upright ? 900 : 1200, upright ? 1200 : 900, seed), {.seed = seed});
        all.push_back({"invented " + std::to_string(i) + " cleaned", pair.cleaned});
        all.push_back({"invented " + std::to_string(i) + " uncleaned", pair.uncleaned});
    }
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) return all;
    std::vector<std::filesystem::path> files;
    for (const auto& each : std::filesystem::recursive_directory_iterator(folder)) files.push_back(each.path());
    std::ranges::sort(files);
    for (const auto& each : files) {
        const auto picture = imaging::read_picture(each);
        if (!picture) continue;
        if (auto srgb = imaging::to_srgb8(*picture)) all.push_back({each.filename().string(), *std::move(srgb)});
    }
    return all;
}

// Words under some 44 px are below what forecast_mark.hpp promises.
bool is_readable(const imaging::Raster8& picture, const Resaving& how) {
    return imaging::forecast_word_boxes(picture.size()).front().size.width_px * how.scale >= 48.0;
}

// Of the processor, all threads together: other work on the machine does not count.
double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

}  // namespace

int main(int argc, char** argv) {
    const auto all = pictures(argc > 1 ? std::atoi(argv[1]) : 6);
    double worst_ordinary = 0.0;
    double longest_s = 0.0;
    std::size_t ordinary = 0, taken_for_one = 0, forecasts = 0, missed = 0;
    std::array<double, usual_resavings.size()> least{};
    least.fill(1.0);
    for (const Named& each : all) {
        imaging::Raster8 forecast = each.pixels;
        imaging::write_forecast_words(forecast);
        double most = 0.0;
        for (std::size_t i = 0; i < usual_resavings.size(); ++i) {
            const imaging::Raster8 plain = resaved(each.pixels, usual_resavings[i]);
            const double start = processor_seconds();
            const auto none = imaging::forecast_mark_in(plain);
            longest_s = std::max(longest_s, processor_seconds() - start);
            ++ordinary;
            taken_for_one += none.seen ? 1U : 0U;
            most = std::max(most, none.likeness);
            if (!is_readable(each.pixels, usual_resavings[i])) continue;
            const auto mark = imaging::forecast_mark_in(resaved(forecast, usual_resavings[i]));
            ++forecasts;
            missed += mark.seen ? 0U : 1U;
            least[i] = std::min(least[i], mark.likeness);
            if (!mark.seen)
                std::printf("missed: %s, %s: %.2f\n", each.name.c_str(), usual_resavings[i].name, mark.likeness);
        }
        std::printf("%-44s %5d x %-5d without the word %.2f\n", each.name.c_str(), each.pixels.width_px(),
                    each.pixels.height_px(), most);
        worst_ordinary = std::max(worst_ordinary, most);
    }
    for (std::size_t i = 0; i < usual_resavings.size(); ++i)
        std::printf("%-36s least likeness %.2f\n", usual_resavings[i].name, least[i]);
    std::printf(
        "forecasts %zu, missed %zu; ordinary %zu, taken for one %zu, largest likeness %.2f; longest %.2f s of the "
        "processor\n",
        forecasts, missed, ordinary, taken_for_one, worst_ordinary, longest_s);
    return missed + taken_for_one == 0 ? 0 : 1;
}
