// How long a colour-difference map, a pyramid and a small picture take, as ratios to decoding the same photograph from
// JPEG and to copying its pixels. Prints one line each; ends with 1 when a ratio is above its target.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <vector>

#include "tedge/base/files.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/pyramid.hpp"
#include "tedge/imaging/shrink.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

constexpr int width_px = 6000, height_px = 4000;
constexpr double megapixels = width_px * height_px / 1e6;
constexpr int repeats = 5;

// Brush-like texture: slow colour, fine grain.
Raster8 made_picture(double shift) {
    Raster8 out(width_px, height_px, 3);
    std::uint32_t grain = 12345;
    for (int y = 0; y < height_px; ++y)
        for (int x = 0; x < width_px; ++x)
            for (int c = 0; c < 3; ++c) {
                grain = grain * 1664525U + 1013904223U;
                const double slow = 128 + 70 * std::sin(x * 0.003 + c + shift) * std::cos(y * 0.004 - c);
                out.at(x, y, c) = static_cast<std::uint8_t>(std::clamp(slow + (grain >> 28U) - 8.0, 0.0, 255.0));
            }
    return out;
}

template <class Work>
double best_seconds(const Work& work) {
    double best = 1e9;
    for (int i = 0; i < repeats; ++i) {
        const auto start = std::chrono::steady_clock::now();
        work();
        best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return best;
}

struct Baseline {
    double decode_s = 0.0;
    double copy_s = 0.0;
};

// True when within the target.
bool report(std::string_view what, double seconds, const Baseline& baseline, double most_decodes) {
    const double ratio = seconds / baseline.decode_s;
    fmt::print("{:<34} {:7.3f} s {:7.1f} MP/s  {:5.2f} JPEG decodes (target {:.2f})  {:6.1f} copies\n", what, seconds,
               megapixels / seconds, ratio, most_decodes, seconds / baseline.copy_s);
    return ratio <= most_decodes;
}

}  // namespace

int main() {
    const auto folder = std::filesystem::temp_directory_path() / "tedge-bench-pictures";
    std::filesystem::create_directories(folder);
    const Raster8 before = made_picture(0.0), after = made_picture(0.2);
    if (!write_picture(folder / "before.jpg", before, PictureFormat::jpeg)) return 2;
    const Picture photograph = read_picture(folder / "before.jpg").value();

    Baseline baseline;
    baseline.decode_s = best_seconds([&] { static_cast<void>(read_picture(folder / "before.jpg").value()); });
    Raster8 copy(width_px, height_px, 3);
    baseline.copy_s =
        best_seconds([&] { std::memcpy(copy.samples().data(), before.samples().data(), before.samples().size()); });
    fmt::print("{:.0f} megapixels; baselines: JPEG decode {:.3f} s, copy {:.4f} s\n", megapixels, baseline.decode_s,
               baseline.copy_s);

    bool fine = true;
    fine &= report("colour difference and figures",
                   best_seconds([&] { static_cast<void>(colour_difference(before, after).value()); }), baseline, 4.0);
    fine &=
        report("pyramid with durable writing",
               best_seconds([&] { static_cast<void>(build_pyramid(photograph, folder / "pyramid")); }), baseline, 5.0);
    fine &= report("small picture of 512 px",
                   best_seconds([&] { static_cast<void>(preview_of(photograph, 512).value()); }), baseline, 1.0);
    const auto reader = PyramidReader::open(folder / "pyramid").value();
    const double tile_s = best_seconds([&] { static_cast<void>(reader.tile(0, 10, 8).value()); });
    fmt::print("one tile of 256 px read: {:.2f} ms; the file has {:.1f} MB\n", tile_s * 1e3,
               static_cast<double>(std::filesystem::file_size(folder / "pyramid")) / 1e6);
    std::filesystem::remove_all(folder);
    return fine ? 0 : 1;
}
