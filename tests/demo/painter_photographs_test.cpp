// The photographs held against truth.json: what it says must be found in the pixels.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cards.hpp"
#include "photographs.hpp"
#include "studio.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::painter;

namespace {

using nlohmann::json;

json truth_of(const std::filesystem::path& folder) {
    return json::parse(read_file(folder / "truth.json").value());
}

json photograph(const json& truth, const std::string& file) {
    for (const json& p : truth.at("photographs"))
        if (p.at("file") == file) return p;
    throw std::out_of_range(file);
}

PointPx point(const json& pair) {
    return {pair.at(0).get<double>(), pair.at(1).get<double>()};
}

class Seen {
public:
    explicit Seen(const std::filesystem::path& file) : picture_(imaging::read_picture(file).value()) {}

    [[nodiscard]] SizePx size() const { return picture_.size(); }
    [[nodiscard]] double at(int x, int y, int channel) const {
        if (picture_.bits() == 16) return std::get<imaging::Raster16>(picture_.pixels).at(x, y, channel) / 65535.0;
        return std::get<imaging::Raster8>(picture_.pixels).at(x, y, channel) / 255.0;
    }
    [[nodiscard]] double green_linear(double x, double y) const {
        const int column = static_cast<int>(std::floor(x)), row = static_cast<int>(std::lround(y));
        const double t = x - column;
        return (1.0 - t) * imaging::srgb_decoded(at(column, row, 1)) +
               t * imaging::srgb_decoded(at(column + 1, row, 1));
    }
    // Mean over a small square, as Lab.
    [[nodiscard]] imaging::Lab lab(PointPx middle, int reach) const {
        imaging::Rgb sum;
        int count = 0;
        for (int dy = -reach; dy <= reach; ++dy)
            for (int dx = -reach; dx <= reach; ++dx, ++count) {
                const int x = static_cast<int>(std::lround(middle.x_px)) + dx,
                          y = static_cast<int>(std::lround(middle.y_px)) + dy;
                sum.r += at(x, y, 0);
                sum.g += at(x, y, 1);
                sum.b += at(x, y, 2);
            }
        return imaging::lab_from_srgb({sum.r / count, sum.g / count, sum.b / count});
    }

private:
    imaging::Picture picture_;
};

struct Taken {
    TemporaryFolder folder;
    json truth;

    Taken(const char* only, double scale) {
        REQUIRE(take_photographs({.folder = folder.path(), .scale = scale, .threads = 2, .only = only, .say = {}}));
        truth = truth_of(folder.path());
    }
};

// Where the green light passes half-way between two levels on the line from `from` to `to`.
double edge_at(const Seen& seen, double from_x, double to_x, double y) {
    const double low = seen.green_linear(from_x, y), high = seen.green_linear(to_x, y);
    for (double x = from_x; (to_x - x) * (to_x - from_x) > 0.0; x += std::copysign(0.02, to_x - from_x))
        if ((seen.green_linear(x, y) - 0.5 * (low + high)) * (high - low) > 0.0) return x;
    return from_x;
}

}  // namespace

TEST_CASE("one, two and four threads paint the same bytes") {
    const TemporaryFolder one, two, four;
    const auto paint = [](const TemporaryFolder& folder, int threads) {
        REQUIRE(take_photographs({.folder = folder.path(), .scale = 0.05, .threads = threads, .only = {}, .say = {}}));
    };
    paint(one, 1);
    paint(two, 2);
    paint(four, 4);
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(one.path())) {
        const auto name = entry.path().filename();
        INFO(name);
        const auto first = hash_file_hex(entry.path(), HashAlgorithm::sha256).value();
        CHECK(hash_file_hex(two.path() / name, HashAlgorithm::sha256).value() == first);
        CHECK(hash_file_hex(four.path() / name, HashAlgorithm::sha256).value() == first);
        ++files;
    }
    CHECK(files == static_cast<int>(all_photographs(1.0).size()) + 1);
}

TEST_CASE("chart and scale lie in the reference where truth.json says") {
    const Taken taken("received-normal.tif", 0.25);
    const Seen seen(taken.folder.path() / "received-normal.tif");
    const json shot = photograph(taken.truth, "received-normal.tif");
    REQUIRE(seen.size() == SizePx{shot.at("width_px").get<int>(), shot.at("height_px").get<int>()});

    SECTION("every patch in the sRGB gamut has its published colour, nearly") {
        // Patches measured by their makers (resources/reference/chart24_lab_d50.csv); the camera errs by a few per
        // cent, the light falls off by a few. Lightness is scaled by the white patch, as a photographer would.
        const auto lab = chart_lab_d50();
        const auto& middles = shot.at("chart").at("patch_middles_px");
        double worst = 0.0;
        for (std::size_t patch = 0; patch < 24; ++patch) {
            if (patch == 17) continue;  // cyan lies outside sRGB
            const imaging::Lab found = seen.lab(point(middles.at(patch)), 5);
            const double lightness = lab[patch][0] * seen.lab(point(middles.at(18)), 5).l / lab[18][0];
            worst = std::max(worst, std::hypot(found.l - lightness, found.a - lab[patch][1], found.b - lab[patch][2]));
        }
        CHECK(worst < 4.0);
    }

    SECTION("the sides of the white patch stand where they should, to a third of a pixel") {
        const Card card{Grid::over(chart_size, 1.0), {}, chart_place, 0.0};
        const Camera camera = camera_of(all_photographs(0.25)[4]);
        const PointMm middle = chart_patch_middle(18);
        const PointPx left = camera.to_photo(card.to_face({middle.x_mm - 0.5 * chart_patch_mm, middle.y_mm}));
        const PointPx inside = camera.to_photo(card.to_face(middle));
        CHECK(std::fabs(edge_at(seen, left.x_px - 1.6, inside.x_px, inside.y_px) - left.x_px) < 0.34);
    }

    SECTION("the ends of the scale's card, 220 mm apart") {
        const Camera camera = camera_of(all_photographs(0.25)[4]);
        const PointPx zero = point(shot.at("scale").at("zero_px"));
        const PointPx again =
            camera.to_photo({scale_place.x_mm + scale_zero_mm, scale_place.y_mm + 0.5 * scale_line_mm});
        CHECK(std::hypot(zero.x_px - again.x_px, zero.y_px - again.y_px) < 1e-4);
        const double y_mm = scale_place.y_mm + 14.6;  // below the figures
        const PointPx left = camera.to_photo({scale_place.x_mm, y_mm});
        const PointPx right = camera.to_photo({scale_place.x_mm + scale_length_mm + 2.0 * scale_zero_mm, y_mm});
        const double found_left = edge_at(seen, left.x_px - 5.0, left.x_px + 5.0, left.y_px);
        const double found_right = edge_at(seen, right.x_px + 5.0, right.x_px - 5.0, right.y_px);
        CHECK(std::fabs(found_left - left.x_px) < 0.34);
        CHECK(std::fabs(found_right - right.x_px) < 0.34);
    }
}

TEST_CASE("places of a photograph and of the face lead to one another") {
    for (const Photograph& p : all_photographs(1.0)) {
        const Camera camera = camera_of(p);
        for (const PointMm face : {PointMm{0, 0}, PointMm{305, 230}, PointMm{610, 460}, PointMm{12.5, 444}}) {
            const PointMm back = camera.to_face(camera.to_photo(face));
            CHECK(std::hypot(back.x_mm - face.x_mm, back.y_mm - face.y_mm) < 1e-7);
        }
        const PointMm middle = camera.to_face({0.5 * (p.size.width_px - 1), 0.5 * (p.size.height_px - 1)});
        CHECK(std::hypot(middle.x_mm - p.pose.look_at.x_mm, middle.y_mm - p.pose.look_at.y_mm) < 6.0);
    }
}

TEST_CASE("the lens bends straight lines by the printed formula") {
    // One place worked by hand from Brown's formula: x = 0.3, y = -0.2, r² = 0.13.
    const Lens lens{1000.0, 800.0, 2000.0, 0.02, -0.01, 0.001, -0.002};
    const PointPx out = lens.undistorted({1600.0, 400.0});
    const double radial = 0.02 * 0.13 - 0.01 * 0.0169;
    const double x = 0.3 + 0.3 * radial + 0.001 * (0.13 + 0.18) + 2.0 * -0.002 * 0.3 * -0.2;
    const double y = -0.2 - 0.2 * radial - 0.002 * (0.13 + 0.08) + 2.0 * 0.001 * 0.3 * -0.2;
    CHECK(out.x_px == Approx(1000.0 + 2000.0 * x).epsilon(1e-12));
    CHECK(out.y_px == Approx(800.0 + 2000.0 * y).epsilon(1e-12));
}

TEST_CASE("the lined canvas has moved, smoothly and by about a millimetre") {
    const BsplineDisplacement moved = old_from_new_lining();
    double most = 0.0;
    for (double y = 0.0; y <= 460.0; y += 10.0)
        for (double x = 0.0; x <= 610.0; x += 10.0) {
            const PointMm here = moved.at({x, y});
            const PointMm beside = moved.at({x + 1.0, y});
            most = std::max(most, std::hypot(here.x_mm, here.y_mm));
            CHECK(std::hypot(here.x_mm - beside.x_mm, here.y_mm - beside.y_mm) < 0.05);
        }
    CHECK(most > 0.5);
    CHECK(most < 2.0);
}

TEST_CASE("the telephone's upright photograph says how it must be turned") {
    const Taken taken("telephone-2.jpg", 0.06);
    const auto probe = imaging::probe_picture(taken.folder.path() / "telephone-2.jpg");
    REQUIRE(probe);
    CHECK(probe->metadata.orientation_in_file == 6);
    CHECK(probe->metadata.camera_make == "Wren");
    CHECK(probe->metadata.captured_at == "2025-03-04T15:43:00");
    CHECK(probe->size.height_px > probe->size.width_px);
    // Upright again: the wall is below the frame, lighter than the picture's dark bank above it.
    const Seen seen(taken.folder.path() / "telephone-2.jpg");
    const json shot = photograph(taken.truth, "telephone-2.jpg");
    REQUIRE(seen.size() == SizePx{shot.at("width_px").get<int>(), shot.at("height_px").get<int>()});
    const Camera camera = camera_of(all_photographs(0.06)[2]);
    const PointPx wall = camera.to_photo({80.0, 460.0 + frame_width_mm + 20.0});
    const PointPx bank = camera.to_photo({200.0, 450.0});
    CHECK(seen.lab(wall, 2).l > seen.lab(bank, 2).l + 20.0);
}

TEST_CASE("wrong wishes are answered in a sentence") {
    const TemporaryFolder folder;
    const auto scale = take_photographs({.folder = folder.path(), .scale = 3.0, .threads = 1, .only = {}, .say = {}});
    REQUIRE_FALSE(scale);
    CHECK(scale.error().code == "painter.bad-scale");
    const auto name =
        take_photographs({.folder = folder.path(), .scale = 0.1, .threads = 1, .only = "nothing.jpg", .say = {}});
    REQUIRE_FALSE(name);
    CHECK(name.error().code == "painter.unknown-photograph");
}
