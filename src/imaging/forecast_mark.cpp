#include "tedge/imaging/forecast_mark.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "forecast_words.hpp"

namespace tedge::imaging {
namespace {

constexpr double narrowest_word = 0.09;  // of the longer side of the picture
constexpr double widest_word = 0.62;
constexpr double least_word_px = 44.0;
constexpr int coarse_word_px = 52;
constexpr double coarse_step = 1.05;
constexpr double coarse_likeness = 0.36;
constexpr int fine_word_px = 128;
constexpr double fine_reach = 0.06;  // of the width found
constexpr double fine_step = 0.015;
constexpr std::size_t looked_at_closely = 10;
// Between the word on any picture and what comes nearest to it in pictures without: bench_forecast_words.
constexpr double word_likeness = 0.7;
// Of full scale; written it is three fifths. Less is texture, or an edit that took the word off.
constexpr double least_contrast = 0.15;

// The word at one width, ready to be correlated.
struct Pattern {
    cv::Mat cover;    // weights
    cv::Mat centred;  // weight times what letters are above the mean of letters and outlines
    double weight = 0.0;
    double square = 0.0;  // weighted sum of the squares about the mean
};

Pattern pattern_of(int width_px) {
    constexpr double drawn_px = 640.0;  // strokes keep their proportions from here down
    static const RasterF drawn = forecast_word_pattern(drawn_px);
    const cv::Mat both(drawn.height_px(), drawn.width_px(), CV_32FC2, const_cast<float*>(drawn.samples().data()));
    const int height_px = static_cast<int>(std::lround(static_cast<double>(width_px) * both.rows / both.cols));
    cv::Mat small;
    cv::resize(both, small, {width_px, height_px}, 0, 0, cv::INTER_AREA);
    std::array<cv::Mat, 2> parts;
    cv::split(small, parts);
    Pattern out;
    out.cover = parts[0];
    out.weight = cv::sum(out.cover)[0];
    const double mean = cv::sum(parts[1])[0] / out.weight;
    out.centred = parts[1] - mean * out.cover;
    for (int y = 0; y < small.rows; ++y)
        for (int x = 0; x < small.cols; ++x) {
            const double cover = static_cast<double>(out.cover.at<float>(y, x));
            const double centred = static_cast<double>(out.centred.at<float>(y, x));
            if (cover > 1e-6) out.square += centred * centred / cover;
        }
    return out;
}

struct Place {
    double likeness = 0.0;
    double x_px = 0.0, y_px = 0.0;  // of the middle of the word
    double width_px = 0.0;
};

// Weighted correlation of one place with the word.
double likeness_at(const cv::Mat& gray, const Pattern& pattern, cv::Point at, double along) {
    const cv::Mat here = gray(cv::Rect(at, pattern.cover.size()));
    const double mean = here.dot(pattern.cover) / pattern.weight;
    const double variance = here.mul(here).dot(pattern.cover) / pattern.weight - mean * mean;
    return along / std::sqrt(pattern.square * pattern.weight * std::max(variance, 1e-4));
}

// Where the word lies most likely in a picture in which it would be as wide as the pattern. A word is a place of high
// contrast between letters and outlines; which of those places is most like it is asked of a few.
Place most_like(const cv::Mat& gray, const Pattern& pattern) {
    constexpr int places_asked = 8;
    Place best{.width_px = static_cast<double>(pattern.cover.cols)};
    if (gray.cols < pattern.cover.cols || gray.rows < pattern.cover.rows) return best;
    cv::Mat along;
    cv::matchTemplate(gray, pattern.centred, along, cv::TM_CCORR);
    for (int i = 0; i < places_asked; ++i) {
        double most = 0.0;
        cv::Point at;
        cv::minMaxLoc(along, nullptr, &most, nullptr, &at);
        if (most < least_contrast * pattern.square) break;
        if (const double likeness = likeness_at(gray, pattern, at, most); likeness > best.likeness) {
            best.likeness = likeness;
            best.x_px = at.x + 0.5 * pattern.cover.cols;
            best.y_px = at.y + 0.5 * pattern.cover.rows;
        }
        const cv::Point reach(pattern.cover.cols / 8, pattern.cover.rows / 4);
        cv::rectangle(along, at - reach, at + reach, cv::Scalar(0.0), cv::FILLED);
    }
    return best;
}

cv::Mat scaled(const cv::Mat& gray, double scale) {
    const cv::Size size(std::max(1, static_cast<int>(std::lround(gray.cols * scale))),
                        std::max(1, static_cast<int>(std::lround(gray.rows * scale))));
    cv::Mat out;
    cv::resize(gray, out, size, 0, 0, scale < 1.0 ? cv::INTER_AREA : cv::INTER_LINEAR);
    return out;
}

// Letters and outlines are never further apart than their strokes are wide, and they are everywhere. Most photographs
// are told by this alone.
bool may_bear_letters(const cv::Mat& gray) {
    constexpr double least_step = 0.2;    // of full scale
    constexpr double least_share = 0.02;  // of the pixels
    constexpr double reach = 0.006;       // of the longer side
    const int radius = std::max(1, static_cast<int>(std::lround(reach * std::max(gray.cols, gray.rows))));
    const cv::Mat around = cv::getStructuringElement(cv::MORPH_RECT, {2 * radius + 1, 2 * radius + 1});
    cv::Mat brightest, darkest;
    cv::dilate(gray, brightest, around);
    cv::erode(gray, darkest, around);
    return cv::countNonZero(brightest - darkest >= least_step) >= least_share * static_cast<double>(gray.total());
}

// The best place of every size, the most likely first, in pixels of `gray`.
std::vector<Place> may_be_there(const cv::Mat& gray) {
    static const Pattern pattern = pattern_of(coarse_word_px);
    const double longest = std::max(gray.cols, gray.rows);
    std::vector<Place> out;
    for (double share = narrowest_word; share <= widest_word; share *= coarse_step) {
        if (share * longest < least_word_px) continue;
        const double scale = coarse_word_px / (share * longest);
        Place place = most_like(scaled(gray, scale), pattern);
        if (place.likeness < coarse_likeness) continue;
        for (double* each : {&place.x_px, &place.y_px, &place.width_px}) *each /= scale;
        out.push_back(place);
    }
    std::ranges::sort(out, [](const Place& a, const Place& b) { return a.likeness > b.likeness; });
    if (out.size() > looked_at_closely) out.resize(looked_at_closely);
    return out;
}

double likeness_near(const cv::Mat& gray, const Place& place) {
    const int word_px = std::clamp(static_cast<int>(std::lround(place.width_px)), coarse_word_px, fine_word_px);
    const Pattern pattern = pattern_of(word_px);
    const double high = place.width_px * pattern.cover.rows / pattern.cover.cols;
    const double margin = 0.12 * place.width_px;
    const cv::Rect wanted(static_cast<int>(place.x_px - 0.5 * place.width_px - margin),
                          static_cast<int>(place.y_px - 0.5 * high - margin),
                          static_cast<int>(place.width_px + 2 * margin), static_cast<int>(high + 2 * margin));
    const cv::Mat around = gray(wanted & cv::Rect(0, 0, gray.cols, gray.rows));
    double best = 0.0;
    for (double off = -fine_reach; off <= fine_reach + 1e-9; off += fine_step)
        best = std::max(best, most_like(scaled(around, word_px / (place.width_px * (1.0 + off))), pattern).likeness);
    return best;
}

cv::Mat gray_of(const Raster8& srgb) {
    cv::Mat out(srgb.height_px(), srgb.width_px(), CV_32F);
    const int channels = srgb.channels();
    for (int y = 0; y < out.rows; ++y) {
        const std::uint8_t* row = srgb.row(y);
        for (int x = 0; x < out.cols; ++x) {
            float sum = 0.0F;
            for (int c = 0; c < channels; ++c) sum += static_cast<float>(row[x * channels + c]);
            out.at<float>(y, x) = sum / (255.0F * static_cast<float>(channels)) - 0.5F;
        }
    }
    return out;
}

}  // namespace

ForecastMark forecast_mark_in(const Raster8& srgb) {
    ForecastMark out;
    if (srgb.empty()) return out;
    cv::Mat gray = gray_of(srgb);
    const double longest = std::max(gray.cols, gray.rows);
    if (longest > forecast_mark_px) gray = scaled(gray, forecast_mark_px / longest);
    if (!may_bear_letters(gray)) return out;
    for (int quarter = 0; quarter < 4 && !out.seen; ++quarter) {
        if (quarter > 0) cv::rotate(gray.clone(), gray, cv::ROTATE_90_CLOCKWISE);
        for (const Place& place : may_be_there(gray)) {
            out.likeness = std::max(out.likeness, likeness_near(gray, place));
            out.seen = out.likeness >= word_likeness;
            if (out.seen) break;
        }
    }
    return out;
}

}  // namespace tedge::imaging
