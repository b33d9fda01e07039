// How fast a ΔE00 map is, from decoded 8-bit sRGB pixels with their conversion to CIELAB, against the `dE00` of libvips
// on the same pixels already converted to CIELAB; both in memory, on one thread and on two. Of libvips only the time is
// taken: its tool reads from and writes to a file system in memory, and the time it takes to start (a picture of 64 px)
// is taken off. And how far the map is off the formula in double precision.
//
// bench_difference [FOLDER]: FOLDER defaults to /dev/shm. Without the tool `vips` (Debian: libvips-tools) our figure
// stands alone. Ends with 1 when the ratio is below 8 or the error above 0.01.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <memory>
#include <string>

#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

constexpr SizePx full{6000, 4000}, tiny{64, 64};
constexpr double megapixels = 24.0;
constexpr int rounds = 5;
constexpr double least_ratio = 8.0, most_error = 0.01;

// Brush-like texture: slow colour, fine grain, different in the second picture.
Raster8 made_picture(SizePx size, double shift, std::uint32_t grain) {
    Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c) {
                grain = grain * 1664525U + 1013904223U;
                const double slow = 128 + 90 * std::sin(x * 0.003 + c + shift) * std::cos(y * 0.004 - c);
                out.at(x, y, c) = static_cast<std::uint8_t>(std::clamp(slow + (grain >> 27U) - 16.0, 0.0, 255.0));
            }
    return out;
}

template <class Work>
double seconds_of(const Work& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double worst_error(const Raster8& first, const Raster8& second, const RasterF& map) {
    double worst = 0.0;
    for (int y = 0; y < map.height_px(); ++y)
        for (int x = y % 7; x < map.width_px(); x += 7) {
            const Lab p = lab_from_srgb8(first.at(x, y, 0), first.at(x, y, 1), first.at(x, y, 2));
            const Lab q = lab_from_srgb8(second.at(x, y, 0), second.at(x, y, 1), second.at(x, y, 2));
            worst = std::max(worst, std::abs(static_cast<double>(map.at(x, y)) - delta_e00(p, q)));
        }
    return worst;
}

// The other program; every file is ours, in a folder of our own.
class Vips {
public:
    explicit Vips(const std::filesystem::path& folder) : folder_(folder / "tedge-bench-difference") {
        std::filesystem::create_directories(folder_);
    }
    Vips(const Vips&) = delete;
    Vips& operator=(const Vips&) = delete;
    ~Vips() { std::filesystem::remove_all(folder_); }

    [[nodiscard]] static bool there() { return std::system("vips --version > /dev/null 2>&1") == 0; }

    [[nodiscard]] bool convert(const std::string& name, const Raster8& pixels) const {
        const auto file = folder_ / (name + ".png");
        return write_picture(file, pixels, PictureFormat::png) &&
               run(2, fmt::format("colourspace {0}.png {0}.v lab", (folder_ / name).string()));
    }
    // Infinite when it does not run.
    [[nodiscard]] double seconds(int threads, const std::string& first, const std::string& second) const {
        bool fine = true;
        const double taken = seconds_of([&] {
            fine = run(threads, fmt::format("dE00 {0}/{1}.v {0}/{2}.v {0}/out.v", folder_.string(), first, second));
        });
        return fine ? taken : std::numeric_limits<double>::infinity();
    }

private:
    [[nodiscard]] static bool run(int threads, const std::string& what) {
        return std::system(fmt::format("VIPS_CONCURRENCY={} vips {}", threads, what).c_str()) == 0;
    }
    std::filesystem::path folder_;
};

// Null where the tool is missing or does not do it.
std::unique_ptr<Vips> prepared(const std::filesystem::path& folder, const Raster8& first, const Raster8& second) {
    if (!Vips::there()) return nullptr;
    auto vips = std::make_unique<Vips>(folder);
    const bool fine = vips->convert("first", first) && vips->convert("second", second) &&
                      vips->convert("tiny", made_picture(tiny, 0.0, 1));
    return fine ? std::move(vips) : nullptr;
}

// The best of several rounds, in each of which all take their turn: other work on the machine hits all alike.
struct Best {
    double map = 1e9;
    double with_figures = 1e9;
    double vips = 1e9;
    double vips_start = 1e9;
};

Best timed(int threads, const Vips* vips, const Raster8& first, const Raster8& second) {
    Best best;
    const auto keep = [](double& least, double seconds) { least = std::min(least, seconds); };
    for (int round = 0; round < rounds; ++round) {
        keep(best.map, seconds_of([&] {
                 static_cast<void>(difference_map(first, second, DifferenceKind::delta_e00, threads).value());
             }));
        if (vips != nullptr) keep(best.vips, vips->seconds(threads, "first", "second"));
        if (vips != nullptr) keep(best.vips_start, vips->seconds(threads, "tiny", "tiny"));
        keep(best.with_figures,
             seconds_of([&] { static_cast<void>(colour_difference(first, second, {.threads = threads}).value()); }));
    }
    return best;
}

// True when fast enough, or when there is nothing to compare with.
bool compare(int threads, const Vips* vips, const Raster8& first, const Raster8& second) {
    const Best best = timed(threads, vips, first, second);
    fmt::print("{} thread{}: map {:.1f} MP/s (with its figures {:.1f} MP/s)", threads, threads == 1 ? "" : "s",
               megapixels / best.map, megapixels / best.with_figures);
    if (vips == nullptr) {
        fmt::print("\n");
        return true;
    }
    const double theirs = best.vips - best.vips_start;
    fmt::print("; libvips {:.1f} MP/s; ratio {:.1f} (at least {:.0f})\n", megapixels / theirs, theirs / best.map,
               least_ratio);
    return theirs / best.map >= least_ratio;
}

}  // namespace

int main(int argc, char** argv) {
    const std::filesystem::path folder = argc > 1 ? argv[1] : "/dev/shm";
    const Raster8 first = made_picture(full, 0.0, 12345), second = made_picture(full, 0.4, 777);
    const auto vips = prepared(folder, first, second);
    if (!vips) fmt::print("No tool `vips` here (Debian: libvips-tools): our own figure alone.\n");
    bool fine = true;
    for (const int threads : {1, 2}) fine &= compare(threads, vips.get(), first, second);
    const double error = worst_error(first, second, difference_map(first, second, DifferenceKind::delta_e00).value());
    fmt::print("largest error against double precision, every seventh pixel: {:.5f} (at most {})\n", error, most_error);
    return fine && error <= most_error ? 0 : 1;
}
