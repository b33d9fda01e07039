// How near a cleaning forecast comes to the truth, on made pairs: invented paintings, the demo's painting and, where
// TEDGE_TEST_PHOTOS names a folder with pictures (.png, .jpg), those. Prints the ratio of the mean ΔE00 of the forecast
// to that of the uncleaned picture for an even coat and for one that varies by ±30 %, and what the stated uncertainty
// was worth.
//   bench_forecast [INVENTED PAINTINGS] [every case: 1]
#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "bare_forecast.hpp"
#include "coated_painting.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "told_apart.hpp"

using namespace tedge;
using namespace tedge::test_support;

namespace {

constexpr int side_px = 900;

std::vector<imaging::Raster8> paintings(int invented) {
    std::vector<imaging::Raster8> all;
    for (int i = 0; i < invented; ++i)
        all.push_back(invented_painting(side_px, side_px * 3 / 4, static_cast<std::uint64_t>(100 + i)));
    if (const char* folder = std::getenv("TEDGE_TEST_PHOTOS"); folder != nullptr) {
        std::vector<std::filesystem::path> files;
        for (const auto& each : std::filesystem::directory_iterator(folder))
            if (each.path().extension() == ".png" || each.path().extension() == ".jpg") files.push_back(each.path());
        std::ranges::sort(files);
        for (const auto& each : files) all.push_back(photo(each));
    }
    return all;
}

struct Sums {
    double ratio = 0.0;
    double worst = 0.0;
    Told told;
    int cases = 0;
    int refused = 0;

    void add(const Told& here) {
        const double of = here.forecast / here.uncleaned;
        ++cases;
        ratio += of;
        worst = std::max(worst, of);
        told.uncleaned += here.uncleaned;
        told.forecast += here.forecast;
        told.error_over_stated += here.error_over_stated;
        told.within_two += here.within_two;
    }

    void print(const char* name) const {
        const double n = std::max(1, cases);
        std::printf(
            "%-24s cases %3d  refused %d  uncleaned %.2f  forecast %.2f  ratio mean %.3f  largest %.3f  "
            "error/stated %.2f  within 2 sd %.3f\n",
            name, cases, refused, told.uncleaned / n, told.forecast / n, ratio / n, worst, told.error_over_stated / n,
            told.within_two / n);
    }
};

void print_case(const std::string& name, const Told& here, const imaging::CleaningForecast& forecast) {
    std::printf(
        "%-40s uncleaned %5.2f  forecast %5.2f  ratio %.3f  stated %5.2f  error/stated rms %.2f  within 2 sd "
        "%.3f  A %.2f %.2f %.2f  V %.3f %.3f %.3f  varies %.2f\n",
        name.c_str(), here.uncleaned, here.forecast, here.forecast / here.uncleaned, forecast.mean_uncertainty,
        here.error_over_stated, here.within_two, forecast.absorption[0], forecast.absorption[1], forecast.absorption[2],
        forecast.veil[0], forecast.veil[1], forecast.veil[2], forecast.thickness_variation);
}

}  // namespace

int main(int argc, char** argv) {
    const int invented = argc > 1 ? std::atoi(argv[1]) : 4;
    const bool every = argc > 2;
    const auto all = paintings(invented);
    constexpr std::array<const char*, 3> sorts{"yellow", "brown", "gray"};
    for (const double variation : {0.0, 0.3}) {
        Sums whole;
        std::array<Sums, 4> by_windows;
        std::array<Sums, 3> by_sort;
        constexpr std::array window_counts{1, 2, 4, 6};
        for (std::size_t p = 0; p < all.size(); ++p)
            for (std::size_t s = 0; s < 3; ++s)
                for (std::size_t w = 0; w < window_counts.size(); ++w) {
                    const CleaningRecipe recipe{.sort = static_cast<CoatSort>(s),
                                                .variation = variation,
                                                .windows = window_counts[w],
                                                .smallest_window = 0.03,
                                                .largest_window = 0.08,
                                                .seed = 1000 * (p + 1) + 10 * s + w};
                    const auto pair = cleaning_pair(all[p], recipe);
                    const std::string name = "painting " + std::to_string(p) + " " + sorts[s] + " ±" +
                                             std::to_string(static_cast<int>(100 * variation)) + " % windows " +
                                             std::to_string(window_counts[w]);
                    const auto forecast =
                        imaging::bare_forecast(pair.uncleaned, pair.with_windows, pair.windows, {}, {});
                    if (!forecast) {
                        for (Sums* each : {&whole, &by_windows[w], &by_sort[s]}) ++each->refused;
                        std::printf("%-40s refused: %s\n", name.c_str(), forecast.error().message.c_str());
                        continue;
                    }
                    const Told here = told_apart(pair, *forecast);
                    for (Sums* each : {&whole, &by_windows[w], &by_sort[s]}) each->add(here);
                    if (every) print_case(name, here, *forecast);
                }
        std::printf("\n%s\n", variation == 0.0 ? "EVEN COAT" : "THICKNESS VARIES BY 30 %");
        whole.print("all");
        for (std::size_t w = 0; w < by_windows.size(); ++w)
            by_windows[w].print((std::to_string(window_counts[w]) + " windows").c_str());
        for (std::size_t s = 0; s < by_sort.size(); ++s) by_sort[s].print(sorts[s]);
    }
    return 0;
}
