#include "tedge/imaging/registration.hpp"

#include <array>
#include <chrono>
#include <cmath>

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
    LevelResult level;
    double agreeing_share;
};

Homography unmirrored(const Homography& reference_from_mirrored, SizePx moving) {
    const auto flip = Homography::from_row_major({-1, 0, moving.width_px - 1.0, 0, 1, 0, 0, 0, 1});
    const auto composed = compose(reference_from_mirrored, *flip);
    return composed ? *composed : reference_from_mirrored;
}

double agreeing_share(const LevelResult& level) {
    if (level.tiles.empty()) return 0.0;
    int agreeing = 0;
    for (const double weight : level.weights) agreeing += weight > 0.0 ? 1 : 0;
    return agreeing / static_cast<double>(level.tiles.size());
}

class Registration {
public:
    Registration(PictureView reference, PictureView moving, const RegistrationOptions& options,
                 const Progress& progress)
        : options_(options),
          progress_(progress),
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
        report_.by_edges = best->attempt.signal == TileSignal::edges;
        report_.inliers = best->inliers;
        const LevelResult finest = refine(*best);
        if (!progress_.stopped()) judge(finest, options_, report_);
        return report_;
    }

private:
    // A first round of tiles that this share of them bears out needs no second opinion.
    static constexpr double convincing_share = 0.5;

    std::optional<Candidate> look_for_candidate() {
        std::optional<Candidate> best;
        double done = 0.2;
        for (const Attempt& attempt : attempts) {
            if (progress_.stopped()) return best;
            progress_.at(done, "looking for features");
            done += 0.05;
            auto candidate = attempt_one(attempt);
            if (!candidate) continue;
            if (!best || candidate->agreeing_share > best->agreeing_share) best = std::move(candidate);
            if (best->agreeing_share >= convincing_share) break;
        }
        return best;
    }

    std::optional<Candidate> attempt_one(const Attempt& attempt) {
        const FeatureSet reference(reference_, attempt.signal, attempt.longest_side, false);
        const FeatureSet moving(moving_, attempt.signal, attempt.longest_side, attempt.mirrored);
        if (reference.count() >= fewest_features && moving.count() >= fewest_features) enough_features_ = true;
        const auto matched = match_features(reference, moving);
        if (!matched || progress_.stopped()) return std::nullopt;
        PixelMap guess{matched->reference_from_moving, std::nullopt};
        if (attempt.mirrored) guess.homography = unmirrored(guess.homography, report_.moving_size);
        plans_ = plan_levels(report_.reference_size, report_.moving_size, guess, attempt.signal);
        auto level = match_level(reference_, moving_, guess, plans_.front(), workers_, progress_);
        if (!level) return std::nullopt;
        const double share = agreeing_share(*level);
        return Candidate{attempt, matched->inliers, *std::move(level), share};
    }

    LevelResult refine(const Candidate& candidate) {
        LevelResult level = candidate.level;
        const auto plans =
            plan_levels(report_.reference_size, report_.moving_size, level.map, candidate.attempt.signal);
        for (std::size_t i = 1; i < plans.size() && !progress_.stopped(); ++i) {
            progress_.at(0.5 + 0.5 * static_cast<double>(i) / static_cast<double>(plans.size()), "matching tiles");
            auto finer = match_level(reference_, moving_, level.map, plans[i], workers_, progress_);
            if (!finer) break;
            level = *std::move(finer);
        }
        return level;
    }

    RegistrationOptions options_;
    Progress progress_;
    int workers_;
    GrayPyramid reference_;
    GrayPyramid moving_;
    RegistrationReport report_;
    std::vector<LevelPlan> plans_;
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
