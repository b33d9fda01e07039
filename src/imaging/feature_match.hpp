// Features of two small copies matched, and the homography that most of them agree on.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "registration_gray.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/homography.hpp"
#include "tile_match.hpp"

namespace tedge::imaging {

// The features of one picture; positions in pixels of the picture itself. Keeps OpenCV out of this header.
class FeatureSet {
public:
    struct Content;
    // longest_side: size of the small copy looked at. mirrored: the picture turned over first (positions are then those
    // of the mirrored picture, x = width - 1 - x). Incomplete when progress says stop.
    FeatureSet(const GrayPyramid& picture, TileSignal signal, int longest_side, bool mirrored,
               const Progress& progress = {});
    ~FeatureSet();
    FeatureSet(FeatureSet&&) noexcept;
    FeatureSet& operator=(FeatureSet&&) noexcept;

    [[nodiscard]] int count() const;
    [[nodiscard]] const Content& content() const { return *content_; }

private:
    std::unique_ptr<Content> content_;
};

struct FeatureMap {
    Homography reference_from_moving;
    int inliers = 0;
};

// Which features of two pictures may be the same.
enum class FeatureSign {
    same,   // bright stays bright
    either  // or has become dark, here or there, as light through the canvas and ultraviolet have it
};

// Empty when no homography has at least 8 features behind it, the best is no view of a plane from the front, or
// progress says stop.
[[nodiscard]] std::optional<FeatureMap> match_features(const FeatureSet& reference, const FeatureSet& moving,
                                                       FeatureSign sign, int workers, const Progress& progress = {});

// The homography that most point pairs agree on within a threshold (pixels of the reference); used on tiles as well.
struct RobustHomography {
    Homography reference_from_moving;
    std::vector<bool> inlier;
};
[[nodiscard]] std::optional<RobustHomography> robust_homography(const std::vector<PointPair>& pairs,
                                                                double threshold_px);

// False when the map folds, mirrors, or squeezes the moving picture beyond any photograph of a painting.
[[nodiscard]] bool plausible(const Homography& reference_from_moving, SizePx moving);

}  // namespace tedge::imaging
