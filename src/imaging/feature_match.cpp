#include "feature_match.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>
#include <span>

#include "feature_nearest.hpp"
#include "feature_set.hpp"

namespace tedge::imaging {
namespace {

constexpr float ratio_limit = 0.92F;        // best over second-best distance; the votes below do the rest
constexpr double threshold_small_px = 3.0;  // MAGSAC++'s upper bound of noise, pixels of the small copy
constexpr int fewest_inliers = 8;
constexpr int random_seed = 20;

struct Match {
    PointPair pair;
    double turn = 0.0;       // difference of the two orientations, radians
    double log_scale = 0.0;  // natural logarithm of the ratio of sizes
};

// The descriptors that the negative of the picture would have: its gradients point the other way, so the feature is
// turned by half a turn, and with it the four by four cells, of eight directions each, that are described.
cv::Mat of_negative(const cv::Mat& descriptors) {
    if (descriptors.empty()) return {};
    constexpr int directions = 8;
    constexpr int cells = static_cast<int>(descriptor_length) / directions;
    cv::Mat turned(descriptors.size(), descriptors.type());
    for (int cell = 0; cell < cells; ++cell) {
        const cv::Range from(cell * directions, (cell + 1) * directions);
        const cv::Range to((cells - 1 - cell) * directions, (cells - cell) * directions);
        descriptors.colRange(from).copyTo(turned.colRange(to));
    }
    return turned;
}

// Adds the mutual best matches whose runner-up is clearly worse. `half_turns`: of the moving picture's features.
void add_mutual_matches(const FeatureSet::Content& reference, const FeatureSet::Content& moving,
                        const cv::Mat& moving_descriptors, int half_turns, int workers, const Progress& progress,
                        std::vector<Match>& matches) {
    if (reference.descriptors.rows < 2 || moving_descriptors.rows < 2) return;
    const auto numbers = [](const cv::Mat& descriptors) {
        return std::span(descriptors.ptr<float>(), static_cast<std::size_t>(descriptors.rows) * descriptor_length);
    };
    const NearestNeighbours nearest =
        nearest_neighbours(numbers(moving_descriptors), numbers(reference.descriptors), workers, progress);
    if (progress.stopped()) return;
    for (std::size_t i = 0; i < nearest.of_first.size(); ++i) {
        const NearestTwo& two = nearest.of_first[i];
        if (two.distance2 > ratio_limit * ratio_limit * two.next_distance2) continue;
        const auto at = static_cast<std::size_t>(two.index);
        if (nearest.of_second[at] != static_cast<int>(i)) continue;
        const cv::KeyPoint& r = reference.keypoints[at];
        const cv::KeyPoint& m = moving.keypoints[i];
        Match match;
        match.pair = {{static_cast<double>(r.pt.x), static_cast<double>(r.pt.y)},
                      {static_cast<double>(m.pt.x), static_cast<double>(m.pt.y)}};
        match.turn = (static_cast<double>(r.angle - m.angle) / 180.0 - half_turns) * std::numbers::pi;
        match.log_scale = std::log(static_cast<double>(r.size) / static_cast<double>(m.size));
        matches.push_back(match);
    }
}

// All true matches of a plane seen nearly from the front turn and grow alike. Keeps those near the fullest cell of a
// histogram over turn (12 cells of 30°) and scale (half octaves), each vote spread over its neighbours.
std::vector<PointPair> consistent_matches(const std::vector<Match>& matches) {
    constexpr int turns = 12;
    constexpr int scales = 17;
    const auto turn_cell = [](double turn) {
        return std::fmod(turn / (2.0 * std::numbers::pi) * turns + 2.0 * turns, static_cast<double>(turns));
    };
    const auto scale_cell = [](double log_scale) {
        return std::clamp(log_scale / (0.5 * std::numbers::ln2) + 0.5 * (scales - 1), 0.0, scales - 1.0);
    };
    const auto distance = [&](const Match& match, int turn, int scale) {
        const double across = std::abs(turn_cell(match.turn) - turn);
        return std::pair(std::min(across, turns - across), std::abs(scale_cell(match.log_scale) - scale));
    };
    int best_votes = -1;
    std::pair<int, int> best;
    for (int turn = 0; turn < turns; ++turn) {
        for (int scale = 0; scale < scales; ++scale) {
            int votes = 0;
            for (const Match& match : matches) {
                const auto [t, s] = distance(match, turn, scale);
                if (t <= 1.0 && s <= 1.0) ++votes;
            }
            if (votes > best_votes) {
                best_votes = votes;
                best = {turn, scale};
            }
        }
    }
    std::vector<PointPair> kept;
    for (const Match& match : matches) {
        const auto [t, s] = distance(match, best.first, best.second);
        if (t <= 1.5 && s <= 1.5) kept.push_back(match.pair);
    }
    return kept;
}

int count_inliers(const std::vector<bool>& inlier) {
    return static_cast<int>(std::count(inlier.begin(), inlier.end(), true));
}

}  // namespace

std::optional<RobustHomography> robust_homography(const std::vector<PointPair>& pairs, double threshold_px) {
    if (pairs.size() < 6) return std::nullopt;
    std::vector<cv::Point2f> from;
    std::vector<cv::Point2f> to;
    for (const PointPair& pair : pairs) {
        from.emplace_back(static_cast<float>(pair.moving.x_px), static_cast<float>(pair.moving.y_px));
        to.emplace_back(static_cast<float>(pair.reference.x_px), static_cast<float>(pair.reference.y_px));
    }
    cv::setRNGSeed(random_seed);
    cv::Mat mask;
    cv::Mat found;
    try {
        found = cv::findHomography(from, to, cv::USAC_MAGSAC, threshold_px, mask, 10000, 0.9999);
    } catch (const cv::Exception&) {
        return std::nullopt;  // degenerate samples only
    }
    if (found.empty()) return std::nullopt;
    std::array<double, 9> values{};
    for (int i = 0; i < 9; ++i) values[static_cast<std::size_t>(i)] = found.at<double>(i / 3, i % 3);
    const auto map = Homography::from_row_major(values);
    if (!map) return std::nullopt;
    RobustHomography result{*map, {}};
    for (int i = 0; i < mask.rows; ++i) result.inlier.push_back(mask.at<unsigned char>(i) != 0);
    return result;
}

bool plausible(const Homography& reference_from_moving, SizePx moving) {
    const auto& h = reference_from_moving.row_major();
    double smallest = 1e300;
    double largest = 0.0;
    for (const double x : {0.0, moving.width_px - 1.0}) {
        for (const double y : {0.0, moving.height_px - 1.0}) {
            const double w = h[6] * x + h[7] * y + 1.0;
            if (w < 0.1 || w > 10.0) return false;
            const auto p = reference_from_moving.apply(x, y);
            const double a = (h[0] - p[0] * h[6]) / w;
            const double b = (h[1] - p[0] * h[7]) / w;
            const double c = (h[3] - p[1] * h[6]) / w;
            const double d = (h[4] - p[1] * h[7]) / w;
            const double determinant = a * d - b * c;
            if (determinant <= 0.0) return false;
            // Singular values of the Jacobian: how much it squeezes one way against the other.
            const double sum = a * a + b * b + c * c + d * d;
            const double root = std::sqrt(std::max(0.0, sum * sum / 4.0 - determinant * determinant));
            if (sum / 2.0 + root > 36.0 * (sum / 2.0 - root)) return false;  // 6 to 1: 80° off the perpendicular
            smallest = std::min(smallest, determinant);
            largest = std::max(largest, determinant);
        }
    }
    return largest < 40.0 * smallest;
}

std::optional<FeatureMap> match_features(const FeatureSet& reference, const FeatureSet& moving, FeatureSign sign,
                                         int workers, const Progress& progress) {
    std::vector<Match> matches;
    const cv::Mat& descriptors = moving.content().descriptors;
    add_mutual_matches(reference.content(), moving.content(), descriptors, 0, workers, progress, matches);
    if (sign == FeatureSign::either)
        add_mutual_matches(reference.content(), moving.content(), of_negative(descriptors), 1, workers, progress,
                           matches);
    const double threshold = threshold_small_px * reference.content().picture_per_small;
    std::optional<FeatureMap> best;
    const auto consider = [&](const std::vector<PointPair>& pairs) {
        if (progress.stopped()) return;
        const auto found = robust_homography(pairs, threshold);
        if (!found || !plausible(found->reference_from_moving, moving.content().picture)) return;
        const int inliers = count_inliers(found->inlier);
        if (inliers >= fewest_inliers && (!best || inliers > best->inliers))
            best = FeatureMap{found->reference_from_moving, inliers};
    };
    consider(consistent_matches(matches));
    if (!best || best->inliers < 3 * fewest_inliers) {  // strong perspective spreads turn and scale
        std::vector<PointPair> all;
        for (const Match& match : matches) all.push_back(match.pair);
        consider(all);
    }
    return progress.stopped() ? std::nullopt : best;
}

}  // namespace tedge::imaging
