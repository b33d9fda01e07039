#include "tedge/imaging/registration.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <utility>
#include <vector>

#include "feature_match.hpp"
#include "registration_levels.hpp"
#include "registration_verdict.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int smallest_side_px = 64;  // one tile
constexpr int fewest_features = 30;   // a flat or black frame gives none or a handful

// One way of looking for features; tried in this order until the tiles bear one out.
struct Attempt {
    TileSignal signal;
    int longest_side;
    bool mirrored;
};
constexpr std::array<Attempt, 6> attempts{{{TileSignal::gray, 800, false},
                                           {TileSignal::edges, 800, false},
                                           {TileSignal::gray, 800, true},
                                           {TileSignal::edges, 800, true},
                                           {TileSignal::gray, 1600, false},
                                           {TileSignal::edges, 1600, false}}};

struct Candidate {
    Attempt attempt;
    int inliers;
    TileStyle style;
    LevelResult level;  // the first round of tiles
    double share;       // of them that agree
};

Homography unmirrored(const Homography& reference_from_mirrored, SizePx moving) {
    const auto flip = Homography::from_row_major({-1, 0, moving.width_px - 1.0, 0, 1, 0, 0, 0, 1});
    const auto composed = compose(reference_from_mirrored, *flip);
    return composed ? *composed : reference_from_mirrored;
}

MatchedOn matched_on(TileStyle style) {
    if (style.signal == TileSignal::edges) return MatchedOn::edges;
    return style.either_sign ? MatchedOn::changed_brightness : MatchedOn::brightness;
}

// In which ways tiles are compared, one after the other until one convinces. Gray values of either sign are several
// times more exact than the strength of edges even where dark and bright have changed places.
std::vector<TileStyle> styles_after(TileSignal features) {
    const TileStyle plain{TileSignal::gray, false};
    const TileStyle either{TileSignal::gray, true};
    if (features == TileSignal::gray) return {plain, either};
    return {either, {TileSignal::edges, false}};
}

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// Whether the tiles lie beside the map on the whole, all in one direction.
bool shifted(const LevelResult& level, const PixelMap& map) {
    constexpr double least_shift_px = 0.08;
    constexpr double standard_errors = 6.0;
    constexpr std::size_t fewest = 60;
    std::vector<double> dx;
    std::vector<double> dy;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const PointPx at = map.map(level.tiles[i].moving);
        dx.push_back(level.tiles[i].reference.x_px - at.x_px);
        dy.push_back(level.tiles[i].reference.y_px - at.y_px);
    }
    if (dx.size() < fewest || agreeing_share(level) < 0.5) return false;
    const double shift_x = median(dx);
    const double shift_y = median(dy);
    std::vector<double> distances;
    for (std::size_t i = 0; i < dx.size(); ++i) distances.push_back(std::hypot(dx[i] - shift_x, dy[i] - shift_y));
    // The median distance of a two-dimensional normal error is 1.18 deviations; a median is 1.25 times less sure than a
    // mean.
    const double error = median(distances) / 1.18 * 1.25 / std::sqrt(static_cast<double>(dx.size()));
    return std::hypot(shift_x, shift_y) > std::max(least_shift_px, standard_errors * error);
}

class Registration {
public:
    Registration(PictureView reference, PictureView moving, const RegistrationOptions& options,
                 const Progress& progress)
        : options_(options),
          progress_(progress),
          reference_view_(reference),
          moving_view_(moving),
          workers_(worker_count(options.threads)),
          reference_(reference, workers_, progress.part(0.0, 0.1)),
          moving_(moving, workers_, progress.part(0.1, 0.2)) {
        report_.reference_size = reference.size();
        report_.moving_size = moving.size();
    }

    RegistrationReport run() {
        const std::optional<Candidate> best = look_for_candidate();
        if (progress_.stopped()) return report_;
        if (!best) {
            refuse(report_, enough_features_ ? "registration.nothing-in-common" : "registration.too-little-structure");
            return report_;
        }
        report_.mirrored = best->attempt.mirrored;
        report_.matched_on = matched_on(best->style);
        report_.inliers = best->inliers;
        LevelResult finest = refine(*best);
        if (!progress_.stopped()) check_against_colour(*best, finest);
        if (!progress_.stopped()) judge(finest, options_, report_);
        return report_;
    }

private:
    // A first round of tiles that this share of them bears out needs no second opinion.
    static constexpr double convincing_share = 0.5;
    static constexpr double clearly_better = 0.1;

    std::optional<Candidate> look_for_candidate() {
        std::optional<Candidate> best;
        double done = 0.2;
        for (const Attempt& attempt : attempts) {
            if (progress_.stopped()) return best;
            progress_.at(done, "looking for features");
            done += 0.05;
            auto candidate = attempt_one(attempt);
            if (!candidate) continue;
            if (!best || candidate->share > best->share) best = std::move(candidate);
            if (best->share >= convincing_share) break;
        }
        return best;
    }

    std::optional<Candidate> attempt_one(const Attempt& attempt) {
        const FeatureSet& reference = features_of_reference(attempt);
        const FeatureSet moving(moving_, attempt.signal, attempt.longest_side, attempt.mirrored);
        if (reference.count() >= fewest_features && moving.count() >= fewest_features) enough_features_ = true;
        const auto matched = match_features(reference, moving);
        if (!matched || progress_.stopped()) return std::nullopt;
        PixelMap guess{matched->reference_from_moving, std::nullopt};
        if (attempt.mirrored) guess.homography = unmirrored(guess.homography, report_.moving_size);
        std::optional<Candidate> best;
        for (const TileStyle style : styles_after(attempt.signal)) {
            const auto plans = plan_levels(report_.reference_size, report_.moving_size, guess, style);
            auto level = match_level(reference_, moving_, guess, plans.front(), workers_, progress_);
            if (!level) continue;
            const double share = agreeing_share(*level);
            if (!best || share > best->share + clearly_better)
                best = Candidate{attempt, matched->inliers, style, *std::move(level), share};
            if (best->share >= convincing_share) break;
        }
        return best;
    }

    // The mirrored attempts look at the same features of the reference.
    const FeatureSet& features_of_reference(const Attempt& attempt) {
        const auto known = std::find_if(looked_at_.begin(), looked_at_.end(), [&](const auto& each) {
            return each.first.signal == attempt.signal && each.first.longest_side == attempt.longest_side;
        });
        if (known != looked_at_.end()) return known->second;
        looked_at_.emplace_back(attempt, FeatureSet(reference_, attempt.signal, attempt.longest_side, false));
        return looked_at_.back().second;
    }

    LevelResult refine(const Candidate& candidate) {
        LevelResult level = candidate.level;
        const auto plans = plan_levels(report_.reference_size, report_.moving_size, level.map, candidate.style);
        for (std::size_t i = 1; i < plans.size() && !progress_.stopped(); ++i) {
            progress_.at(0.5 + 0.5 * static_cast<double>(i) / static_cast<double>(plans.size()), "matching tiles");
            auto finer = match_level(reference_, moving_, level.map, plans[i], workers_, progress_);
            if (!finer) break;
            level = *std::move(finer);
        }
        return level;
    }

    // Light from one side shades the slopes of brushwork, and shading shifts every edge the same way: brightness alone
    // cannot tell it from a shift of the picture. Shading leaves the ratio of the channels alone. So where colour and
    // brightness disagree on the whole, by far more than chance, colour is right.
    void check_against_colour(const Candidate& candidate, LevelResult& finest) {
        if (!reference_view_.is_coloured() || !moving_view_.is_coloured() || agreeing_share(finest) < convincing_share)
            return;
        progress_.at(0.9, "comparing with the colours");
        auto plan = plan_levels(report_.reference_size, report_.moving_size, finest.map, {}).back();
        const double moving_pitch = plan.setup.pitch_px * moving_density(finest.map, report_.moving_size);
        const auto levels = [](double pitch) {
            return std::max(0, static_cast<int>(std::lround(std::log2(pitch) + 0.5)));
        };
        const GrayPyramid reference(reference_view_, workers_, progress_, Plane::warmth,
                                    levels(plan.setup.pitch_px) - 1);
        const GrayPyramid moving(moving_view_, workers_, progress_, Plane::warmth, levels(moving_pitch));
        const int all_tiles = plan.tiles_wanted;
        plan.tiles_wanted = 300;
        const auto sample = match_level(reference, moving, finest.map, plan, workers_, progress_);
        if (!sample || !shifted(*sample, finest.map)) return;
        plan.tiles_wanted = all_tiles;
        auto level = match_level(reference, moving, finest.map, plan, workers_, progress_);
        if (!level || agreeing_share(*level) < convincing_share) return;
        finest = *std::move(level);
        report_.matched_on = MatchedOn::colour;
    }

    RegistrationOptions options_;
    Progress progress_;
    PictureView reference_view_;
    PictureView moving_view_;
    int workers_;
    GrayPyramid reference_;
    GrayPyramid moving_;
    RegistrationReport report_;
    std::vector<std::pair<Attempt, FeatureSet>> looked_at_;
    bool enough_features_ = false;
};

}  // namespace

Expected<void> RegistrationOptions::check() const {
    if (threads < 0 || threads > 1024)
        return fail("registration.bad-options", "The number of threads must lie between 0 and 1024.", "Use 0 for all.");
    if (!(tolerance_px > 0.0) || !std::isfinite(tolerance_px))
        return fail("registration.bad-options", "The tolerance must be a positive number of pixels.", "Use 1.5.");
    if (reference_mm_per_px && !(*reference_mm_per_px > 0.0 && std::isfinite(*reference_mm_per_px)))
        return fail("registration.bad-options", "The size of a pixel must be a positive number of millimetres.",
                    "Leave it out when it is not known.");
    return {};
}

Expected<RegistrationReport> register_pictures(PictureView reference, PictureView moving,
                                               const RegistrationOptions& options, const Progress& progress) {
    if (const auto good = options.check(); !good) return pass_on(good);
    for (const SizePx size : {reference.size(), moving.size()}) {
        if (size.width_px < smallest_side_px || size.height_px < smallest_side_px)
            return fail("registration.picture-too-small",
                        "A photograph of less than 64 pixels a side cannot be laid on another.",
                        "Use a larger photograph.");
    }
    const auto start = std::chrono::steady_clock::now();
    Registration registration(reference, moving, options, progress);
    RegistrationReport report = registration.run();
    if (progress.stopped()) return cancelled();
    report.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    progress.at(1.0, "registered");
    return report;
}

}  // namespace tedge::imaging
