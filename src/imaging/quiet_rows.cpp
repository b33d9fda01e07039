#include "quiet_rows.hpp"

#include <algorithm>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "encoded_light.hpp"

namespace tedge::imaging {
namespace {

constexpr int reach_px = 3;
constexpr std::array brightness_of{0.299, 0.587, 0.114};  // ITU-R BT.601, as JPEG has it

cv::Mat mean_of(const cv::Mat& plane) {
    cv::Mat mean;
    cv::boxFilter(plane, mean, CV_32F, {2 * reach_px + 1, 2 * reach_px + 1}, {-1, -1}, true, cv::BORDER_REFLECT_101);
    return mean;
}

// The share of each deviation that is more than noise.
cv::Mat kept_share(const cv::Mat& variance, double noise) {
    cv::Mat share = 1.0 - noise * noise / cv::max(variance, 1e-6);
    return cv::max(share, 0.0);
}

// mean + share · (value - mean)
cv::Mat quieted(const cv::Mat& plane, double noise) {
    const cv::Mat mean = mean_of(plane);
    const cv::Mat variance = mean_of(plane.mul(plane)) - mean.mul(mean);
    return mean + kept_share(variance, noise).mul(plane - mean);
}

struct Guide {
    cv::Mat value;
    cv::Mat mean;
    cv::Mat variance;
};

Guide guide_of(const std::array<cv::Mat, 3>& planes, double noise) {
    Guide guide;
    const cv::Mat brightness =
        brightness_of[0] * planes[0] + brightness_of[1] * planes[1] + brightness_of[2] * planes[2];
    guide.value = quieted(brightness, noise);
    guide.mean = mean_of(guide.value);
    guide.variance = mean_of(guide.value.mul(guide.value)) - guide.mean.mul(guide.mean) + 0.1 * noise * noise;
    return guide;
}

cv::Mat told_from(const Guide& guide, const cv::Mat& plane, double noise) {
    const cv::Mat mean = mean_of(plane);
    cv::Mat slope = mean_of(plane.mul(guide.value)) - mean.mul(guide.mean);
    slope = slope / guide.variance;
    const cv::Mat told = mean + slope.mul(guide.value - guide.mean);
    return told + quieted(plane - told, noise);
}

template <class T>
std::array<cv::Mat, 3> planes_of(const Raster<T>& picture, int from_y, int to_y) {
    constexpr double to_8_bits = 255.0 / std::numeric_limits<T>::max();
    std::array<cv::Mat, 3> planes;
    for (cv::Mat& plane : planes) plane.create(to_y - from_y, picture.width_px(), CV_32F);
    for (int y = from_y; y < to_y; ++y) {
        const T* row = picture.row(y);
        for (std::size_t c = 0; c < 3; ++c) {
            float* to = planes[c].ptr<float>(y - from_y);
            for (int x = 0; x < picture.width_px(); ++x)
                to[x] = static_cast<float>(to_8_bits * row[3 * static_cast<std::size_t>(x) + c]);
        }
    }
    return planes;
}

}  // namespace

template <class T>
std::vector<float> quiet_rows(const Raster<T>& picture, int from_y, int to_y, const Light3& noise) {
    // The guide reaches out twice, what is told from it once more.
    const int first = std::max(0, from_y - 4 * reach_px);
    const int last = std::min(picture.height_px(), to_y + 4 * reach_px);
    const auto planes = planes_of(picture, first, last);
    // Brightness is the sum of three channels that err apart.
    const Guide guide = guide_of(planes, 0.67 * noise[1]);
    const auto& light = light_of_encoded<std::uint16_t>();
    std::vector<float> out(static_cast<std::size_t>(to_y - from_y) * picture.row_samples());
    for (std::size_t c = 0; c < 3; ++c) {
        const cv::Mat quiet = told_from(guide, planes[c], noise[c]);
        for (int y = from_y; y < to_y; ++y) {
            const float* row = quiet.ptr<float>(y - first);
            float* to = out.data() + static_cast<std::size_t>(y - from_y) * picture.row_samples() + c;
            for (int x = 0; x < picture.width_px(); ++x)
                to[3 * x] = light[static_cast<std::size_t>(std::clamp(row[x] * 257.0F + 0.5F, 0.0F, 65535.0F))];
        }
    }
    return out;
}

template std::vector<float> quiet_rows(const Raster8&, int, int, const Light3&);
template std::vector<float> quiet_rows(const Raster16&, int, int, const Light3&);

}  // namespace tedge::imaging
