// Two photographs of 40 megapixels, before and after, laid on each other: error at true points, memory, and time as a
// ratio to decoding both, one cubic perspective warp and encoding the result.
//
// bench_registration [folder]   the pair is made in the folder once (minutes) and used again
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <future>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <string>

#include "large_pair.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size = large_size;

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// Highest resident memory since the last reset, MB (Linux).
double peak_mb() {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);) {
        if (line.starts_with("VmHWM:")) return std::stod(line.substr(6)) / 1024.0;
    }
    return 0.0;
}
void reset_peak() {
    std::ofstream("/proc/self/clear_refs") << "5";
}

template <class T>
T must(Expected<T> result) {
    if (result) return *std::move(result);
    std::fprintf(stderr, "%s\n", result.error().message.c_str());
    std::exit(1);
}

struct Pair {
    Raster8 reference;
    Raster8 moving;
};

Pair decode(const std::filesystem::path& folder) {
    const auto read = [&](const char* name) { return std::get<Raster8>(must(read_picture(folder / name)).pixels); };
    auto moving = std::async(std::launch::async, read, "before.jpg");
    return {read("after.jpg"), moving.get()};
}

std::string encoded(const Raster8& picture) {
    return must(encode_picture(picture, PictureFormat::jpeg, {.jpeg_quality = 95, .jpeg_full_chroma = false}));
}

double baseline_seconds(const std::filesystem::path& folder, std::size_t& bytes) {
    const auto start = std::chrono::steady_clock::now();
    Pair pair = decode(folder);
    const double decoded = seconds_since(start);
    Raster8 out(size.width_px, size.height_px, 3);
    std::array<double, 9> h = large_move().homography.row_major();
    const cv::Mat map(3, 3, CV_64F, h.data());
    const cv::Mat from(size.height_px, size.width_px, CV_8UC3, pair.moving.row(0));
    cv::Mat to(size.height_px, size.width_px, CV_8UC3, out.row(0));
    cv::warpPerspective(from, to, map, to.size(), cv::INTER_CUBIC);
    const double warped = seconds_since(start);
    bytes = encoded(out).size();
    const double all = seconds_since(start);
    std::printf("baseline: decode both %.2f s, warp %.2f s, encode %.2f s, together %.2f s\n", decoded,
                warped - decoded, all - warped, all);
    return all;
}

void score(const RegistrationReport& report) {
    const KnownMove truth = large_move();
    std::vector<double> distances;
    double squares = 0.0;
    for (int y = 20; y < size.height_px; y += 60) {
        for (int x = 20; x < size.width_px; x += 60) {
            const PointPx moving{static_cast<double>(x), static_cast<double>(y)};
            const PointPx t = truth(moving);
            if (t.x_px < 0 || t.y_px < 0 || t.x_px > size.width_px - 1 || t.y_px > size.height_px - 1) continue;
            const PointPx p = report.reference_from_moving.map(moving);
            distances.push_back(std::hypot(p.x_px - t.x_px, p.y_px - t.y_px));
            squares += distances.back() * distances.back();
        }
    }
    std::sort(distances.begin(), distances.end());
    std::printf("%s inliers %d, tiles %d of %d, residual %.3f px, estimated error %.3f px\n", report.code.c_str(),
                report.inliers, report.tiles_agreeing, report.tiles, report.residual_px, report.error_px);
    std::printf("RMS at %zu true points %.3f px (bar 0.25, aim 0.10), median %.3f, largest %.2f\n", distances.size(),
                std::sqrt(squares / static_cast<double>(distances.size())), distances[distances.size() / 2],
                distances.back());
}

}  // namespace

int main(int count, char** arguments) {
    const std::filesystem::path folder =
        count > 1 ? arguments[1] : std::filesystem::temp_directory_path() / "tedge-bench";
    if (!make_large_pictures(folder, false)) return 2;
    std::size_t bytes = 0;
    const double baseline = baseline_seconds(folder, bytes);

    reset_peak();
    const auto start = std::chrono::steady_clock::now();
    const Pair pair = decode(folder);
    const double decoded = seconds_since(start);
    const RegistrationReport report = must(register_pictures(pair.reference, pair.moving));
    const double registered = seconds_since(start);
    const Raster8 laid = must(resample(pair.moving, report.reference_from_moving, size));
    const double resampled = seconds_since(start);
    bytes += encoded(laid).size();
    const double all = seconds_since(start);
    std::printf("ours: decode both %.2f s, register %.2f s, resample %.2f s, encode %.2f s, together %.2f s\n", decoded,
                registered - decoded, resampled - registered, all - resampled, all);
    score(report);
    std::printf(
        "ratio of the whole %.2f, of register and resample alone %.2f; peak memory %.0f MB (bar 1500); %zu bytes\n",
        all / baseline, (resampled - decoded) / baseline, peak_mb(), bytes);
    return report.usable ? 0 : 1;
}
