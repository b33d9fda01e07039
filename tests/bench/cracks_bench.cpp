// Crack maps: precision and recall within 3 pixels on made pictures and on photographs with published skeletons, all
// with one set of parameters, and the time of a large one beside that of encoding and decoding it.
//
// bench_cracks [FOLDER]   TEDGE_TEST_PHOTOS names the folder of photographs; maps are written to FOLDER
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "crack_pictures.hpp"
#include "tedge/imaging/crack_figures.hpp"
#include "tedge/imaging/crack_map.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// Right ones green, wrong ones red, missed ones blue, on the paled picture.
Raster8 compared(const CrackPicture& picture, const Raster8& found) {
    Raster8 out = picture.srgb;
    for (auto& sample : out.samples()) sample = static_cast<std::uint8_t>(64 + sample * 3 / 4);
    const auto paint = [&](int x, int y, std::array<std::uint8_t, 3> colour) {
        for (int c = 0; c < 3; ++c) out.at(x, y, c) = colour[static_cast<std::size_t>(c)];
    };
    const auto near = [](const Raster8& mask, int x, int y) {
        for (int dy = -3; dy <= 3; ++dy)
            for (int dx = -3; dx <= 3; ++dx)
                if (x + dx >= 0 && y + dy >= 0 && x + dx < mask.width_px() && y + dy < mask.height_px() &&
                    dx * dx + dy * dy <= 9 && mask.at(x + dx, y + dy) != 0)
                    return true;
        return false;
    };
    for (int y = 0; y < out.height_px(); ++y)
        for (int x = 0; x < out.width_px(); ++x) {
            if (found.at(x, y) != 0)
                paint(x, y,
                      near(picture.truth, x, y) ? std::array<std::uint8_t, 3>{0, 160, 0}
                                                : std::array<std::uint8_t, 3>{255, 0, 0});
            else if (picture.truth.at(x, y) != 0 && !near(found, x, y))
                paint(x, y, {0, 0, 255});
        }
    return out;
}

void show(const CrackPicture& picture, const char* folder) {
    const auto start = std::chrono::steady_clock::now();
    const auto map = crack_map(picture.srgb).value();
    const double seconds = seconds_since(start);
    const auto figures = crack_figures(map).value();
    const Raster8 found = crack_lines(map);
    std::printf("%-10s precision %.3f  recall %.3f   %6.0f px of cracks, median width %.1f px, %4zu islands, %.2f s\n",
                picture.name.c_str(), share_within(found, picture.truth, 3), share_within(picture.truth, found, 3),
                figures.length_px, figures.median_width_px, figures.islands.count, seconds);
    if (folder != nullptr)
        (void)write_picture(std::filesystem::path(folder) / (picture.name + ".png"), compared(picture, found),
                            PictureFormat::png);
}

void show_time() {
    const SizePx size{7200, 5600};
    const auto small = made_crack_picture(3, {1800, 1400}, 3);
    Raster8 large(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c) large.at(x, y, c) = small.srgb.at(x % 1800, y % 1400, c);
    const auto file = std::filesystem::temp_directory_path() / "bench_cracks.jpg";
    write_picture(file, large, PictureFormat::jpeg).value();
    auto start = std::chrono::steady_clock::now();
    const auto again = read_picture(file).value();
    const double decoding = seconds_since(start);
    start = std::chrono::steady_clock::now();
    std::string step;
    auto step_start = start;
    const auto report = [&](double, std::string_view what) {
        if (what == step) return;
        if (!step.empty()) std::printf("  %s %.2f s\n", step.c_str(), seconds_since(step_start));
        step = what;
        step_start = std::chrono::steady_clock::now();
    };
    const auto map = crack_map(large, {}, Progress({}, report)).value();
    const double mapping = seconds_since(start);
    start = std::chrono::steady_clock::now();
    const auto figures = crack_figures(map).value();
    std::printf("40 megapixels: decoding %.2f s, map %.2f s (%.1f x), figures %.2f s, %.0f px of cracks\n", decoding,
                mapping, mapping / decoding, seconds_since(start), figures.length_px);
    std::filesystem::remove(file);
}

}  // namespace

int main(int count, char** arguments) {
    const char* folder = count > 1 ? arguments[1] : nullptr;
    if (const char* photographs = std::getenv("TEDGE_TEST_PHOTOS"))
        for (const auto name : crack_photographs) show(crack_photograph(photographs, name), folder);
    for (const std::uint64_t seed : {1, 2, 3, 4})
        show(made_crack_picture(seed, {1000, 800}, seed % 2 == 1 ? 2 : 3), folder);
    show_time();
    return 0;
}
