#include "aged_copy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <thread>
#include <vector>

#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

namespace tedge::test_support {
namespace {

using imaging::Raster8;
using imaging::RasterF;

constexpr std::uint64_t noise_seed = 77;

OldView view_of(SizePx size, const CopyRecipe& recipe) {
    if (!recipe.lens) return {varnished_view().homography, size};
    const double strength = recipe.strength;
    const Viewpoint viewpoint{
        .degrees = -1.4 * strength, .scale = 0.96, .perspective = 0.04 * strength, .shift = {7.3, -4.6}};
    return {seen_from(viewpoint, size, size), size, 0.008 * strength, 2.0 * strength, size.width_px / 6.0};
}

OldResin resin_of(int strength) {
    if (strength == 1) return {{0.04, 0.08, 0.22}, 0.04};
    return {{0.10, 0.18, 0.45}, 0.12};
}

OldCamera camera_of(int strength) {
    if (strength == 1) return {4000.0, 6.0, 75};
    return {800.0, 10.0, 50};
}

// Every row by one thread alone.
template <class Row>
void for_each_row(int rows, const Row& row) {
    const std::jthread odd([&] {
        for (int y = 1; y < rows; y += 2) row(y);
    });
    for (int y = 0; y < rows; y += 2) row(y);
}

std::uint8_t eight_bit(double linear) {
    return static_cast<std::uint8_t>(std::lround(255.0 * std::clamp(imaging::srgb_encoded(linear), 0.0, 1.0)));
}

RasterF in_linear_light(const Raster8& picture) {
    std::array<float, 256> linear{};
    for (std::size_t i = 0; i < linear.size(); ++i)
        linear[i] = static_cast<float>(imaging::srgb_decoded(static_cast<double>(i) / 255.0));
    RasterF light(picture.width_px(), picture.height_px(), 3);
    for (std::size_t i = 0; i < light.samples().size(); ++i) light.samples()[i] = linear[picture.samples()[i]];
    return light;
}

Raster8 as_shown(const RasterF& light) {
    Raster8 picture(light.width_px(), light.height_px(), 3);
    for (std::size_t i = 0; i < light.samples().size(); ++i)
        picture.samples()[i] = eight_bit(static_cast<double>(light.samples()[i]));
    return picture;
}

// Adds the light at a point between pixels, two by two of them weighed by nearness; dark outside.
void add_light(const RasterF& light, PointPx at, double weight, std::array<double, 3>& sum) {
    const double left = std::floor(at.x_px);
    const double top = std::floor(at.y_px);
    if (left < 0 || top < 0 || left + 1 >= light.width_px() || top + 1 >= light.height_px()) return;
    const double right_share = at.x_px - left;
    const double below_share = at.y_px - top;
    for (int corner = 0; corner < 4; ++corner) {
        const int right = corner % 2;
        const int below = corner / 2;
        const double share =
            (right == 1 ? right_share : 1.0 - right_share) * (below == 1 ? below_share : 1.0 - below_share);
        const float* pixel = light.row(static_cast<int>(top) + below) + 3 * (static_cast<int>(left) + right);
        for (std::size_t c = 0; c < 3; ++c) sum[c] += weight * share * static_cast<double>(pixel[c]);
    }
}

// What the square of every pixel of the copy sees, on the average.
RasterF area_averaged(const RasterF& light, const OldView& view) {
    constexpr int steps = 4;
    RasterF copy(light.width_px(), light.height_px(), 3);
    for_each_row(copy.height_px(), [&](int y) {
        for (int x = 0; x < copy.width_px(); ++x) {
            std::array<double, 3> sum{};
            for (int k = 0; k < steps * steps; ++k) {
                const PointPx part{x + (k % steps + 0.5) / steps - 0.5, y + (k / steps + 0.5) / steps - 0.5};
                add_light(light, view(part), 1.0 / (steps * steps), sum);
            }
            for (std::size_t c = 0; c < 3; ++c) copy.row(y)[3 * x + static_cast<int>(c)] = static_cast<float>(sum[c]);
        }
    });
    return copy;
}

// The copy that under_varnish() makes, before its varnish.
RasterF laid_by_cubic_kernel(const Raster8& reference, const OldView& view) {
    imaging::PixelMap map;
    map.homography = view.plane;
    return in_linear_light(seen_askew(reference, map));
}

void put_under(const OldResin& resin, RasterF& light) {
    const double length = light.width_px() / 2.7;
    for (int y = 0; y < light.height_px(); ++y) {
        for (int x = 0; x < light.width_px(); ++x) {
            const double u = 2.0 * std::numbers::pi * x / length;
            const double v = 2.0 * std::numbers::pi * y / length;
            const double thickness = 1.0 + 0.2 * std::sin(u + 0.4 * v + 1.0) + 0.2 * std::cos(0.6 * u - 1.3 * v);
            const double veil = resin.veil * (1.0 + 0.5 * std::cos(0.8 * u + 0.9 * v + 2.0));
            for (std::size_t c = 0; c < 3; ++c) {
                float& each = light.row(y)[3 * x + static_cast<int>(c)];
                const double kept = std::pow(10.0, -2.0 * resin.density[c] * thickness);
                each = static_cast<float>((1.0 - veil) * kept * static_cast<double>(each) + veil);
            }
        }
    }
}

// Normal, two at a time after Box and Muller; as good as Poisson's distribution from some tens of electrons on.
double normal(int x, int y, std::uint64_t channel) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - counted(noise_seed, x, y, 2 * channel)));
    return radius * std::cos(2.0 * std::numbers::pi * counted(noise_seed, x, y, 2 * channel + 1));
}

Raster8 through_a_file(const Raster8& picture, int jpeg_quality) {
    const TemporaryFolder folder;
    const auto file = folder.path() / "copy.jpg";
    const imaging::PictureWriteOptions options{.jpeg_quality = jpeg_quality, .jpeg_full_chroma = false};
    imaging::write_picture(file, picture, imaging::PictureFormat::jpeg, options).value();
    return photo(file);
}

Raster8 taken_with(const OldCamera& camera, RasterF light) {
    for_each_row(light.height_px(), [&](int y) {
        for (int x = 0; x < light.width_px(); ++x) {
            for (int c = 0; c < 3; ++c) {
                float& each = light.row(y)[3 * x + c];
                const double electrons = camera.electrons * static_cast<double>(each);
                const double deviation = std::sqrt(electrons + camera.read_electrons * camera.read_electrons);
                const double counted_in = electrons + deviation * normal(x, y, static_cast<std::uint64_t>(c));
                each = static_cast<float>(std::max(0.0, counted_in) / camera.electrons);
            }
        }
    });
    return through_a_file(as_shown(light), camera.jpeg_quality);
}

}  // namespace

PointPx OldView::operator()(PointPx copy) const {
    const double middle_x = 0.5 * (size.width_px - 1);
    const double middle_y = 0.5 * (size.height_px - 1);
    const double x = copy.x_px - middle_x;
    const double y = copy.y_px - middle_y;
    const double out = 1.0 + lens * (x * x + y * y) / (middle_x * middle_x + middle_y * middle_y);
    const auto q = plane.apply(middle_x + out * x, middle_y + out * y);
    // Along the radius by belly·(r / reach)·exp((1 - (r / reach)²) / 2), which is largest at the reach.
    const double u = (q[0] - 0.4 * size.width_px) / belly_reach_px;
    const double v = (q[1] - 0.45 * size.height_px) / belly_reach_px;
    const double by = belly_px * std::exp(0.5 * (1.0 - u * u - v * v));
    return {q[0] + by * u, q[1] + by * v};
}

AgedCopy aged_copy(const Raster8& reference, const CopyRecipe& recipe) {
    const OldView view = view_of(reference.size(), recipe);
    RasterF light =
        recipe.lens ? area_averaged(in_linear_light(reference), view) : laid_by_cubic_kernel(reference, view);
    if (recipe.resin)
        put_under(resin_of(recipe.strength), light);
    else
        light = in_linear_light(yellowed(as_shown(light)));
    if (!recipe.camera) return {as_shown(light), view};
    return {taken_with(camera_of(recipe.strength), std::move(light)), view};
}

}  // namespace tedge::test_support
