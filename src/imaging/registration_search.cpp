#include "registration_search.hpp"

#include <algorithm>
#include <array>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int fewest_features = 30;  // a flat or black frame gives none or a handful
constexpr double clearly_better = 0.1;

// Tried in this order until the tiles bear one out. Most pairs are done after the first. Of a picture seen through
// canvas threads and grain are all that is sharp; in copies of 320 they are gone. The last four are for a detail laid
// on the whole: a large copy of the one is compared with a small copy of the other, for details of an eighth of the
// side or more, then of a sixteenth or more.
constexpr int largest_copy = 4000;
constexpr int least_side_for_largest_copy = 2200;  // else it would show hardly more than the copies of 2000
constexpr int without_threads = 320;
constexpr std::array<Attempt, 11> attempts{
    {{TileSignal::gray, 640, 640, false},
     {TileSignal::gray, 640, 640, false, FeatureSign::either},
     {TileSignal::edges, 800, 800, false},
     {TileSignal::gray, 640, 640, true, FeatureSign::either},
     {TileSignal::edges, 800, 800, true},
     {TileSignal::gray, without_threads, without_threads, false, FeatureSign::either},
     {TileSignal::gray, without_threads, without_threads, true, FeatureSign::either},
     {TileSignal::gray, 2000, 500, false},
     {TileSignal::gray, 500, 2000, false},
     {TileSignal::gray, largest_copy, 250, false},
     {TileSignal::gray, 250, largest_copy, false}}};

int longer_side(SizePx size) {
    return std::max(size.width_px, size.height_px);
}

Homography unmirrored(const Homography& reference_from_mirrored, SizePx moving) {
    const auto flip = Homography::from_row_major({-1, 0, moving.width_px - 1.0, 0, 1, 0, 0, 0, 1});
    const auto composed = compose(reference_from_mirrored, *flip);
    return composed ? *composed : reference_from_mirrored;
}

constexpr TileStyle plain{TileSignal::gray, false};
constexpr TileStyle either_sign{TileSignal::gray, true};
constexpr TileStyle edges{TileSignal::edges, false};

// In which ways tiles are compared, one after the other until one convinces. Gray values of either sign are several
// times more exact than the strength of edges even where dark and bright have changed places.
std::vector<TileStyle> styles_after(TileSignal features) {
    if (features == TileSignal::gray) return {plain, either_sign};
    return {either_sign, edges};
}

// The better of the two, in `best`.
void take_if_better(std::optional<Candidate>& best, Candidate other, double margin) {
    if (!best || other.share > best->share + margin) best = std::move(other);
}

bool convinces(const std::optional<Candidate>& candidate) {
    return candidate && candidate->share >= convincing_share;
}

// The first round of a person's pairs looks further: tiles twice as wide, up to 36 samples beside the guess.
LevelPlan wide_plan(LevelPlan plan) {
    plan.setup.side *= 2;
    plan.setup.search_samples = 36.0;
    return plan;
}

}  // namespace

std::optional<Candidate> CandidateSearch::look(const Progress& progress) {
    std::optional<Candidate> best;
    double done = 0.0;
    for (const Attempt& attempt : attempts) {
        if (progress.stopped()) return best;
        if (!is_worth_it(&attempt)) continue;
        auto candidate = attempt_one(attempt, progress.part(done, done + 1.0 / attempts.size()));
        done += 1.0 / attempts.size();
        if (candidate) take_if_better(best, *std::move(candidate), 0.0);
        if (convinces(best)) break;
    }
    return best;
}

std::optional<Candidate> CandidateSearch::attempt_one(const Attempt& attempt, const Progress& progress) {
    const auto matched = features_of(attempt, progress);
    if (!matched) return std::nullopt;
    PixelMap guess{matched->reference_from_moving, std::nullopt};
    if (attempt.mirrored) guess.homography = unmirrored(guess.homography, pair_.moving_size());
    std::optional<Candidate> best;
    double done = 0.5;
    for (const bool coarse : {false, true}) {
        for (const TileStyle style : styles_after(attempt.signal)) {
            LevelPlan plan = plan_levels(pair_.reference_size(), pair_.moving_size(), guess, style).front();
            if (coarse) plan = with_coarser_samples(plan);
            auto candidate = first_round(guess, style, plan, progress.part(done, done + 0.1));
            done += 0.1;
            if (!candidate) continue;
            candidate->mirrored = attempt.mirrored;
            candidate->inliers = matched->inliers;
            candidate->coarse = coarse;
            take_if_better(best, *std::move(candidate), clearly_better);
            if (convinces(best)) return carried_on(*std::move(best), progress.part(0.9, 1.0));
        }
    }
    if (!best) return std::nullopt;
    return carried_on(*std::move(best), progress.part(0.9, 1.0));
}

std::optional<Candidate> CandidateSearch::first_round(const PixelMap& guess, TileStyle style, const LevelPlan& plan,
                                                      const Progress& progress) const {
    auto level = match_level(pair_.reference, pair_.moving, guess, plan, pair_.workers, progress);
    if (!level) return std::nullopt;
    Candidate candidate{.style = style, .plan = plan, .level = *std::move(level)};
    candidate.share = agreeing_share(candidate.level);
    return candidate;
}

Candidate CandidateSearch::carried_on(Candidate candidate, const Progress& progress) const {
    const double first_share = candidate.share;
    candidate.level = imaging::carried_on(pair_.reference, pair_.moving, std::move(candidate.level), candidate.plan,
                                          pair_.workers, progress);
    candidate.share = agreeing_share(candidate.level);
    candidate.bends = candidate.share > first_share;
    return candidate;
}

std::optional<FeatureMap> CandidateSearch::features_of(const Attempt& attempt, const Progress& progress) {
    progress.at(0.0, "looking for features");
    const FeatureSet* known = known_features(attempt);
    std::optional<FeatureSet> found_reference;
    std::optional<FeatureSet> found_moving;
    for_each_index(
        2, pair_.workers, [&] { return progress.stopped(); },
        [&](int index, int) {
            if (index == 0)
                found_moving.emplace(pair_.moving, attempt.signal, attempt.moving_side, attempt.mirrored, progress);
            else if (known == nullptr)
                found_reference.emplace(pair_.reference, attempt.signal, attempt.reference_side, false, progress);
        });
    if (progress.stopped()) return std::nullopt;
    if (found_reference) looked_at_.emplace_back(attempt, *std::move(found_reference));
    const FeatureSet& reference = known != nullptr ? *known : looked_at_.back().second;
    if (reference.count() >= fewest_features && found_moving->count() >= fewest_features) enough_features_ = true;
    progress.at(0.4, "comparing features");
    return match_features(reference, *found_moving, attempt.sign, pair_.workers, progress);
}

std::optional<Candidate> CandidateSearch::begin_at(const Homography& reference_from_moving,
                                                   const Progress& progress) const {
    const PixelMap guess{reference_from_moving, std::nullopt};
    std::optional<Candidate> best;
    double done = 0.0;
    for (const TileStyle style : {plain, either_sign, edges}) {
        const LevelPlan first = plan_levels(pair_.reference_size(), pair_.moving_size(), guess, style).front();
        for (const LevelPlan& plan : {first, wide_plan(first), with_coarser_samples(wide_plan(first))}) {
            if (progress.stopped()) return std::nullopt;
            auto candidate = first_round(guess, style, plan, progress.part(done, done + 0.1));
            done += 0.1;
            if (!candidate) continue;
            candidate->coarse = plan.setup.pitch_px > first.setup.pitch_px;
            take_if_better(best, *std::move(candidate), clearly_better);
            if (convinces(best)) return carried_on(*std::move(best), progress.part(0.9, 1.0));
        }
    }
    if (!best) return std::nullopt;
    return carried_on(*std::move(best), progress.part(0.9, 1.0));
}

// No copy is larger than its picture: of small pictures the attempts for a detail make the copies of earlier ones.
bool CandidateSearch::is_worth_it(const Attempt* attempt) const {
    const auto wants_more_pixels = [](int side, SizePx picture) {
        return side == largest_copy && longer_side(picture) < least_side_for_largest_copy;
    };
    if (wants_more_pixels(attempt->reference_side, pair_.reference_size()) ||
        wants_more_pixels(attempt->moving_side, pair_.moving_size()))
        return false;
    return std::none_of(attempts.data(), attempt, [&](const Attempt& made) { return looks_alike(made, *attempt); });
}

bool CandidateSearch::looks_alike(const Attempt& one, const Attempt& other) const {
    const auto same = [](int side, int other_side, SizePx picture) {
        return std::min(side, longer_side(picture)) == std::min(other_side, longer_side(picture));
    };
    return one.signal == other.signal && one.mirrored == other.mirrored && one.sign == other.sign &&
           same(one.reference_side, other.reference_side, pair_.reference_size()) &&
           same(one.moving_side, other.moving_side, pair_.moving_size());
}

// Attempts that look for the same features of the reference.
const FeatureSet* CandidateSearch::known_features(const Attempt& attempt) const {
    const auto known = std::ranges::find_if(looked_at_, [&](const auto& each) {
        return each.first.signal == attempt.signal && each.first.reference_side == attempt.reference_side;
    });
    return known != looked_at_.end() ? &known->second : nullptr;
}

}  // namespace tedge::imaging
