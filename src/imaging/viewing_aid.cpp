#include "tedge/imaging/viewing_aid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

namespace {

constexpr int smallest_aid_px = 60;
constexpr double dark_share = 0.01;
constexpr double light_share = 0.99;
const char* const aid_words = "NOT EVIDENCE";

std::array<int, 256> level_counts(const cv::Mat& plane) {
    std::array<int, 256> counts{};
    for (int y = 0; y < plane.rows; ++y)
        for (int x = 0; x < plane.cols; ++x) ++counts[plane.at<std::uint8_t>(y, x)];
    return counts;
}

// The value that this share of the samples does not pass.
int level_at_share(const std::array<int, 256>& counts, double share) {
    double below = 0.0;
    double all = 0.0;
    for (const int count : counts) all += count;
    for (int value = 0; value < 256; ++value) {
        below += counts[static_cast<std::size_t>(value)];
        if (below >= share * all) return value;
    }
    return 255;
}

cv::Mat tone_curve(const auto& output) {
    cv::Mat curve(1, 256, CV_8U);
    for (int value = 0; value < 256; ++value) {
        const double out = output(value / 255.0);
        curve.at<std::uint8_t>(0, value) = static_cast<std::uint8_t>(std::lround(255.0 * std::clamp(out, 0.0, 1.0)));
    }
    return curve;
}

// Each channel less what the coat scatters, over what it lets through; the lightest parts keep their lightness.
void take_tone_off(std::vector<cv::Mat>& channels, double tone) {
    std::array<double, 3> dark{};
    std::array<double, 3> light{};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto counts = level_counts(channels[c]);
        dark[c] = srgb_decoded(level_at_share(counts, dark_share) / 255.0);
        light[c] = srgb_decoded(level_at_share(counts, light_share) / 255.0);
    }
    const double lightest = std::ranges::max(light);
    for (std::size_t c = 0; c < 3; ++c) {
        if (light[c] - dark[c] < 1e-4) continue;  // even all over: nothing to read the coat from
        const double scattered = tone * dark[c];
        const double gain = std::pow(lightest / (light[c] - dark[c]), tone);
        const cv::Mat curve = tone_curve([&](double value) {
            const double through = std::max(0.0, srgb_decoded(value) - scattered);
            return srgb_encoded(std::min(1.0, through * gain));
        });
        cv::LUT(channels[c], curve, channels[c]);
    }
}

void lift_contrast(cv::Mat& srgb, double contrast) {
    cv::Mat lab;
    cv::cvtColor(srgb, lab, cv::COLOR_RGB2Lab);
    std::vector<cv::Mat> planes;
    cv::split(lab, planes);
    const auto counts = level_counts(planes[0]);
    const double low = level_at_share(counts, dark_share) / 255.0;
    const double high = level_at_share(counts, light_share) / 255.0;
    cv::Mat stretched;
    cv::LUT(planes[0], tone_curve([&](double value) { return high > low ? (value - low) / (high - low) : value; }),
            stretched);
    cv::Mat equalised;
    cv::createCLAHE(2.0, cv::Size(8, 8))->apply(stretched, equalised);
    cv::addWeighted(planes[0], 1.0 - contrast, equalised, contrast, 0.0, planes[0]);
    cv::merge(planes, lab);
    cv::cvtColor(lab, srgb, cv::COLOR_Lab2RGB);
}

// In rows, each second one moved by half a step: a half of the picture bears the words too.
void write_not_evidence(cv::Mat& srgb) {
    constexpr int lettering = cv::FONT_HERSHEY_SIMPLEX;
    int below = 0;
    const double unit = cv::getTextSize(aid_words, lettering, 1.0, 1, &below).width;
    const double scale = 0.36 * srgb.cols / unit;
    const int stroke = std::max(1, static_cast<int>(std::lround(2.0 * scale)));
    const cv::Size size = cv::getTextSize(aid_words, lettering, scale, stroke, &below);
    const int step = std::max(size.height * 4, srgb.rows / 5);
    cv::Mat written = srgb.clone();
    bool is_moved = false;
    for (int y = std::min(srgb.rows - below - 1, 2 * size.height); y < srgb.rows; y += step) {
        const int left = static_cast<int>(srgb.cols * (is_moved ? 0.30 : 0.05));
        for (const int x : {left, left + srgb.cols / 2}) {
            cv::putText(written, aid_words, {x, y}, lettering, scale, {0, 0, 0}, stroke + 2, cv::LINE_AA);
            cv::putText(written, aid_words, {x, y}, lettering, scale, {255, 255, 255}, stroke, cv::LINE_AA);
        }
        is_moved = !is_moved;
    }
    cv::addWeighted(srgb, 0.45, written, 0.55, 0.0, srgb);
}

Expected<void> check_aid(const Raster8& srgb, const ViewingAid& wanted) {
    if (srgb.width_px() < smallest_aid_px || srgb.height_px() < smallest_aid_px) {
        return fail("viewing-aid.too-small", "This picture is too small for a viewing aid.",
                    "Take one of at least 60 pixels each way.");
    }
    for (const auto& [name, value] : {std::pair{"contrast", wanted.contrast}, std::pair{"tone", wanted.tone}}) {
        if (value >= 0.0 && value <= 1.0) continue;
        return fail("viewing-aid.slider", std::string("The slider for the ") + name + " goes from 0 to 1.",
                    "Give a number between them.", {{"slider", name}});
    }
    return {};
}

}  // namespace

Expected<Raster8> viewing_aid(const Raster8& srgb, const ViewingAid& wanted) {
    if (auto sound = check_aid(srgb, wanted); !sound) return pass_on(sound);
    const bool is_grey = srgb.channels() == 1;
    // A view of the samples, copied at once: nothing is written through it.
    const cv::Mat given(srgb.height_px(), srgb.width_px(), is_grey ? CV_8UC1 : CV_8UC3,
                        const_cast<std::uint8_t*>(srgb.samples().data()));  // NOLINT
    cv::Mat shown;
    if (is_grey) {
        cv::cvtColor(given, shown, cv::COLOR_GRAY2RGB);
    } else {
        std::vector<cv::Mat> channels;
        cv::split(given, channels);
        if (wanted.tone > 0.0) take_tone_off(channels, wanted.tone);
        cv::merge(channels, shown);
    }
    if (wanted.contrast > 0.0) lift_contrast(shown, wanted.contrast);
    write_not_evidence(shown);
    Raster8 out(srgb.width_px(), srgb.height_px(), 3);
    std::copy_n(shown.ptr<std::uint8_t>(), out.samples().size(), out.samples().data());
    return out;
}

}  // namespace tedge::imaging
