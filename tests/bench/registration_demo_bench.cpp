// Every photograph of the demonstration's picture face laid on the reference, received-normal.tif, and held against the
// cameras that took them.
//
// bench_registration_demo FOLDER [FILE]   the folder that tedge_painter has filled; FILE: only this photograph
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <string>

#include "photographs.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/srgb_view.hpp"

using namespace tedge;
using namespace tedge::imaging;
using painter::Photograph;

namespace {

template <class T>
T must(Expected<T> result) {
    if (result) return *std::move(result);
    std::fprintf(stderr, "%s\n", result.error().message.c_str());
    std::exit(1);
}

Raster8 pixels_of(const std::filesystem::path& file) {
    return must(to_srgb8(must(read_picture(file))));
}

// Of a normal error in two directions: 95 % of all distances are smaller than this many times their RMS.
constexpr double rms_to_95 = 1.7308;

struct Errors {
    double rms_mm = 0.0;
    double median_mm = 0.0;
    double most_95_mm = 0.0;  // of 95 % of the points
    double largest_mm = 0.0;
    double map_rms_mm = 0.0;  // what the error map says at these points
    double within = 0.0;      // share of the points nearer than the error map's 95 %
};

// A grid of points of the photograph that see the face, and lie inside the reference. For a lined canvas the place is
// where the paint was before.
Errors errors_of(const Photograph& reference, const Photograph& moving, const RegistrationReport& report) {
    const painter::Camera still = painter::camera_of(reference);
    const painter::Camera camera = painter::camera_of(moving);
    const BsplineDisplacement lining = painter::old_from_new_lining();
    std::vector<double> distances;
    double squares = 0.0;
    double map_squares = 0.0;
    std::size_t within = 0;
    const int step = std::max(8, moving.size.width_px / 90);
    for (int y = step / 2; y < moving.size.height_px; y += step) {
        for (int x = step / 2; x < moving.size.width_px; x += step) {
            const PointPx at{static_cast<double>(x), static_cast<double>(y)};
            PointMm face = camera.to_face(at);
            if (face.x_mm < 0 || face.y_mm < 0 || face.x_mm > painter::face_size.width_mm ||
                face.y_mm > painter::face_size.height_mm)
                continue;
            if (moving.lined()) {
                const PointMm by = lining.at(face);
                face = {face.x_mm + by.x_mm, face.y_mm + by.y_mm};
            }
            const PointPx on_reference = report.reference_from_moving.map(at);
            const PointMm found = still.to_face(on_reference);
            distances.push_back(std::hypot(found.x_mm - face.x_mm, found.y_mm - face.y_mm));
            squares += distances.back() * distances.back();
            const double says_mm = report.error_map.at(on_reference) / reference.pose.px_per_mm;
            map_squares += says_mm * says_mm;
            if (distances.back() < rms_to_95 * says_mm) ++within;
        }
    }
    if (distances.empty()) return {};
    std::sort(distances.begin(), distances.end());
    const auto count = static_cast<double>(distances.size());
    return {std::sqrt(squares / count), distances[distances.size() / 2], distances[distances.size() * 95 / 100],
            distances.back(),           std::sqrt(map_squares / count),  static_cast<double>(within) / count};
}

LightDifference light_beside_normal(const Photograph& moving) {
    if (moving.light == "normal") return LightDifference::none;
    return moving.light == "raking" ? LightDifference::one_side : LightDifference::other_kind;
}

}  // namespace

int main(int count, char** arguments) {
    if (count < 2) {
        std::fputs("bench_registration_demo FOLDER [FILE]\n", stderr);
        return 2;
    }
    const std::filesystem::path folder = arguments[1];
    const std::string only = count > 2 ? arguments[2] : "";
    const auto photographs = painter::all_photographs(1.0);
    const auto reference = std::ranges::find(photographs, "received-normal.tif", &Photograph::file);
    const Raster8 still = pixels_of(folder / reference->file);
    std::printf("%-25s %-19s %8s %8s %8s %8s %7s %7s %5s %8s %7s %11s %5s  %s\n", "photograph", "verdict", "true mm",
                "95 %", "largest", "says mm", "95 %", "ratio", "r 95", "map", "within", "tiles", "s", "matched on");
    for (const Photograph& each : photographs) {
        if (each.file == reference->file || (!only.empty() && each.file != only)) continue;
        const auto report =
            must(register_pictures(still, pixels_of(folder / each.file), {.light = light_beside_normal(each)}));
        const Errors errors = errors_of(*reference, each, report);
        const double says_mm = report.error_px / reference->pose.px_per_mm;
        std::printf("%-25s %-19s %8.4f %8.4f %8.4f %8.4f %7.4f %7.2f %5.2f %8.4f %6.1f%% %4d /%4d %5.1f  %s\n",
                    each.file.c_str(), report.code.c_str() + 13, errors.rms_mm, errors.most_95_mm, errors.largest_mm,
                    says_mm, rms_to_95 * says_mm, says_mm / errors.rms_mm, rms_to_95 * says_mm / errors.most_95_mm,
                    errors.map_rms_mm, 100.0 * errors.within, report.tiles_agreeing, report.tiles, report.seconds,
                    std::string(name_of(report.matched_on)).c_str());
        std::fflush(stdout);
    }
    return 0;
}
