#include "tedge/imaging/registration.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <utility>
#include <vector>

#include "feature_match.hpp"
#include "registration_colour.hpp"
#include "registration_levels.hpp"
#include "registration_repeats.hpp"
#include "registration_verdict.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int smallest_side_px = 64;  // one tile
constexpr int fewest_features = 30;   // a flat or black frame gives none or a handful

// One way of looking for features; tried in this order until the tiles bear one out. Most pairs are done after the
// first. The last four are for a detail laid on the whole: a large copy of the one is compared with a small copy of the
// other, for details of an eighth of the side or more, then of a sixteenth or more.
struct Attempt {
    TileSignal signal;
    int reference_side;  // of the small copies
    int moving_side;
    bool mirrored;
};
constexpr int largest_copy = 4000;
constexpr int least_side_for_largest_copy = 2200;  // else it would show hardly more than the copies of 2000
constexpr std::array<Attempt, 8> attempts{{{TileSignal::gray, 640, 640, false},
                                           {TileSignal::edges, 800, 800, false},
                                           {TileSignal::gray, 640, 640, true},
                                           {TileSignal::edges, 800, 800, true},
                                           {TileSignal::gray, 2000, 500, false},
                                           {TileSignal::gray, 500, 2000, false},
                                           {TileSignal::gray, largest_copy, 250, false},
                                           {TileSignal::gray, 250, largest_copy, false}}};

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

class Registration {
public:
    Registration(PictureView reference, PictureView moving, const RegistrationOptions& options,
                 const Progress& progress)
        : options_(options),
          progress_(progress),
          reference_view_(reference),
          moving_view_(moving),
          workers_(worker_count(options.threads)),
          reference_(reference, workers_, progress.part(0.0, 0.05)),
          moving_(moving, workers_, progress.part(0.05, 0.1)) {
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
        LevelResult finest = best->share < hopeless_share ? best->level : refine(*best);
        const double shift_px = progress_.stopped() ? 0.0 : check_against_colour(finest);
        if (progress_.stopped()) return report_;
        progress_.at(0.97, "estimating the error");
        const bool repeats = repeats_itself(best->level, {reference_, moving_, finest.map, best->style, workers_},
                                            progress_.part(0.97, 0.98));
        if (progress_.stopped()) return report_;
        judge(finest, {repeats, shift_px}, options_, report_);
        return report_;
    }

private:
    // A first round of tiles that this share of them bears out needs no second opinion.
    static constexpr double convincing_share = 0.5;
    static constexpr double clearly_better = 0.1;
    // Below this the first round of tiles has said no already.
    static constexpr double hopeless_share = 0.1;
    // Brightness that agrees so well was not shaded in one picture alone: made raking light reached 0.91.
    static constexpr double lit_alike_score = 0.95;
    // How far the relief of paint may shift edges: see RegistrationErrorMap.
    static constexpr double relief_of_one_side_samples = 0.5;
    static constexpr double relief_of_usual_lamps_px = relief_of_one_side_samples / 25.0;

    std::optional<Candidate> look_for_candidate() {
        std::optional<Candidate> best;
        constexpr double share = 0.4 / attempts.size();
        double done = 0.1;
        for (auto at = attempts.begin(); at != attempts.end(); ++at) {
            const Attempt& attempt = *at;
            if (progress_.stopped()) return best;
            if (wants_more_pixels(attempt)) continue;
            if (std::any_of(attempts.begin(), at, [&](const Attempt& made) { return looks_alike(made, attempt); }))
                continue;
            auto candidate = attempt_one(attempt, progress_.part(done, done + share));
            done += share;
            if (!candidate) continue;
            if (!best || candidate->share > best->share) best = std::move(candidate);
            if (best->share >= convincing_share) break;
        }
        return best;
    }

    std::optional<Candidate> attempt_one(const Attempt& attempt, const Progress& progress) {
        progress.at(0.0, "looking for features");
        const FeatureSet* known = known_features(attempt);
        std::optional<FeatureSet> found_reference;
        std::optional<FeatureSet> found_moving;
        for_each_index(
            2, workers_, [&] { return progress.stopped(); },
            [&](int index, int) {
                if (index == 0)
                    found_moving.emplace(moving_, attempt.signal, attempt.moving_side, attempt.mirrored, progress);
                else if (known == nullptr)
                    found_reference.emplace(reference_, attempt.signal, attempt.reference_side, false, progress);
            });
        if (progress.stopped()) return std::nullopt;
        if (found_reference) looked_at_.emplace_back(attempt, *std::move(found_reference));
        const FeatureSet& reference = known != nullptr ? *known : looked_at_.back().second;
        const FeatureSet& moving = *found_moving;
        if (reference.count() >= fewest_features && moving.count() >= fewest_features) enough_features_ = true;
        progress.at(0.4, "comparing features");
        const auto matched = match_features(reference, moving, workers_, progress);
        if (!matched) return std::nullopt;
        PixelMap guess{matched->reference_from_moving, std::nullopt};
        if (attempt.mirrored) guess.homography = unmirrored(guess.homography, report_.moving_size);
        std::optional<Candidate> best;
        double done = 0.5;
        for (const TileStyle style : styles_after(attempt.signal)) {
            const auto plans = plan_levels(report_.reference_size, report_.moving_size, guess, style);
            auto level =
                match_level(reference_, moving_, guess, plans.front(), workers_, progress.part(done, done + 0.25));
            done += 0.25;
            if (!level) continue;
            const double share = agreeing_share(*level);
            if (!best || share > best->share + clearly_better)
                best = Candidate{attempt, matched->inliers, style, *std::move(level), share};
            if (best->share >= convincing_share) break;
        }
        return best;
    }

    // A large copy that is hardly larger than the one tried before.
    [[nodiscard]] bool wants_more_pixels(const Attempt& attempt) const {
        const auto longer = [](SizePx size) { return std::max(size.width_px, size.height_px); };
        return (attempt.reference_side == largest_copy && longer(report_.reference_size) < least_side_for_largest_copy) ||
               (attempt.moving_side == largest_copy && longer(report_.moving_size) < least_side_for_largest_copy);
    }

    // No copy is larger than its picture: of small pictures the attempts for a detail make the copies of the first.
    [[nodiscard]] bool looks_alike(const Attempt& one, const Attempt& other) const {
        const auto same = [](int side, int other_side, SizePx picture) {
            const int longer = std::max(picture.width_px, picture.height_px);
            return std::min(side, longer) == std::min(other_side, longer);
        };
        return one.signal == other.signal && one.mirrored == other.mirrored &&
               same(one.reference_side, other.reference_side, report_.reference_size) &&
               same(one.moving_side, other.moving_side, report_.moving_size);
    }

    // The mirrored attempts look at the same features of the reference.
    const FeatureSet* known_features(const Attempt& attempt) const {
        const auto known = std::ranges::find_if(looked_at_, [&](const auto& each) {
            return each.first.signal == attempt.signal && each.first.reference_side == attempt.reference_side;
        });
        return known != looked_at_.end() ? &known->second : nullptr;
    }

    LevelResult refine(const Candidate& candidate) {
        LevelResult level = candidate.level;
        const auto plans = plan_levels(report_.reference_size, report_.moving_size, level.map, candidate.style);
        const Progress progress = progress_.part(0.5, 0.85);
        for (std::size_t i = 1; i < plans.size() && !progress.stopped(); ++i) {
            const double rounds = static_cast<double>(plans.size() - 1);
            auto finer =
                match_level(reference_, moving_, level.map, plans[i], workers_,
                            progress.part(static_cast<double>(i - 1) / rounds, static_cast<double>(i) / rounds));
            if (!finer) break;
            level = *std::move(finer);
        }
        return level;
    }

    [[nodiscard]] double relief_px(double sample_px) const {
        switch (options_.light) {
            case LightDifference::none:
                return 0.0;
            case LightDifference::unknown:
                return shows_another_light() ? relief_of_usual_lamps_px : 0.0;
            case LightDifference::other_kind:
                return relief_of_usual_lamps_px;
            case LightDifference::one_side:
                return relief_of_one_side_samples * sample_px;
        }
        return 0.0;
    }

    // Dark and bright have changed places, or one of the two has no colour.
    [[nodiscard]] bool shows_another_light() const {
        return report_.matched_on != MatchedOn::brightness ||
               reference_view_.is_coloured() != moving_view_.is_coloured();
    }

    // Gives the shift of all tiles alike that the error must take in.
    double check_against_colour(LevelResult& finest) {
        const double relief = relief_px(finest.pitch_px);
        const bool unknown = options_.light == LightDifference::unknown;
        if (options_.light == LightDifference::none || agreeing_share(finest) < convincing_share) return relief;
        if (unknown && (shows_another_light() || median_score(finest) > lit_alike_score)) return relief;
        ColourCheck check =
            check_by_colour(reference_view_, moving_view_, finest.map, unknown ? light_unknown : light_differs,
                            workers_, progress_.part(0.85, 0.97));
        if (!check.beside_px) return relief;
        if (!check.anew) return unknown ? relief : std::min(relief, *check.beside_px);
        if (agreeing_share(*check.anew) < convincing_share) return relief;
        finest = *std::move(check.anew);
        report_.matched_on = MatchedOn::colour;
        return check.unseen_px;
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

std::string_view name_of(MatchedOn matched_on) {
    switch (matched_on) {
        case MatchedOn::brightness:
            return "brightness";
        case MatchedOn::changed_brightness:
            return "changed-brightness";
        case MatchedOn::edges:
            return "edges";
        case MatchedOn::colour:
            return "colour";
    }
    return "";
}

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
