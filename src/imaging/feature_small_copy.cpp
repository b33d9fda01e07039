#include "feature_small_copy.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace tedge::imaging {
namespace {

constexpr double deviation_to = 45.0;
constexpr double gray_floor = 1.0;   // gray levels after averaging; below it there is only noise
constexpr double edge_floor = 0.05;  // logarithm of the gradient

constexpr int band_px = 64;  // rows or columns blurred between two looks at whether to stop

// A Gaussian so wide takes a second over a large copy: along the rows first, band by band, then along the columns, with
// the kernel that cv::GaussianBlur would take.
cv::Mat blurred(const cv::Mat& image, double sigma, const Progress& progress) {
    const cv::Mat kernel = cv::getGaussianKernel(static_cast<int>(std::lround(8.0 * sigma + 1.0)) | 1, sigma, CV_32F);
    const cv::Mat one = cv::Mat::ones(1, 1, CV_32F);
    cv::Mat along_rows(image.size(), CV_32F);
    for (int y = 0; y < image.rows && !progress.stopped(); y += band_px) {
        const cv::Range band(y, std::min(y + band_px, image.rows));
        cv::sepFilter2D(image.rowRange(band), along_rows.rowRange(band), CV_32F, kernel, one);
    }
    cv::Mat both(image.size(), CV_32F);
    for (int x = 0; x < image.cols && !progress.stopped(); x += band_px) {
        const cv::Range band(x, std::min(x + band_px, image.cols));
        cv::sepFilter2D(along_rows.colRange(band), both.colRange(band), CV_32F, one, kernel);
    }
    return both;
}

// (value - local mean) / local deviation, both over a Gaussian as wide in every copy: a detail and the part of a large
// copy that shows the same are then evened out alike.
cv::Mat normalised(const cv::Mat& image, double floor, const Progress& progress) {
    constexpr double sigma = 16.0;
    const cv::Mat mean = blurred(image, sigma, progress);
    const cv::Mat square = blurred(image.mul(image), sigma, progress);
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

SmallCopy small_copy(const GrayPyramid& picture, TileSignal signal, int longest_side, bool mirrored,
                     const Progress& progress) {
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
    const cv::Mat even = normalised(gray, signal == TileSignal::edges ? edge_floor : gray_floor, progress);
    if (progress.stopped()) return {};
    even.convertTo(copy.image, CV_8U, deviation_to, 128.0);
    return copy;
}

}  // namespace tedge::imaging
