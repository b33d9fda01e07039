#include "feature_set.hpp"

#include <cmath>
#include <opencv2/features2d.hpp>

#include "feature_small_copy.hpp"

namespace tedge::imaging {
namespace {

// A copy of twice the side shows four times the features of the same size; a detail must find its share among them.
constexpr int most_features = 3000;
constexpr int most_features_large = 12000;   // of a copy of 2000
constexpr double contrast_threshold = 0.02;  // half of the usual: local normalisation has evened the contrast out

// A large copy is looked at part by part: each has its share of the features, and work that is to stop stops between
// two parts.
constexpr int large_side = 1200;
constexpr int part_side = 500;
constexpr int part_margin = 48;  // what the descriptor of a feature near the rim of its part still looks at

struct Part {
    cv::Rect own;      // features whose middle lies here belong to the part
    cv::Rect seen;     // with the margin
    int features = 0;  // at most
};

// The same number of features for the same area as in a copy of 2000.
int features_of(cv::Size copy) {
    const double longer = std::max(copy.width, copy.height) / 2000.0;
    return static_cast<int>(most_features_large * std::max(1.0, longer * longer));
}

int parts_along(int side) {
    return (side + part_side - 1) / part_side;
}

std::vector<Part> parts_of(cv::Size copy) {
    if (std::max(copy.width, copy.height) <= large_side)
        return {{{0, 0, copy.width, copy.height}, {0, 0, copy.width, copy.height}, most_features}};
    const int columns = parts_along(copy.width);
    const int rows = parts_along(copy.height);
    std::vector<Part> parts;
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const int left = copy.width * column / columns;
            const int top = copy.height * row / rows;
            const cv::Rect own(left, top, copy.width * (column + 1) / columns - left,
                               copy.height * (row + 1) / rows - top);
            const cv::Rect around(own.x - part_margin, own.y - part_margin, own.width + 2 * part_margin,
                                  own.height + 2 * part_margin);
            parts.push_back({own, around & cv::Rect({0, 0}, copy), features_of(copy) / (columns * rows)});
        }
    }
    return parts;
}

// Adds the features of one part, in pixels of the small copy.
void look_at(const cv::Mat& copy, const Part& part, FeatureSet::Content& content) {
    const cv::Ptr<cv::SIFT> sift = cv::SIFT::create(part.features, 3, contrast_threshold);
    std::vector<cv::KeyPoint> keypoints;
    cv::Mat descriptors;
    sift->detectAndCompute(copy(part.seen), cv::noArray(), keypoints, descriptors);
    for (std::size_t i = 0; i < keypoints.size(); ++i) {
        cv::KeyPoint each = keypoints[i];
        each.pt += cv::Point2f(part.seen.tl());
        if (!part.own.contains(cv::Point(each.pt))) continue;
        content.keypoints.push_back(each);
        content.descriptors.push_back(descriptors.row(static_cast<int>(i)));
    }
}

// Root normalisation: the Hellinger kernel on histograms (Arandjelović and Zisserman, CVPR 2012).
void normalise(cv::Mat& descriptors) {
    for (int i = 0; i < descriptors.rows; ++i) {
        cv::Mat row = descriptors.row(i);
        const double sum = cv::norm(row, cv::NORM_L1);
        if (sum > 0.0) row /= sum;
        cv::sqrt(row, row);
    }
}

}  // namespace

FeatureSet::FeatureSet(const GrayPyramid& picture, TileSignal signal, int longest_side, bool mirrored,
                       const Progress& progress)
    : content_(std::make_unique<Content>()) {
    const SmallCopy copy = small_copy(picture, signal, longest_side, mirrored, progress);
    if (progress.stopped()) return;
    content_->picture = picture.size(0);
    content_->picture_per_small = copy.picture_per_small_x;
    for (const Part& part : parts_of(copy.image.size())) {
        if (progress.stopped()) return;
        look_at(copy.image, part, *content_);
    }
    for (cv::KeyPoint& each : content_->keypoints) {
        each.pt.x = static_cast<float>((static_cast<double>(each.pt.x) + 0.5) * copy.picture_per_small_x - 0.5);
        each.pt.y = static_cast<float>((static_cast<double>(each.pt.y) + 0.5) * copy.picture_per_small_y - 0.5);
    }
    normalise(content_->descriptors);
}

FeatureSet::~FeatureSet() = default;
FeatureSet::FeatureSet(FeatureSet&&) noexcept = default;
FeatureSet& FeatureSet::operator=(FeatureSet&&) noexcept = default;

int FeatureSet::count() const {
    return static_cast<int>(content_->keypoints.size());
}

}  // namespace tedge::imaging
