// Made photographs of one invented painting with a colour chart beside it or apart, in two exposures and white
// balances: what changed is known by construction, in the light of the painting itself.
#pragma once

#include <array>
#include <cmath>

#include "made_chart.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

namespace tedge::charted {

using namespace usecases;
using namespace test_support;
using casebook::FieldValues;

inline constexpr SizePx size{640, 540};
inline constexpr int left = 60, top = 10, width = 520, height = 391;  // of the painted face
inline constexpr double px_per_mm = width / 812.0;
inline constexpr PointMm changed_at{200, 150};  // a square of 200 mm where paint became lighter, when it did
inline constexpr double changed_mm = 200.0, changed_light = 1.6;

struct Shot {
    double exposure = 1.0;
    std::array<double, 3> balance{1.0, 1.0, 1.0};
    bool changed = false;
    std::uint64_t seed = 1;
};
inline constexpr double noise = 0.002;  // of full scale, one standard deviation in linear light

inline bool in_changed(int x, int y) {
    const double x_mm = (x - left) / px_per_mm, y_mm = (y - top) / px_per_mm;
    return x_mm >= changed_at.x_mm && x_mm < changed_at.x_mm + changed_mm && y_mm >= changed_at.y_mm &&
           y_mm < changed_at.y_mm + changed_mm;
}

// Linear light of the painting itself, at most 0.55: room for what becomes lighter.
inline std::array<double, 3> painted(int x, int y, bool changed) {
    static const PaintedScene scene{.seed = 5, .stroke_px = 80.0, .layers = 2};
    const auto colour = scene.colour({static_cast<double>(x), static_cast<double>(y)});
    std::array<double, 3> out{};
    for (std::size_t c = 0; c < 3; ++c)
        out[c] = 0.03 + 0.5 * imaging::srgb_decoded(colour[c]) * (changed && in_changed(x, y) ? changed_light : 1.0);
    return out;
}

inline MadeChart chart_of(const Shot& shot) {
    MadeChart made{.size = size,
                   .photo_from_chart = chart_seen(size, 0, 24, 0.0, 0.0, 205.0),
                   .noise = noise,
                   .exposure = shot.exposure,
                   .samples = 4,
                   .seed = shot.seed};
    for (std::size_t c = 0; c < 3; ++c)
        for (double& each : made.camera_from_xyz[c]) each *= shot.balance[c];
    return made;
}

inline imaging::Raster8 shown(const imaging::ChartPicture& linear) {
    imaging::Raster8 out(size.width_px, size.height_px, 3);
    for (std::size_t i = 0; i < out.samples().size(); ++i)
        out.samples()[i] =
            static_cast<std::uint8_t>(std::lround(255 * imaging::srgb_encoded(linear.linear.samples()[i] / 65535.0)));
    return out;
}

inline imaging::Raster8 photograph_of(const Shot& shot, bool with_chart = true) {
    imaging::ChartPicture linear = photographed(chart_of(shot));
    if (!with_chart) std::ranges::fill(linear.linear.samples(), std::uint16_t{9000});
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x) {
            const auto light = painted(x, y, shot.changed);
            for (std::size_t c = 0; c < 3; ++c) {
                double n = -6.0;
                for (unsigned k = 0; k < 12; ++k) n += counted(shot.seed + 77, x, y, c * 12 + k);
                const double v = light[c] * shot.exposure * shot.balance[c] + n * noise;
                linear.linear.at(x, y, static_cast<int>(c)) =
                    static_cast<std::uint16_t>(std::lround(std::clamp(v, 0.0, 1.0) * 65535.0));
            }
        }
    return shown(linear);
}

struct Shop : UsecaseBook {
    Uuid taken(const std::string& name, const Shot& shot, bool with_chart = true, const NewPhotograph& as = {}) {
        must(imaging::write_picture(folder / name, photograph_of(shot, with_chart), imaging::PictureFormat::png));
        NewPhotograph wanted = as;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.stage = "as-received";
        wanted.has_chart = with_chart;
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double right = left + width - 0.5, bottom = top + height - 0.5;
        must(place_by_corners(acting, id,
                              {{{left - 0.5, top - 0.5}, {right, top - 0.5}, {right, bottom}, {left - 0.5, bottom}}}));
        return id;
    }
    // The chart in a frame of its own, in the same light and exposure.
    std::filesystem::path chart_apart(const std::string& name, const Shot& shot) {
        must(imaging::write_picture(folder / name, shown(photographed(chart_of(shot))), imaging::PictureFormat::png));
        return folder / name;
    }
    double measure(const Uuid& id, const Shot& shot) {
        return must(measure_chart(acting, id, {.corners_px = true_corners(chart_of(shot))})).figures.fit.foretold.mean;
    }
};

inline constexpr Shot first_shot{.exposure = 0.9, .balance = {1.0, 1.0, 1.0}, .changed = false, .seed = 11};
inline constexpr Shot second_shot{.exposure = 0.6, .balance = {1.12, 1.0, 0.8}, .changed = false, .seed = 12};

// Mean ΔE00 that the change of the painting makes within the square, in true colours.
inline double true_change() {
    double sum = 0.0;
    int pixels = 0;
    const auto lab = [](const std::array<double, 3>& light) {
        return imaging::lab_from_xyz(imaging::xyz_from_linear_srgb({light[0], light[1], light[2]}));
    };
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x)
            if (in_changed(x, y)) {
                sum += imaging::delta_e00(lab(painted(x, y, false)), lab(painted(x, y, true)));
                ++pixels;
            }
    return sum / pixels;
}

}  // namespace tedge::charted
