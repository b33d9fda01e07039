// What is behind a FeatureSet; includes OpenCV, so only for the sources about features.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "feature_match.hpp"

namespace tedge::imaging {

struct FeatureSet::Content {
    std::vector<cv::KeyPoint> keypoints;  // positions in pixels of the picture, size and angle of the small copy
    cv::Mat descriptors;                  // root-normalised, one row for each keypoint
    double picture_per_small = 1.0;
    SizePx picture;
};

}  // namespace tedge::imaging
