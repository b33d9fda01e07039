#include "feature_small_copy.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace tedge::imaging {
namespace {

constexpr double deviation_to = 45.0;
constexpr double gray_floor = 1.0;   // gray levels after averaging; below it there is only noise
constexpr double edge_floor = 0.05;  // logarithm of the gradient

// (value - local mean) / local deviation, both over a Gaussian a fortieth of the longer side wide.
cv::Mat normalised(const cv::Mat& image, double floor) {
    const double sigma = std::max(image.cols, image.rows) / 40.0;
    cv::Mat mean;
    cv::Mat square;
    cv::GaussianBlur(image, mean, {}, sigma);
    cv::GaussianBlur(image.mul(image), square, {}, sigma);
    cv::Mat variance = square - mean.mul(mean);
    cv::max(variance, 0.0, variance);
    cv::Mat deviation;
    cv::sqrt(variance, deviation);
    cv::Mat result;
    cv::divide(image - mean, deviation + floor, result);
    return result;
}

cv::Mat logarithm_of_gradient(const cv::Mat& image) {
    cv::Mat smooth;
    cv::GaussianBlur(image, smooth, {}, 1.5);
    cv::Mat gx;
    cv::Mat gy;
    cv::Sobel(smooth, gx, CV_32F, 1, 0, 1);
    cv::Sobel(smooth, gy, CV_32F, 0, 1, 1);
    cv::Mat magnitude;
    cv::magnitude(gx, gy, magnitude);
    cv::log(magnitude + 1.0, magnitude);
    return magnitude;
}

}  // namespace

SmallCopy small_copy(const GrayPyramid& picture, TileSignal signal, int longest_side, bool mirrored) {
    const int level = picture.level_for_side(longest_side);
    const SizePx size = picture.size(level);
    cv::Mat gray(size.height_px, size.width_px, CV_32F);
    picture.read(level, 0, 0, size.width_px, size.height_px, gray.ptr<float>());
    const double shrink = std::max(1.0, std::max(size.width_px, size.height_px) / static_cast<double>(longest_side));
    SmallCopy copy;
    copy.picture_per_small_x = copy.picture_per_small_y = level_scale(level);
    if (shrink > 1.0) {
        const cv::Size small(static_cast<int>(std::lround(size.width_px / shrink)),
                             static_cast<int>(std::lround(size.height_px / shrink)));
        copy.picture_per_small_x *= static_cast<double>(size.width_px) / small.width;
        copy.picture_per_small_y *= static_cast<double>(size.height_px) / small.height;
        cv::Mat reduced;
        cv::resize(gray, reduced, small, 0, 0, cv::INTER_AREA);
        gray = reduced;
    }
    if (mirrored) cv::flip(gray, gray, 1);
    if (signal == TileSignal::edges) gray = logarithm_of_gradient(gray);
    normalised(gray, signal == TileSignal::edges ? edge_floor : gray_floor)
        .convertTo(copy.image, CV_8U, deviation_to, 128.0);
    return copy;
}

}  // namespace tedge::imaging
