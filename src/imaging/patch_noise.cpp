#include "tedge/imaging/patch_noise.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "luminance.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr int least_side = 24;
constexpr int block_px = 8;
constexpr double darkest_linear = 0.0005;
constexpr double clipped_share = 0.01;
constexpr double least_uneven_l = 0.3, uneven_share = 0.5;

// A camera's own channels have no weights that are known.
std::array<double, 3> weights_for(ChartLight light) {
    return light == ChartLight::srgb ? luminance_weights : std::array{1.0 / 3, 1.0 / 3, 1.0 / 3};
}

// Of a grey of that luminance, 1 for full scale.
double lightness(double y) {
    return lab_from_xyz({d50_white.x * y, d50_white.y * y, d50_white.z * y}).l;
}

struct Patch {
    int width = 0;
    int height = 0;
    std::vector<double> l;
    double mean_y = 0.0;
    double clipped = 0.0;  // share

    [[nodiscard]] double& at(int x, int y) {
        return l[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
};

Patch patch_of(const ChartPicture& picture, const BoxPx& box) {
    const auto weights = weights_for(picture.light);
    Patch out{.width = box.width_px, .height = box.height_px, .l = {}};
    const double count = static_cast<double>(box.width_px) * box.height_px;
    for (int y = 0; y < box.height_px; ++y)
        for (int x = 0; x < box.width_px; ++x) {
            double sum = 0.0;
            bool full = false;
            for (int c = 0; c < 3; ++c) {
                const std::uint16_t sample = picture.linear.at(box.x_px + x, box.y_px + y, c);
                sum += weights[static_cast<std::size_t>(c)] * sample / 65535.0;
                full = full || sample >= clipped_from;
            }
            out.l.push_back(lightness(sum));
            out.mean_y += sum / count;
            out.clipped += full ? 1.0 / count : 0.0;
        }
    return out;
}

// Least squares; x and y about the middle are square to one another and to the mean. Returns the mean.
double take_plane_out(Patch& patch) {
    const double count = static_cast<double>(patch.l.size());
    const double mx = (patch.width - 1) / 2.0, my = (patch.height - 1) / 2.0;
    double mean = 0.0, lx = 0.0, ly = 0.0, xx = 0.0, yy = 0.0;
    for (int y = 0; y < patch.height; ++y)
        for (int x = 0; x < patch.width; ++x) {
            const double here = patch.at(x, y);
            mean += here / count;
            lx += here * (x - mx);
            ly += here * (y - my);
            xx += (x - mx) * (x - mx);
            yy += (y - my) * (y - my);
        }
    for (int y = 0; y < patch.height; ++y)
        for (int x = 0; x < patch.width; ++x) patch.at(x, y) -= mean + lx / xx * (x - mx) + ly / yy * (y - my);
    return mean;
}

double root_mean_square(const std::vector<double>& values, double degrees_taken) {
    double sum = 0.0;
    for (const double each : values) sum += each * each;
    return std::sqrt(sum / std::max(1.0, static_cast<double>(values.size()) - degrees_taken));
}

std::vector<double> block_means(Patch& patch) {
    std::vector<double> out;
    for (int top = 0; top + block_px <= patch.height; top += block_px)
        for (int left = 0; left + block_px <= patch.width; left += block_px) {
            double sum = 0.0;
            for (int y = top; y < top + block_px; ++y)
                for (int x = left; x < left + block_px; ++x) sum += patch.at(x, y);
            out.push_back(sum / (block_px * block_px));
        }
    return out;
}

}  // namespace

Expected<PatchNoise> patch_noise(const ChartPicture& picture, const BoxPx& box) {
    if (!box.lies_in(picture.linear.size(), least_side))
        return fail("noise.box", "The part marked is too small or lies outside the photograph.",
                    "Mark a part of at least 24 by 24 pixels.");
    Patch patch = patch_of(picture, box);
    if (patch.clipped > clipped_share)
        return fail("noise.clipped", "That part is overexposed, which hides its noise.",
                    "Mark a part that is not, a grey patch for one.");
    if (patch.mean_y < darkest_linear)
        return fail("noise.too-dark", "There is next to no light in that part.",
                    "Mark a lighter one, a grey patch for one.");
    PatchNoise out;
    out.pixels = static_cast<int>(patch.l.size());
    out.lightness_l = take_plane_out(patch);
    out.noise_l = root_mean_square(patch.l, 3.0);
    out.uneven_l = root_mean_square(block_means(patch), 3.0);
    if (out.uneven_l > std::max(least_uneven_l, uneven_share * out.noise_l))
        return fail("noise.not-uniform", "That part is not of one tone: what is in it would count as noise.",
                    "Mark a grey patch of a chart, a card or the board, away from its edges.");
    return out;
}

}  // namespace tedge::imaging
