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

struct Errors {
    std::size_t points = 0;
    double rms_mm = 0.0;
    double median_mm = 0.0;
    double largest_mm = 0.0;
};

// A grid of points of the photograph that see the face, and lie inside the reference. For a lined canvas the place is
// where the paint was before.
Errors errors_of(const Photograph& reference, const Photograph& moving, const PixelMap& map) {
    const painter::Camera still = painter::camera_of(reference);
    const painter::Camera camera = painter::camera_of(moving);
    const BsplineDisplacement lining = painter::old_from_new_lining();
    std::vector<double> distances;
    double squares = 0.0;
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
            const PointMm found = still.to_face(map.map(at));
            distances.push_back(std::hypot(found.x_mm - face.x_mm, found.y_mm - face.y_mm));
            squares += distances.back() * distances.back();
        }
    }
    if (distances.empty()) return {};
    std::sort(distances.begin(), distances.end());
    return {distances.size(), std::sqrt(squares / static_cast<double>(distances.size())),
            distances[distances.size() / 2], distances.back()};
}

const char* name_of(MatchedOn on) {
    switch (on) {
        case MatchedOn::brightness:
            return "brightness";
        case MatchedOn::changed_brightness:
            return "changed brightness";
        case MatchedOn::edges:
            return "edges";
        case MatchedOn::colour:
            return "colour";
    }
    return "";
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
    std::printf("%-26s %-30s %8s %8s %8s %8s %10s %7s  %s\n", "photograph", "verdict", "rms mm", "median", "largest",
                "says mm", "tiles", "s", "matched on");
    for (const Photograph& each : photographs) {
        if (each.file == reference->file || (!only.empty() && each.file != only)) continue;
        const auto report = must(register_pictures(still, pixels_of(folder / each.file)));
        const Errors errors = errors_of(*reference, each, report.reference_from_moving);
        std::printf("%-26s %-30s %8.3f %8.3f %8.3f %8.3f %4d /%4d %7.1f  %s\n", each.file.c_str(), report.code.c_str(),
                    errors.rms_mm, errors.median_mm, errors.largest_mm, report.error_px / reference->pose.px_per_mm,
                    report.tiles_agreeing, report.tiles, report.seconds, name_of(report.matched_on));
        std::fflush(stdout);
    }
    return 0;
}
