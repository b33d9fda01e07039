#include "registration_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

// Two different pictures: chance puts a peak within one sample of the field in about one tile of a hundred, and a field
// bent to such tiles gains a few more. Pairs of one painting, half of it retouched, stay well above a third.
constexpr double least_agreeing_share = 0.30;
constexpr int fewest_agreeing = 20;
// The inner half of the overlap by area must agree too: two pictures in one frame, or before one wall, match at the
// rim.
constexpr double least_inner_share = 0.20;
constexpr double least_overlap_of_either = 0.01;
// Interpolation, rounding of the grid: no estimate below this is believed.
constexpr double smallest_error_px = 0.005;
// The covariance takes the roughness for known and for one all over the picture. It is neither: it is chosen in steps
// of about this size, and a canvas moved by lining bends more freely at its rim than the tiles as a whole say. One step
// more: on six made pairs moved at the rim the stated error rose from 0.8 of the true one to 0.94 (medians; the worst
// from 0.47 to 0.59), on pairs bent alike all over from 1.1 to 1.3.
constexpr double roughness_step = 2.2;
// What canvas bends within a tile is undone by what the map knows of it; of what it does not know there is about as
// much again.
constexpr double unfollowed_share = 1.0;
struct Sentence {
    const char* code;
    const char* text;
};
constexpr std::array<Sentence, 12> sentences{{
    {"registration.good", "The two photographs lie on each other all over."},
    {"registration.too-little-structure",
     "One of the photographs shows too little structure to be laid on another: it is too dark, too flat or out of "
     "focus."},
    {"registration.nothing-in-common",
     "The two photographs have too little in common: they may show two different pictures."},
    {"registration.pairs-not-borne-out",
     "What the photographs show around the given pairs of points does not agree: they may be on the wrong places, or "
     "the "
     "light differs too much."},
    {"registration.mirrored",
     "One photograph is a mirror image of the other, as the back is with light through the canvas: say that this is "
     "meant, or turn the photograph over."},
    {"registration.small-overlap", "The two photographs share too small a part of the picture."},
    {"registration.tiles-disagree",
     "The outlines match but the brushwork does not: the photographs may show different things in one place, or two "
     "versions or a copy of one composition."},
    {"registration.only-part-agrees",
     "Only the rim or one part matches: the photographs may show two different pictures in one frame or before one "
     "wall."},
    {"registration.copy",
     "The outlines match but stray from one another here and there, and the brushwork differs: one of the two may be a "
     "copy or another version. If canvas moved so much, mark three or more pairs of points."},
    {"registration.repeats-itself",
     "What the photographs show repeats itself, as a plain weave does: they fit equally well some repeats further on. "
     "Place it by the corners of the picture."},
    {"registration.residual-too-large", "The photographs match only roughly, with a residual above the tolerance."},
    {"registration.implausible-map", "The match found bends or folds the picture in a way that no photograph does."},
}};

bool agrees(const LevelResult& level, std::size_t tile) {
    return level.weights[tile] > 0.0;
}

// Share of agreeing tiles among those in the middle of the overlap: nearer to the centre of all tiles than 0.7 of the
// half-width and half-height, which is half the area.
double inner_share(const LevelResult& level) {
    double left = 1e300, right = -1e300, top = 1e300, bottom = -1e300;
    for (const TileMatch& tile : level.tiles) {
        left = std::min(left, tile.reference.x_px);
        right = std::max(right, tile.reference.x_px);
        top = std::min(top, tile.reference.y_px);
        bottom = std::max(bottom, tile.reference.y_px);
    }
    int all = 0;
    int agreeing = 0;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        const PointPx at = level.tiles[i].reference;
        if (std::abs(at.x_px - 0.5 * (left + right)) > 0.35 * (right - left) ||
            std::abs(at.y_px - 0.5 * (top + bottom)) > 0.35 * (bottom - top))
            continue;
        ++all;
        if (agrees(level, i)) ++agreeing;
    }
    return all > 0 ? agreeing / static_cast<double>(all) : 0.0;
}

// The covariance of the fit, and what no tile tells.
class ErrorOfMap {
public:
    ErrorOfMap(const LevelResult& level, double shift_px)
        : level_(level),
          field_(fitted(level)),
          everywhere_(smallest_error_px * smallest_error_px + shift_px * shift_px) {
        field_.invert();
    }
    // Square of the deviation of the distance.
    [[nodiscard]] double squared_at(PointPx reference) const {
        const auto c = field_.covariance(reference);
        const double bend = unfollowed_share * bend_in_tile_px(reference);
        return c[0] + c[2] + everywhere_ + bend * bend;
    }

private:
    static SmoothingField fitted(const LevelResult& level) {
        std::vector<FieldObservation> agreeing;
        std::vector<double> weights;
        for (std::size_t i = 0; i < level.tiles.size(); ++i) {
            if (!agrees(level, i)) continue;
            agreeing.push_back(level.observations[i]);
            weights.push_back(level.weights[i] / (level.scale * level.scale * level.shared_content));
        }
        std::vector<double> roughness = level.roughness_of;
        for (double& each : roughness) each *= roughness_step;
        return {level.lattice, agreeing, weights, roughness};
    }

    // How far the middle of a tile lies beside the mean under its window, along both.
    [[nodiscard]] double bend_in_tile_px(PointPx at) const {
        if (!level_.map.displacement) return 0.0;
        FieldObservation tile{at};
        tile.reach_px = {level_.reach_px, level_.reach_px};
        const PointMm middle = level_.map.displacement->at({at.x_px, at.y_px});
        const PointMm mean = mean_under_window(*level_.map.displacement, tile);
        return std::hypot(middle.x_mm - mean.x_mm, middle.y_mm - mean.y_mm);
    }

    const LevelResult& level_;
    SmoothingField field_;
    double everywhere_;
};

// Nine points of a square, three by three.
std::array<PointPx, 9> points_of_square(PointPx corner, double side_px) {
    std::array<PointPx, 9> points{};
    for (int k = 0; k < 9; ++k) {
        points[static_cast<std::size_t>(k)] = {corner.x_px + (k % 3 + 0.5) / 3.0 * side_px,
                                               corner.y_px + (k / 3 + 0.5) / 3.0 * side_px};
    }
    return points;
}

// Root of the mean square over the points that the moving picture shows; negative when it shows none.
double error_of_square(const ErrorOfMap& error, const PixelMap& map, const std::array<PointPx, 9>& points,
                       SizePx moving) {
    double squares = 0.0;
    int seen = 0;
    for (const PointPx& at : points) {
        const auto there = map.inverse(at);
        if (!there || !inside(*there, moving)) continue;
        squares += error.squared_at(at);
        ++seen;
    }
    return seen > 0 ? std::sqrt(squares / seen) : -1.0;
}

RegistrationErrorMap error_map(const ErrorOfMap& error, const PixelMap& map, SizePx reference, SizePx moving) {
    RegistrationErrorMap cells;
    cells.cell_px = std::max(1.0, std::max(reference.width_px, reference.height_px) / 32.0);
    cells.columns = static_cast<int>(std::ceil(reference.width_px / cells.cell_px));
    cells.rows = static_cast<int>(std::ceil(reference.height_px / cells.cell_px));
    for (int row = 0; row < cells.rows; ++row) {
        for (int column = 0; column < cells.columns; ++column) {
            const PointPx corner{column * cells.cell_px - 0.5, row * cells.cell_px - 0.5};
            const auto points = points_of_square(corner, cells.cell_px);
            cells.error_px.push_back(static_cast<float>(error_of_square(error, map, points, moving)));
        }
    }
    return cells;
}

// Over the area that the agreeing tiles stand for, a square of their spacing each: beside them, over a dark surround,
// the map claims nothing.
double error_where_tiles_agree(const ErrorOfMap& error, const LevelResult& level, SizePx moving) {
    double squares = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (!agrees(level, i)) continue;
        const PointPx middle = level.tiles[i].reference;
        const double half = 0.5 * level.spacing_px;
        const auto points = points_of_square({middle.x_px - half, middle.y_px - half}, level.spacing_px);
        const double each = error_of_square(error, level.map, points, moving);
        if (each < 0.0) continue;
        squares += each * each;
        ++count;
    }
    return count > 0 ? std::sqrt(squares / count) : 0.0;
}

std::string verdict(const LevelResult& level, const Circumstances& circumstances, const RegistrationOptions& options,
                    const RegistrationReport& report) {
    const double share = report.tiles > 0 ? report.tiles_agreeing / static_cast<double>(report.tiles) : 0.0;
    const double of_moving = share_on_reference(level.map, report.reference_size, report.moving_size);
    if (std::max(report.overlap_share, of_moving) < least_overlap_of_either) return "registration.small-overlap";
    if (report.tiles_agreeing < fewest_agreeing || share < least_agreeing_share) return "registration.tiles-disagree";
    if (inner_share(level) < least_inner_share) return "registration.only-part-agrees";
    if (circumstances.copy) return "registration.copy";
    if (circumstances.repeats_itself) return "registration.repeats-itself";
    if (report.residual_px > options.tolerance_px * level.pitch_px) return "registration.residual-too-large";
    if (report.mirrored && !options.accept_mirrored) return "registration.mirrored";
    return "registration.good";
}

}  // namespace

void refuse(RegistrationReport& report, const std::string& code) {
    const auto known =
        std::find_if(sentences.begin(), sentences.end(), [&](const Sentence& s) { return code == s.code; });
    report.code = code;
    report.reason = known != sentences.end() ? known->text : "";
    report.usable = code == "registration.good";
}

double error_px(const LevelResult& level, SizePx moving) {
    return error_where_tiles_agree(ErrorOfMap(level, 0.0), level, moving);
}

void judge(const LevelResult& level, const Circumstances& circumstances, const RegistrationOptions& options,
           RegistrationReport& report) {
    report.reference_from_moving = level.map;
    report.tiles = static_cast<int>(level.tiles.size());
    report.tiles_agreeing = 0;
    double squares = 0.0;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (!agrees(level, i)) continue;
        ++report.tiles_agreeing;
        squares += level.residuals_px[i] * level.residuals_px[i];
    }
    report.residual_px = report.tiles_agreeing > 0 ? std::sqrt(squares / report.tiles_agreeing) : 0.0;
    report.overlap_share = overlap_share(level.map, report.reference_size, report.moving_size);
    const ErrorOfMap error(level, circumstances.shift_px);
    report.error_map = error_map(error, level.map, report.reference_size, report.moving_size);
    report.error_px = error_where_tiles_agree(error, level, report.moving_size);
    if (options.reference_mm_per_px) report.residual_mm = report.residual_px * *options.reference_mm_per_px;
    refuse(report, verdict(level, circumstances, options, report));
}

}  // namespace tedge::imaging
