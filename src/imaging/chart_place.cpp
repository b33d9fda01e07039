// Where the chart lies to a fraction of a pixel. A detector's corners wander by a hundredth or two of the chart. The
// middle between two opposite edges of a patch does not: blur and bleeding move both edges the same way.
#include "chart_place.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>

namespace tedge::imaging {
namespace {

constexpr double reach = 0.72;           // patches, from the middle of a patch: just past the gap's far side
constexpr double edge_search = 0.26;     // how far from the nominal edge an edge may stand, in patches
constexpr double least_contrast = 0.12;  // of an edge, over the brighter side
constexpr int least_patches = 12;
constexpr int rounds = 4;

// Beyond the rim of the picture as at the rim.
double light_at(const Raster16& linear, double x, double y) {
    x = std::clamp(x, 0.0, linear.width_px() - 1.001);
    y = std::clamp(y, 0.0, linear.height_px() - 1.001);
    const int x0 = static_cast<int>(std::floor(x));
    const int y0 = static_cast<int>(std::floor(y));
    const double fx = x - x0;
    const double fy = y - y0;
    const auto sum = [&linear](int px, int py) {
        return static_cast<double>(linear.at(px, py, 0)) + linear.at(px, py, 1) + linear.at(px, py, 2);
    };
    return (1 - fy) * ((1 - fx) * sum(x0, y0) + fx * sum(x0 + 1, y0)) +
           fy * ((1 - fx) * sum(x0, y0 + 1) + fx * sum(x0 + 1, y0 + 1));
}

// Light along a line through the middle of a patch, which is the middle value.
struct Profile {
    std::vector<double> mean;
    int steps_a_patch = 64;

    [[nodiscard]] int centre() const { return static_cast<int>(mean.size()) / 2; }
    // distance in patches, direction -1 or +1
    [[nodiscard]] int index(double distance, int direction) const {
        const int steps = static_cast<int>(std::lround(distance * steps_a_patch));
        return std::clamp(centre() + direction * steps, 0, static_cast<int>(mean.size()) - 1);
    }
    [[nodiscard]] double at(int index) const { return mean[static_cast<std::size_t>(index)]; }
};

struct Side {
    double at = 0.0;  // in patches from the middle, signed
    bool found = false;
};

bool is_within(const Raster16& linear, double x, double y) {
    return x >= 0 && y >= 0 && x <= linear.width_px() - 1 && y <= linear.height_px() - 1;
}

// Averaged across the patch's inner half; empty where the middle of the patch lies beside the picture. Its far ends
// may: of a chart that lies close to the rim the gap beyond its outermost patches is seen in part, and that part is
// dark. Steps are finer than pixels: between two of them light changes linearly.
Profile profile(const Raster16& linear, const Homography& map, double column, double row, bool across,
                double pitch_px) {
    Profile out{.mean = {}, .steps_a_patch = std::clamp(static_cast<int>(pitch_px * 2.5), 64, 1024)};
    const auto centre = map.apply(column, row);
    if (!is_within(linear, centre[0], centre[1])) return {};
    const int side = static_cast<int>(reach * out.steps_a_patch);
    const int lines = std::clamp(static_cast<int>(pitch_px * 0.5), 5, 41);
    out.mean.reserve(static_cast<std::size_t>(side) * 2 + 1);
    for (int i = -side; i <= side; ++i) {
        const double u = static_cast<double>(i) / out.steps_a_patch;
        double sum = 0.0;
        for (int j = 0; j < lines; ++j) {
            const double v = 0.56 * ((j + 0.5) / lines - 0.5);
            const auto p = across ? map.apply(column + u, row + v) : map.apply(column + v, row + u);
            sum += light_at(linear, p[0], p[1]);
        }
        out.mean.push_back(sum / lines);
    }
    return out;
}

// The half-way crossing between the patch's own level and the darkest of the gap beside it: gaps are dark, a brighter
// neighbour is none.
Side edge(const Profile& light, double inside_level, int direction) {
    const int first = light.index(nominal_patch_share / 2 - edge_search, direction);
    const int last = light.index(0.5 + 0.8 * edge_search, direction);
    int darkest = first;
    for (int i = first; i != last + direction; i += direction)
        if (light.at(i) < light.at(darkest)) darkest = i;
    const double gap = light.at(darkest);
    if (inside_level - gap < least_contrast * inside_level) return {};
    const double half = 0.5 * (gap + inside_level);
    const int nearest = light.index(0.15, direction);
    for (int i = darkest; i != nearest; i -= direction) {
        const double here = light.at(i);
        const double before = light.at(i - direction);
        if (here > half || before <= half) continue;
        const double part = (half - here) / (before - here);
        return {.at = (i - light.centre() - direction * part) / light.steps_a_patch, .found = true};
    }
    return {};
}

struct Middle {
    double at = 0.0;
    double width = 0.0;
};

double median_of(std::vector<double> values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, half);
    return *half;
}

std::optional<Middle> middle(const Profile& light) {
    if (light.mean.empty()) return std::nullopt;
    const double level =
        median_of({light.mean.begin() + light.index(0.2, -1), light.mean.begin() + light.index(0.2, +1) + 1});
    const Side low = edge(light, level, -1);
    const Side high = edge(light, level, +1);
    if (!low.found || !high.found) return std::nullopt;
    const Middle found{.at = 0.5 * (low.at + high.at), .width = high.at - low.at};
    if (found.width < 0.6 || found.width > 1.02) return std::nullopt;
    return found;
}

struct Middles {
    std::vector<cv::Point2d> chart;
    std::vector<cv::Point2d> photo;
    std::vector<double> widths;
};

Middles middles_of_patches(const ChartPicture& picture, const Homography& map) {
    Middles out;
    const double pitch = patch_distance_px(map);
    for (std::size_t patch = 0; patch < chart_patches; ++patch) {
        const auto [column, row] = patch_centre(patch);
        const auto x = middle(profile(picture.linear, map, column, row, true, pitch));
        const auto y = middle(profile(picture.linear, map, column, row, false, pitch));
        if (!x || !y) continue;
        const auto at = map.apply(column + x->at, row + y->at);
        out.chart.emplace_back(column, row);
        out.photo.emplace_back(at[0], at[1]);
        out.widths.push_back(0.5 * (x->width + y->width));
    }
    return out;
}

// Iterated least squares; a patch that a reflection or a finger has moved is dropped.
std::optional<ChartPlace> fitted(Middles found, double pitch_px) {
    ChartPlace place;
    for (int round = 0; round < 5; ++round) {
        if (found.chart.size() < static_cast<std::size_t>(least_patches)) return std::nullopt;
        const cv::Mat h = cv::findHomography(found.chart, found.photo, 0);
        if (h.empty()) return std::nullopt;
        std::array<double, 9> values{};
        std::copy_n(h.ptr<double>(), 9, values.begin());
        const auto map = Homography::from_row_major(values);
        if (!map) return std::nullopt;
        place.photo_from_chart = *map;
        std::vector<double> away;
        double sum = 0.0;
        for (std::size_t i = 0; i < found.chart.size(); ++i) {
            const auto at = map->apply(found.chart[i].x, found.chart[i].y);
            away.push_back(std::hypot(at[0] - found.photo[i].x, at[1] - found.photo[i].y));
            sum += away.back() * away.back();
        }
        place.misfit_px = std::sqrt(sum / static_cast<double>(away.size()));
        place.patches_found = static_cast<int>(away.size());
        const double limit = std::max(3.5 * median_of(away), 0.01 * pitch_px);
        Middles kept;
        for (std::size_t i = 0; i < away.size(); ++i) {
            if (away[i] > limit) continue;
            kept.chart.push_back(found.chart[i]);
            kept.photo.push_back(found.photo[i]);
            kept.widths.push_back(found.widths[i]);
        }
        const bool settled = kept.chart.size() == found.chart.size();
        found = std::move(kept);
        if (settled) break;
    }
    place.patch_share = std::clamp(median_of(found.widths), 0.7, 1.0);
    return place;
}

}  // namespace

Expected<Homography> map_from_corners(const ChartCorners& corners_px, double patch_share) {
    const double half = patch_share / 2;
    const double right = static_cast<double>(chart_columns) - 1.0 + half;
    const double bottom = static_cast<double>(chart_rows) - 1.0 + half;
    std::array<std::array<double, 2>, 4> to{};
    for (std::size_t i = 0; i < 4; ++i) to[i] = {corners_px[i].x_px, corners_px[i].y_px};
    return Homography::from_four_points({{{-half, -half}, {right, -half}, {right, bottom}, {-half, bottom}}}, to);
}

ChartCorners corners_of(const Homography& photo_from_chart, double patch_share) {
    const double half = patch_share / 2;
    const double right = static_cast<double>(chart_columns) - 1.0 + half;
    const double bottom = static_cast<double>(chart_rows) - 1.0 + half;
    const auto at = [&photo_from_chart](double x, double y) {
        const auto p = photo_from_chart.apply(x, y);
        return PointPx{p[0], p[1]};
    };
    return {at(-half, -half), at(right, -half), at(right, bottom), at(-half, bottom)};
}

bool inside(const ChartPicture& picture, const Homography& photo_from_chart, double patch_share) {
    return std::ranges::all_of(corners_of(photo_from_chart, patch_share), [&picture](const PointPx& p) {
        return p.x_px >= 0 && p.y_px >= 0 && p.x_px <= picture.linear.width_px() - 1 &&
               p.y_px <= picture.linear.height_px() - 1;
    });
}

double patch_distance_px(const Homography& photo_from_chart) {
    double sum = 0.0;
    int count = 0;
    for (int row = 0; row < static_cast<int>(chart_rows) - 1; ++row) {
        for (int column = 0; column < static_cast<int>(chart_columns) - 1; ++column) {
            const auto here = photo_from_chart.apply(column, row);
            const auto beside = photo_from_chart.apply(column + 1, row);
            const auto below = photo_from_chart.apply(column, row + 1);
            sum += std::hypot(beside[0] - here[0], beside[1] - here[1]);
            sum += std::hypot(below[0] - here[0], below[1] - here[1]);
            count += 2;
        }
    }
    return sum / count;
}

std::optional<ChartPlace> refined(const ChartPicture& picture, const Homography& rough) {
    Homography map = rough;
    ChartPlace place;
    for (int round = 0; round < rounds; ++round) {
        const auto better = fitted(middles_of_patches(picture, map), patch_distance_px(map));
        if (!better) return std::nullopt;
        place = *better;
        map = place.photo_from_chart;
    }
    place.patch_px = patch_distance_px(map);
    place.corners_px = corners_of(map, place.patch_share);
    return place;
}

}  // namespace tedge::imaging
