// Registration on photographs of real paintings, which are not part of the project: a known map found again under
// varnish, and everything that must not be called usable, each with its time.
//
// bench_registration_photos   TEDGE_TEST_PHOTOS names the folder of photographs
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "aged_copy.hpp"
#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

RegistrationReport shown(const std::string& what, const Raster8& reference, const Raster8& moving) {
    const auto report = register_pictures(reference, moving, {});
    if (!report) {
        std::printf("%-44s %s\n", what.c_str(), report.error().code.c_str());
        std::exit(1);
    }
    std::printf("%-44s %-32s tiles %4d / %4d, inliers %4d, %5.2f s\n", what.c_str(), report->code.c_str(),
                report->tiles_agreeing, report->tiles, report->inliers, report->seconds);
    std::fflush(stdout);
    return *report;
}

Raster8 mirrored(const Raster8& picture) {
    Raster8 out(picture.width_px(), picture.height_px(), 3);
    for (int y = 0; y < out.height_px(); ++y) {
        for (int x = 0; x < out.width_px(); ++x) {
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = picture.at(picture.width_px() - 1 - x, y, c);
        }
    }
    return out;
}

Raster8 upside_down(const Raster8& picture) {
    Raster8 out(picture.width_px(), picture.height_px(), 3);
    for (int y = 0; y < out.height_px(); ++y) {
        for (int x = 0; x < out.width_px(); ++x) {
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = picture.at(picture.width_px() - 1 - x, picture.height_px() - 1 - y, c);
        }
    }
    return out;
}

Raster8 cropped(const Raster8& picture, int left, int top, int width, int height) {
    Raster8 out(width, height, 3);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = picture.at(left + x, top + y, c);
        }
    }
    return out;
}

Raster8 noise(SizePx size, std::uint64_t seed) {
    Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y) {
        for (int x = 0; x < size.width_px; ++x) {
            for (int c = 0; c < 3; ++c)
                out.at(x, y, c) = static_cast<std::uint8_t>(256.0 * counted(seed, x, y, static_cast<std::uint64_t>(c)));
        }
    }
    return out;
}

template <class Truth>
void say_errors(const RegistrationReport& report, const Truth& truth) {
    const TrueErrors errors =
        errors_at_true_points(report.reference_from_moving, truth, report.reference_size, report.moving_size, 12);
    std::printf("    at %zu true points RMS %.3f px, 95 %% within %.3f px, largest %.3f px; says %.3f px\n",
                errors.points, errors.rms_px, errors.most_95_px, errors.largest_px, report.error_px);
}

void say_errors(const RegistrationReport& report, const PixelMap& truth) {
    say_errors(report, [&](PointPx at) { return truth.map(at); });
}

// The same painting copied otherwise, one step at a time and all together, twice as strongly then.
void copies(const Raster8& harvest) {
    struct Named {
        const char* name;
        CopyRecipe recipe;
    };
    constexpr std::array<Named, 9> all{{{"harvesters, lens", {.lens = true}},
                                        {"harvesters, resin", {.resin = true}},
                                        {"harvesters, camera", {.camera = true}},
                                        {"harvesters, lens, resin, camera", {true, true, true, 1}},
                                        {"harvesters, strong lens", {.lens = true, .strength = 2}},
                                        {"harvesters, strong resin", {.resin = true, .strength = 2}},
                                        {"harvesters, strong camera", {.camera = true, .strength = 2}},
                                        {"harvesters, strong lens, resin", {true, true, false, 2}},
                                        {"harvesters, all three strong", {true, true, true, 2}}}};
    for (const Named& each : all) {
        const AgedCopy copy = aged_copy(harvest, each.recipe);
        say_errors(shown(each.name, harvest, copy.picture), copy.truth);
    }
}

void known_maps(const Raster8& harvest) {
    say_errors(shown("harvesters, under varnish", harvest, under_varnish(harvest, varnished_view())), varnished_view());
    PixelMap turned;
    turned.homography =
        Homography::from_row_major({-1, 0, harvest.width_px() - 1.0, 0, -1, harvest.height_px() - 1.0, 0, 0, 1})
            .value();
    say_errors(shown("harvesters, upside down", harvest, upside_down(harvest)), turned);
    PixelMap moved;
    moved.homography = Homography::from_row_major({1, 0, 400, 0, 1, 250, 0, 0, 1}).value();
    say_errors(shown("harvesters, a crop", harvest, cropped(harvest, 400, 250, 420, 330)), moved);
}

void must_be_refused(const std::filesystem::path& folder, const Raster8& harvest) {
    const Raster8 night = photo(folder / "vangogh_starry_night_1280x1014.jpg");
    shown("harvesters, mirror image", harvest, mirrored(harvest));
    shown("starry night, mirror image", night, mirrored(night));
    shown("harvesters, crop of starry night", harvest, cropped(night, 300, 200, 500, 400));
    shown("starry night, crop of harvesters", night, cropped(harvest, 300, 200, 500, 400));
    shown("harvesters, blank", harvest, Raster8(1165, 859, 3));
    shown("harvesters, noise", harvest, noise(harvest.size(), 5));
    shown("noise, other noise", noise(harvest.size(), 6), noise(harvest.size(), 7));
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        const std::string ending = entry.path().extension().string();
        if (name.starts_with("bruegel") || (ending != ".jpg" && ending != ".png")) continue;
        shown("harvesters, " + name, harvest, photo(entry.path()));
    }
}

}  // namespace

int main() {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) {
        std::fputs("TEDGE_TEST_PHOTOS does not name a folder of photographs.\n", stderr);
        return 2;
    }
    const Raster8 harvest = photo(std::filesystem::path(folder) / "bruegel_harvesters_1165x859.png");
    known_maps(harvest);
    copies(harvest);
    must_be_refused(folder, harvest);
    return 0;
}
