#include "registration_pairs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>

#include "feature_match.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t fewest_pairs = 3;
constexpr double narrowest = 0.05;  // spread of the points across over their spread along: below, they lie on a line
// A person meets a point to a few pixels of a screen, and canvas moves by less; shares of the reference's diagonal.
constexpr double largest_residual = 0.01;
// One pair is wrong when without it the others lie so much nearer to a photograph from the front.
constexpr double largest_residual_from_the_front = 0.02;
constexpr double much_nearer = 0.25;

using Pairs = std::vector<PointPair>;

double diagonal_px(SizePx size) {
    return std::hypot(size.width_px, size.height_px);
}

bool lies_in(PointPx at, SizePx size) {
    return at.x_px >= -0.5 && at.y_px >= -0.5 && at.x_px <= size.width_px - 0.5 && at.y_px <= size.height_px - 0.5;
}

// From the two principal deviations of the points.
bool in_line(const Pairs& pairs, PointPx PointPair::* picture) {
    double x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;
    const double share = 1.0 / static_cast<double>(pairs.size());
    for (const PointPair& pair : pairs) {
        x += (pair.*picture).x_px * share;
        y += (pair.*picture).y_px * share;
    }
    for (const PointPair& pair : pairs) {
        const double dx = (pair.*picture).x_px - x;
        const double dy = (pair.*picture).y_px - y;
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    const double root = std::hypot(0.5 * (xx - yy), xy);
    const double along = 0.5 * (xx + yy) + root;
    const double across = std::max(0.0, 0.5 * (xx + yy) - root);
    return !(across > narrowest * narrowest * along);
}

struct Points {
    std::vector<cv::Point2d> from;
    std::vector<cv::Point2d> to;
};

Points points_of(const Pairs& pairs) {
    Points points;
    for (const PointPair& pair : pairs) {
        points.from.emplace_back(pair.moving.x_px, pair.moving.y_px);
        points.to.emplace_back(pair.reference.x_px, pair.reference.y_px);
    }
    return points;
}

// Least squares: columns are the unknowns, rows the equations. Empty when singular.
cv::Mat solved(const cv::Mat& equations, const cv::Mat& right) {
    cv::Mat solution;
    if (!cv::solve(equations, right, solution, cv::DECOMP_SVD)) return {};
    return solution;
}

Expected<Homography> affine_through(const Points& points) {
    const auto count = static_cast<int>(points.from.size());
    cv::Mat equations = cv::Mat::ones(count, 3, CV_64F);
    cv::Mat right(count, 2, CV_64F);
    for (int i = 0; i < count; ++i) {
        const auto at = static_cast<std::size_t>(i);
        equations.at<double>(i, 0) = points.from[at].x;
        equations.at<double>(i, 1) = points.from[at].y;
        right.at<double>(i, 0) = points.to[at].x;
        right.at<double>(i, 1) = points.to[at].y;
    }
    const cv::Mat_<double> s = solved(equations, right);
    return Homography::from_row_major({s(0, 0), s(1, 0), s(2, 0), s(0, 1), s(1, 1), s(2, 1), 0, 0, 1});
}

Expected<Homography> plane_map(const Points& points) {
    if (points.from.size() == fewest_pairs) return affine_through(points);
    const cv::Mat_<double> h = cv::findHomography(points.from, points.to, 0);
    if (h.empty()) return affine_through(points);
    return Homography::from_row_major(
        {h(0, 0), h(0, 1), h(0, 2), h(1, 0), h(1, 1), h(1, 2), h(2, 0), h(2, 1), h(2, 2)});
}

double residual_px(const Homography& map, const Pairs& pairs) {
    double squares = 0.0;
    for (const PointPair& pair : pairs) {
        const auto there = map.apply(pair.moving.x_px, pair.moving.y_px);
        const double dx = there[0] - pair.reference.x_px;
        const double dy = there[1] - pair.reference.y_px;
        squares += dx * dx + dy * dy;
    }
    return std::sqrt(squares / static_cast<double>(pairs.size()));
}

// The turn, scale and shift nearest to the pairs: x' = a·x - s·b·y + c, y' = b·x + s·a·y + d with s = -1 when mirrored.
Expected<Homography> front_map(const Pairs& pairs, bool mirrored) {
    const auto count = static_cast<int>(pairs.size());
    const double s = mirrored ? -1.0 : 1.0;
    cv::Mat_<double> equations(2 * count, 4, 0.0);
    cv::Mat_<double> right(2 * count, 1);
    for (int i = 0; i < count; ++i) {
        const PointPair& pair = pairs[static_cast<std::size_t>(i)];
        equations(2 * i, 0) = pair.moving.x_px;
        equations(2 * i, 1) = -s * pair.moving.y_px;
        equations(2 * i, 2) = 1.0;
        equations(2 * i + 1, 0) = s * pair.moving.y_px;
        equations(2 * i + 1, 1) = pair.moving.x_px;
        equations(2 * i + 1, 3) = 1.0;
        right(2 * i, 0) = pair.reference.x_px;
        right(2 * i + 1, 0) = pair.reference.y_px;
    }
    const cv::Mat_<double> u = solved(equations, right);
    return Homography::from_row_major({u(0), -s * u(1), u(2), u(1), s * u(0), u(3), 0, 0, 1});
}

double residual_from_the_front(const Pairs& pairs) {
    double smallest = std::numeric_limits<double>::infinity();
    for (const bool mirrored : {false, true}) {
        if (const auto map = front_map(pairs, mirrored)) smallest = std::min(smallest, residual_px(*map, pairs));
    }
    return smallest;
}

struct WorstPair {
    std::size_t index = 0;
    double others_px = std::numeric_limits<double>::infinity();  // residual of the others, from the front
};

Pairs without(const Pairs& pairs, std::size_t index) {
    Pairs others = pairs;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(index));
    return others;
}

// The pair without which the others come nearest to a photograph from the front.
WorstPair worst_of(const Pairs& pairs) {
    WorstPair worst;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const double residual = residual_from_the_front(without(pairs, i));
        if (residual < worst.others_px) worst = {i, residual};
    }
    return worst;
}

double beside_the_others_px(const Pairs& pairs, std::size_t index) {
    const Pairs others = without(pairs, index);
    double nearest = std::numeric_limits<double>::infinity();
    double residual = nearest;
    for (const bool mirrored : {false, true}) {
        const auto map = front_map(others, mirrored);
        if (!map || residual_px(*map, others) >= residual) continue;
        residual = residual_px(*map, others);
        nearest = residual_px(*map, {pairs[index]});
    }
    return nearest;
}

Error contradiction(const Pairs& pairs) {
    const std::string next = "Mark the pairs again, each on the same point of the painting in both photographs.";
    if (pairs.size() == fewest_pairs)
        return {"registration.pairs-contradict", "The three pairs of points contradict one another.", next, {}};
    const std::size_t worst = worst_of(pairs).index;
    return {"registration.pairs-contradict",
            fmt::format("The pairs of points contradict one another: pair {} lies about {} px beside where the others "
                        "put it.",
                        worst + 1, format_fixed(beside_the_others_px(pairs, worst), 0)),
            next,
            {{"pair", fmt::format("{}", worst + 1)}}};
}

// The map as if no mirror had been between the two.
bool is_plausible(const Homography& map, bool mirrored, SizePx moving) {
    if (!mirrored) return plausible(map, moving);
    const auto flip = Homography::from_row_major({-1, 0, moving.width_px - 1.0, 0, 1, 0, 0, 0, 1});
    const auto turned = flip ? compose(map, *flip) : Expected<Homography>(map);
    return turned && plausible(*turned, moving);
}

bool contradict(const Pairs& pairs, const PlaneOfPairs& plane, SizePx reference, SizePx moving) {
    const double diagonal = diagonal_px(reference);
    if (!is_plausible(plane.reference_from_moving, plane.mirrored, moving)) return true;
    if (plane.residual_px > largest_residual * diagonal) return true;
    if (pairs.size() == fewest_pairs) return false;
    const double all = residual_from_the_front(pairs);
    return all > largest_residual_from_the_front * diagonal && worst_of(pairs).others_px < much_nearer * all;
}

Expected<void> are_where_the_pictures_are(const Pairs& pairs, SizePx reference, SizePx moving) {
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        if (lies_in(pairs[i].reference, reference) && lies_in(pairs[i].moving, moving)) continue;
        return fail("registration.pair-outside", fmt::format("Pair {} does not lie inside both photographs.", i + 1),
                    "Points are pixels from the top-left corner, the reference's first.");
    }
    return {};
}

}  // namespace

Expected<PlaneOfPairs> plane_through(const Pairs& pairs, SizePx reference, SizePx moving) {
    if (pairs.size() < fewest_pairs)
        return fail("registration.too-few-pairs", "Fewer than three pairs of points do not say how a photograph lies.",
                    "Mark three or more points that both photographs show, far from one another.");
    if (const auto inside = are_where_the_pictures_are(pairs, reference, moving); !inside) return pass_on(inside);
    if (in_line(pairs, &PointPair::reference) || in_line(pairs, &PointPair::moving))
        return fail("registration.pairs-in-line", "The pairs of points lie on one line.",
                    "Mark another pair well beside that line.");
    const Points points = points_of(pairs);
    const auto affine = affine_through(points);
    const auto map = plane_map(points);
    if (!affine || !map) return std::unexpected(contradiction(pairs));
    const auto& a = affine->row_major();
    const PlaneOfPairs plane{*map, residual_px(*map, pairs), a[0] * a[4] - a[1] * a[3] < 0.0};
    if (contradict(pairs, plane, reference, moving)) return std::unexpected(contradiction(pairs));
    return plane;
}

}  // namespace tedge::imaging
