// Where to begin: the homography that features or given pairs of points speak for, and a first round of tiles that
// bears it out or does not.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "feature_match.hpp"
#include "registration_levels.hpp"

namespace tedge::imaging {

// A first round of tiles that this share of them bears out needs no second opinion.
inline constexpr double convincing_share = 0.5;

struct Candidate {
    bool mirrored = false;
    int inliers = 0;  // features or pairs behind it
    TileStyle style;
    LevelPlan plan;       // of the first round of tiles
    LevelResult level;    // the first round, carried on
    double share = 0.0;   // of them that agree
    bool coarse = false;  // in samples coarser than planned
    bool bends = false;   // more came to agree where the map was carried on to
};

// The two pictures with the number of worker threads.
struct PicturePair {
    const GrayPyramid& reference;
    const GrayPyramid& moving;
    int workers;

    [[nodiscard]] SizePx reference_size() const { return reference.size(0); }
    [[nodiscard]] SizePx moving_size() const { return moving.size(0); }
};

// One way of looking for features.
struct Attempt {
    TileSignal signal;
    int reference_side;  // of the small copies
    int moving_side;
    bool mirrored;
    FeatureSign sign = FeatureSign::same;
};

class CandidateSearch {
public:
    explicit CandidateSearch(const PicturePair& pair) : pair_(pair) {}

    // By features. Empty when no homography was found, or when progress says stop.
    [[nodiscard]] std::optional<Candidate> look(const Progress& progress);
    // Both pictures had features enough in one of the attempts.
    [[nodiscard]] bool enough_features() const { return enough_features_; }

    // From a homography that a person's pairs speak for, good to some pixels.
    [[nodiscard]] std::optional<Candidate> begin_at(const Homography& reference_from_moving,
                                                    const Progress& progress) const;

private:
    [[nodiscard]] std::optional<Candidate> attempt_one(const Attempt& attempt, const Progress& progress);
    [[nodiscard]] std::optional<FeatureMap> features_of(const Attempt& attempt, const Progress& progress);
    [[nodiscard]] std::optional<Candidate> first_round(const PixelMap& guess, TileStyle style, const LevelPlan& plan,
                                                       const Progress& progress) const;
    // With what carrying on has gained.
    [[nodiscard]] Candidate carried_on(Candidate candidate, const Progress& progress) const;
    [[nodiscard]] bool is_worth_it(const Attempt* attempt) const;
    [[nodiscard]] bool looks_alike(const Attempt& one, const Attempt& other) const;
    [[nodiscard]] const FeatureSet* known_features(const Attempt& attempt) const;

    PicturePair pair_;
    std::vector<std::pair<Attempt, FeatureSet>> looked_at_;  // features of the reference
    bool enough_features_ = false;
};

}  // namespace tedge::imaging
