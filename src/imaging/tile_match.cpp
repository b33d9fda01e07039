#include "tile_match.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tile_match_sample.hpp"

namespace tedge::imaging {
namespace {

constexpr float gray_floor = 0.7F;      // gray levels: below it a deviation is noise of an 8-bit picture
constexpr float edge_floor = 0.05F;     // logarithm of the gradient
constexpr double gray_structure = 0.8;  // deviation from which a tile has structure
constexpr double edge_structure = 0.1;

int local_radius(int side) {
    return std::max(4, side * 10 / 64);
}

}  // namespace

PointPx aligned_centre(const TileSetup& setup, PointPx near) {
    const auto align = [&](double value) {
        return (std::round((value + 0.5) / setup.pitch_px - 0.5 * setup.side) + 0.5 * setup.side) * setup.pitch_px -
               0.5;
    };
    return {align(near.x_px), align(near.y_px)};
}

std::optional<LocalMap> local_map(const PixelMap& reference_from_moving, PointPx reference, double step_px) {
    const auto at = [&](double dx, double dy) {
        return reference_from_moving.inverse({reference.x_px + dx, reference.y_px + dy});
    };
    const auto centre = at(0, 0);
    const auto right = at(step_px, 0);
    const auto left = at(-step_px, 0);
    const auto below = at(0, step_px);
    const auto above = at(0, -step_px);
    if (!centre || !right || !left || !below || !above) return std::nullopt;
    const double scale = 0.5 / step_px;
    return LocalMap{*centre,
                    {(right->x_px - left->x_px) * scale, (below->x_px - above->x_px) * scale,
                     (right->y_px - left->y_px) * scale, (below->y_px - above->y_px) * scale}};
}

TileMatcher::TileMatcher(const GrayPyramid& reference, const GrayPyramid& moving, const TileSetup& setup)
    : reference_(reference),
      moving_(moving),
      setup_(setup),
      margin_(local_radius(setup.side) + (setup.signal == TileSignal::edges ? 5 : 0)),
      patch_side_(setup.side + 2 * margin_),
      spectrum_(setup.side) {
    const auto n = static_cast<std::size_t>(setup.side);
    window_x_.resize(n);
    window_y_.resize(n);
    patch_.resize(static_cast<std::size_t>(patch_side_) * static_cast<std::size_t>(patch_side_));
    tile_reference_.resize(n * n);
    tile_moving_.resize(n * n);
}

std::optional<TileMatcher::Part> TileMatcher::part_inside(PointPx centre, const LocalMap& guess) const {
    const int side = setup_.side;
    const double pitch = setup_.pitch_px;
    const SizePx reference = reference_.size(0);
    const SizePx moving = moving_.size(0);
    const auto& j = guess.moving_per_reference;
    const auto inside = [&](int column, int row) {
        const double dx = (column - 0.5 * (side - 1)) * pitch;
        const double dy = (row - 0.5 * (side - 1)) * pitch;
        const double x = guess.moving.x_px + j[0] * dx + j[1] * dy;
        const double y = guess.moving.y_px + j[2] * dx + j[3] * dy;
        return centre.x_px + dx >= 0.0 && centre.x_px + dx <= reference.width_px - 1 && centre.y_px + dy >= 0.0 &&
               centre.y_px + dy <= reference.height_px - 1 && x >= 0.0 && x <= moving.width_px - 1 && y >= 0.0 &&
               y <= moving.height_px - 1;
    };
    // Every side with a corner outside moves inwards until none is left.
    Part part{0, side, 0, side};
    while (part.last_column - part.first_column >= side / 2 && part.last_row - part.first_row >= side / 2) {
        const bool top_left = inside(part.first_column, part.first_row);
        const bool top_right = inside(part.last_column - 1, part.first_row);
        const bool bottom_left = inside(part.first_column, part.last_row - 1);
        const bool bottom_right = inside(part.last_column - 1, part.last_row - 1);
        if (top_left && top_right && bottom_left && bottom_right) return part;
        // A side gives way when both its corners are outside, or one while the opposite side has none to blame.
        constexpr int step = 2;
        const bool left = !top_left && !bottom_left;
        const bool right = !top_right && !bottom_right;
        const bool top = !top_left && !top_right;
        const bool bottom = !bottom_left && !bottom_right;
        const bool whole_side = left || right || top || bottom;
        if (left || (!whole_side && (!top_left || !bottom_left))) part.first_column += step;
        if (right || (!whole_side && (!top_right || !bottom_right))) part.last_column -= step;
        if (top || (!whole_side && (!top_left || !top_right))) part.first_row += step;
        if (bottom || (!whole_side && (!bottom_left || !bottom_right))) part.last_row -= step;
    }
    return std::nullopt;
}

void TileMatcher::set_window(const Part& part) {
    const auto fill = [](std::vector<float>& window, int first, int last) {
        std::fill(window.begin(), window.end(), 0.0F);
        for (int i = first; i < last; ++i)
            window[static_cast<std::size_t>(i)] =
                static_cast<float>(0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (i - first + 0.5) / (last - first)));
    };
    fill(window_x_, part.first_column, part.last_column);
    fill(window_y_, part.first_row, part.last_row);
}

bool TileMatcher::read_reference(PointPx centre) {
    // The centre stands between samples side/2 - 1 and side/2, so that levels are read without interpolation.
    const int level = static_cast<int>(std::lround(std::log2(setup_.pitch_px)));
    if (level < reference_.finest_level() || level >= reference_.levels()) return false;
    const double scale = level_scale(level);
    const int x0 = static_cast<int>(std::lround((centre.x_px + 0.5) / scale - setup_.side * 0.5));
    const int y0 = static_cast<int>(std::lround((centre.y_px + 0.5) / scale - setup_.side * 0.5));
    reference_.read(level, x0 - margin_, y0 - margin_, patch_side_, patch_side_, patch_.data());
    return true;
}

bool TileMatcher::read_moving(const LocalMap& guess) {
    const auto& j = guess.moving_per_reference;
    const double pitch = setup_.pitch_px;
    // The coarsest level whose pixels are not larger than the samples.
    const double moving_pitch = pitch * std::sqrt(std::abs(j[0] * j[3] - j[1] * j[2]));
    const int level = std::clamp(static_cast<int>(std::floor(std::log2(std::max(moving_pitch, 1e-6)) + 0.25)),
                                 moving_.finest_level(), moving_.levels() - 1);
    const double per_level = 1.0 / level_scale(level);
    const double first = -0.5 * (patch_side_ - 1) * pitch;
    SampleGrid grid{};
    grid.xx = j[0] * pitch * per_level;
    grid.yx = j[2] * pitch * per_level;
    grid.xy = j[1] * pitch * per_level;
    grid.yy = j[3] * pitch * per_level;
    grid.x = (guess.moving.x_px + (j[0] + j[1]) * first + 0.5) * per_level - 0.5;
    grid.y = (guess.moving.y_px + (j[2] + j[3]) * first + 0.5) * per_level - 0.5;
    const double last = patch_side_ - 1;
    const int left =
        static_cast<int>(std::floor(grid.x + std::min(0.0, grid.xx * last) + std::min(0.0, grid.xy * last))) - 2;
    const int top =
        static_cast<int>(std::floor(grid.y + std::min(0.0, grid.yx * last) + std::min(0.0, grid.yy * last))) - 2;
    const int right =
        static_cast<int>(std::ceil(grid.x + std::max(0.0, grid.xx * last) + std::max(0.0, grid.xy * last))) + 3;
    const int bottom =
        static_cast<int>(std::ceil(grid.y + std::max(0.0, grid.yx * last) + std::max(0.0, grid.yy * last))) + 3;
    const int width = right - left + 1;
    const int height = bottom - top + 1;
    constexpr int largest_side = 4096;  // a wild guess must not ask for gigabytes
    if (width > largest_side || height > largest_side) return false;
    source_.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    moving_.read(level, left, top, width, height, source_.data());
    grid.x -= left;
    grid.y -= top;
    sample_patch({source_.data(), width, height}, grid, patch_side_, patch_.data());
    return true;
}

// Signal, local normalisation, window; returns the deviation that tells structure from none.
double TileMatcher::prepare(std::vector<float>& tile) {
    const bool edges = setup_.signal == TileSignal::edges;
    if (edges) edge_strength(patch_, patch_side_, scratch_);
    const LocalWindow local{patch_side_, margin_, local_radius(setup_.side), edges ? edge_floor : gray_floor};
    const double deviation = std::sqrt(normalise_locally(patch_, local, tile));
    const auto n = static_cast<std::size_t>(setup_.side);
    for (std::size_t y = 0; y < n; ++y) {
        for (std::size_t x = 0; x < n; ++x) tile[y * n + x] *= window_x_[x] * window_y_[y];
    }
    return deviation;
}

TileMatch TileMatcher::match(PointPx centre, const LocalMap& guess) {
    TileMatch match;
    match.reference = centre;
    const auto part = part_inside(centre, guess);
    if (!part) return match;
    set_window(*part);
    if (!read_reference(centre)) return match;
    const double structure = setup_.signal == TileSignal::edges ? edge_structure : gray_structure;
    const bool reference_structured = prepare(tile_reference_) > structure;
    if (!reference_structured || !read_moving(guess)) return match;
    match.structured = prepare(tile_moving_) > structure;
    if (!match.structured) return match;
    if (!spectrum_.set(tile_reference_, tile_moving_)) return match;
    const CorrelationPeak peak = spectrum_.highest(static_cast<int>(setup_.search_samples), setup_.either_sign);
    if (peak.height <= 0.0) return match;
    if (setup_.keep_around) match.around = spectrum_.around(peak, setup_.side / 4);
    const RefinedPeak refined = spectrum_.refined(peak);
    match.score = std::clamp(refined.height / spectrum_.norm(), 0.0, 0.9999);
    match.significance = peak.height / std::max(peak.deviation, 1e-12);
    match.distinctness = peak.height / std::max(peak.next, 1e-12);
    match.found = refined.settled && std::max(std::abs(refined.x), std::abs(refined.y)) <= setup_.search_samples;
    match.reach_px = {window_deviation * (part->last_column - part->first_column) * setup_.pitch_px,
                      window_deviation * (part->last_row - part->first_row) * setup_.pitch_px};
    // The answer belongs to the middle of the part that was looked at.
    const double off_x = 0.5 * (part->first_column + part->last_column - setup_.side) * setup_.pitch_px;
    const double off_y = 0.5 * (part->first_row + part->last_row - setup_.side) * setup_.pitch_px;
    match.reference = {centre.x_px + off_x, centre.y_px + off_y};
    const double dx = off_x + refined.x * setup_.pitch_px;
    const double dy = off_y + refined.y * setup_.pitch_px;
    const auto& j = guess.moving_per_reference;
    match.moving = {guess.moving.x_px + j[0] * dx + j[1] * dy, guess.moving.y_px + j[2] * dx + j[3] * dy};
    // Cramér-Rao for a shift in white noise: signal to noise from the correlation, curvature of the peak, and the
    // number of independent values under the window (a Hann window in two directions keeps 0.14 of the energy, 0.25 of
    // the area).
    const double snr = match.score / (1.0 - match.score * match.score);
    const double values = 0.25 * (part->last_column - part->first_column) * (part->last_row - part->first_row);
    for (std::size_t i = 0; i < 3; ++i)
        match.information[i] =
            snr * values * refined.curvature[i] / spectrum_.norm() / (setup_.pitch_px * setup_.pitch_px);
    return match;
}

}  // namespace tedge::imaging
