#include "cleaning_strength.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "linear_light.hpp"
#include "otsu_classes.hpp"

namespace tedge::imaging {
namespace {

constexpr double averaging_px = 1.5;   // deviation of the window the share is estimated in
constexpr double first_look_px = 6.0;  // and of that for the first look
constexpr float dark_guard = 0.02F;    // linear light below which differences count as absolute
constexpr double deviations_above = 6.0;
constexpr double least_share = 0.15, half = 0.5;
constexpr double most_deviation = half / 4.0;
constexpr double inside_px = 3.0, outside_px = 6.0;  // models are fitted away from the edges of the windows
constexpr int least_pixels = 30;
constexpr int passes = 3;

constexpr float unknown = std::numeric_limits<float>::quiet_NaN();

// Both pictures in linear light, averaged over little, and what of them counts.
struct Light {
    std::array<cv::Mat, 3> before, after;
    cv::Mat weights;
};

cv::Mat weights_of(SizePx size, const Raster8* counted) {
    cv::Mat out(size.height_px, size.width_px, CV_32F, cv::Scalar(1.0));
    if (counted == nullptr) return out;
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x) out.at<float>(y, x) = counted->at(x, y) != 0 ? 1.0F : 0.0F;
    return out;
}

cv::Mat channel_light(const Raster8& srgb, int channel) {
    const auto& light = linear_light().from_srgb8;
    cv::Mat out(srgb.height_px(), srgb.width_px(), CV_32F);
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x)
            out.at<float>(y, x) = static_cast<float>(light[srgb.at(x, y, channel)]) / 65535.0F;
    // Registration leaves a fraction of a pixel: edges shall not count as change.
    return averaged_around(out, 1.0);
}

Light light_of(const Raster8& before, const Raster8& after, const Raster8* counted) {
    Light out;
    for (int c = 0; c < 3; ++c) {
        out.before[static_cast<std::size_t>(c)] = channel_light(before, c);
        out.after[static_cast<std::size_t>(c)] = channel_light(after, c);
    }
    out.weights = weights_of(before.size(), counted);
    return out;
}

std::vector<float> known_values(const cv::Mat& field, const cv::Mat& where) {
    std::vector<float> out;
    for (int y = 0; y < field.rows; ++y)
        for (int x = 0; x < field.cols; ++x)
            if (const float value = field.at<float>(y, x); value == value && where.at<std::uint8_t>(y, x) != 0)
                out.push_back(value);
    return out;
}

// The logarithm of how much more light comes back, by the lightest paint around: there scattered light, which cleaning
// takes away from dark paint, counts least. The mean of red, green, and twice blue.
cv::Mat log_ratio(const Light& light) {
    cv::Mat sum(light.weights.size(), CV_32F, cv::Scalar(0.0));
    for (const auto& [channel, weight] : {std::pair{0U, 0.25}, std::pair{1U, 0.25}, std::pair{2U, 0.5}}) {
        const cv::Mat before = light.before[channel] + dark_guard;
        cv::Mat ratio;
        cv::divide(averaged_around(light.weights.mul(before).mul(light.after[channel] + dark_guard), first_look_px),
                   averaged_around(light.weights.mul(before).mul(before), first_look_px), ratio);
        cv::max(ratio, 1e-3, ratio);  // where nothing counts: 0 / 0
        cv::log(ratio, ratio);
        sum += weight * ratio;
    }
    sum.setTo(unknown, averaged_around(light.weights, first_look_px) < 0.2);
    return sum;
}

cv::Mat opened(const cv::Mat& mask) {
    cv::Mat out;
    cv::morphologyEx(mask, out, cv::MORPH_OPEN, cv::getStructuringElement(cv::MORPH_ELLIPSE, {3, 3}));
    return out;
}

// Where to begin: what lies well above the rest, and, for when most of the picture was cleaned or dark paint hides
// where, the upper of two classes.
std::vector<cv::Mat> first_look(const Light& light, double least_change) {
    const cv::Mat ratio = log_ratio(light);
    const auto values = known_values(ratio, cv::Mat(ratio.size(), CV_8U, cv::Scalar(255)));
    if (values.empty()) return {};
    const UpperClass classes = upper_class_of(values);
    // Half way up where there are two classes: the models must not see the foot of the slope that averaging makes.
    const double above = classes.low + std::max(least_change, deviations_above * classes.low_deviation);
    const double half_way = classes.separate ? half * (classes.low + classes.high) : above;
    return {opened(ratio > std::max(above, half_way)), opened(ratio > classes.threshold)};
}

cv::Mat at_least_from_edge(const cv::Mat& mask, double distance_px) {
    cv::Mat distance;
    cv::distanceTransform(mask, distance, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    return distance >= distance_px;
}

// after = gain · before + offset, relative errors least in the mean of squares.
struct Line {
    double gain = 1.0;
    double offset = 0.0;
};

Line fitted(const cv::Mat& before, const cv::Mat& after, const cv::Mat& weights, const cv::Mat& where) {
    double w = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
    for (int row = 0; row < before.rows; ++row)
        for (int column = 0; column < before.cols; ++column) {
            if (where.at<std::uint8_t>(row, column) == 0 || !(weights.at<float>(row, column) > 0.0F)) continue;
            const auto p = static_cast<double>(before.at<float>(row, column));
            const auto q = static_cast<double>(after.at<float>(row, column));
            const double each = 1.0 / ((p + dark_guard) * (p + dark_guard));
            w += each, x += each * p, y += each * q, xx += each * p * p, xy += each * p * q;
        }
    const double spread = w * xx - x * x;
    if (!(spread > 1e-9 * w * xx)) return {x > 0.0 ? y / x : 1.0, 0.0};
    const double gain = (w * xy - x * y) / spread;
    return {gain, (y - gain * x) / w};
}

// The share, by least squares in a small window: after = rest + share · (cleaned − rest).
cv::Mat share_of(const Light& light, const cv::Mat& cleaned) {
    cv::Mat rest;
    cv::bitwise_not(cleaned, rest);
    const cv::Mat inside = at_least_from_edge(cleaned, inside_px), outside = at_least_from_edge(rest, outside_px);
    cv::Mat along(cleaned.size(), CV_32F, cv::Scalar(0.0)), across = along.clone();
    for (std::size_t c = 0; c < 3; ++c) {
        const Line one = fitted(light.before[c], light.after[c], light.weights, inside);
        const Line none = fitted(light.before[c], light.after[c], light.weights, outside);
        const cv::Mat expected = none.gain * light.before[c] + none.offset;
        const cv::Mat step = (one.gain - none.gain) * light.before[c] + (one.offset - none.offset);
        cv::Mat each;
        cv::divide(light.weights, (light.before[c] + dark_guard).mul(light.before[c] + dark_guard), each);
        along += each.mul(step).mul(light.after[c] - expected);
        across += each.mul(step).mul(step);
    }
    cv::Mat share;
    cv::divide(averaged_around(along, averaging_px), averaged_around(across, averaging_px) + 1e-12, share);
    share.setTo(unknown, averaged_around(light.weights, averaging_px) < 0.2);
    return share;
}

bool large_enough(const cv::Mat& cleaned) {
    const int pixels = cv::countNonZero(at_least_from_edge(cleaned, inside_px));
    cv::Mat rest;
    cv::bitwise_not(cleaned, rest);
    return pixels >= least_pixels && cv::countNonZero(at_least_from_edge(rest, outside_px)) >= least_pixels;
}

CleaningStrength refined(const Light& light, const cv::Mat& start) {
    CleaningStrength out;
    out.cleaned = start;
    for (int pass = 0; pass < passes; ++pass) {
        if (!large_enough(out.cleaned)) return out;
        out.share = share_of(light, out.cleaned);
        cv::Mat rest;
        cv::bitwise_not(out.cleaned, rest);
        const auto values = known_values(out.share, at_least_from_edge(rest, outside_px));
        if (values.empty()) return out;
        const Spread none = spread_of(values);
        out.deviation = none.deviation;
        out.cleaned =
            opened(out.share > none.median + std::clamp(deviations_above * none.deviation, least_share, half));
    }
    out.found = out.deviation <= most_deviation && large_enough(out.cleaned);
    return out;
}

}  // namespace

cv::Mat averaged_around(const cv::Mat& field, double deviation_px) {
    cv::Mat out;
    cv::GaussianBlur(field, out, {}, deviation_px, deviation_px, cv::BORDER_REPLICATE);
    return out;
}

Expected<CleaningStrength> cleaning_strength(const Raster8& before, const Raster8& after, const Raster8* counted,
                                             double least_change, const Progress& progress) {
    if (progress.stopped()) return cancelled();
    const Light light = light_of(before, after, counted);
    CleaningStrength best;
    for (const cv::Mat& start : first_look(light, least_change)) {
        if (progress.stopped()) return cancelled();
        CleaningStrength found = refined(light, start);
        progress.at(0.5, "looking for cleaned areas");
        if (found.found && (!best.found || found.deviation < best.deviation)) best = std::move(found);
    }
    return best;
}

}  // namespace tedge::imaging
