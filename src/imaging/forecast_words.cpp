#include "forecast_words.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

namespace tedge::imaging {
namespace {

constexpr int font = cv::FONT_HERSHEY_SIMPLEX;
const char* const word = "FORECAST";
constexpr double opacity = 0.6;
// Any interval of half the width holds a word of 0.3 widths: rows are moved against each other by half a step of 1.3
// words. Any interval of half the height holds two rows.
constexpr double most_of_width = 0.30;
constexpr double most_of_height = 0.60;
constexpr double usual_share = 0.22;
constexpr double step_in_words = 1.3;
constexpr double row_share = 0.16;

struct Lettering {
    double scale = 1.0;
    int stroke = 1;
    int outline = 3;
    int left = 0;      // of the word's origin in its box
    int baseline = 0;  // below the top of its box
    SizePx box;
};

Lettering lettering_of(double width_px) {
    int below = 0;
    const cv::Size unit = cv::getTextSize(word, font, 1.0, 1, &below);
    Lettering out;
    out.scale = width_px / (unit.width * 1.1);
    out.stroke = std::max(1, static_cast<int>(std::lround(2.6 * out.scale)));
    out.outline = out.stroke + 2 * std::max(1, static_cast<int>(std::lround(1.4 * out.scale)));
    const cv::Size drawn = cv::getTextSize(word, font, out.scale, out.outline, &below);
    out.left = out.outline;
    out.baseline = drawn.height + out.outline;
    out.box = {drawn.width + 2 * out.outline, drawn.height + 2 * out.outline + 1};
    return out;
}

double wanted_width_px(SizePx picture) {
    const double w = picture.width_px;
    const double h = picture.height_px;
    return std::min({usual_share * std::sqrt(w * h), most_of_width * w, most_of_height * h});
}

Lettering lettering_for(SizePx picture) {
    const double wanted = wanted_width_px(picture);
    Lettering out = lettering_of(wanted);
    // Outlines take room of their own; once more for what they took.
    if (out.box.width_px > wanted) out = lettering_of(wanted * wanted / out.box.width_px);
    return out;
}

// Two pictures of the word in its box: where letters are, and where letters or their outlines are.
struct Stencil {
    cv::Mat letters;
    cv::Mat all;
};

Stencil stencil_of(const Lettering& lettering) {
    const cv::Size size(lettering.box.width_px, lettering.box.height_px);
    Stencil stencil{cv::Mat::zeros(size, CV_8U), cv::Mat::zeros(size, CV_8U)};
    const cv::Point origin(lettering.left, lettering.baseline);
    cv::putText(stencil.letters, word, origin, font, lettering.scale, 255, lettering.stroke, cv::LINE_AA);
    cv::putText(stencil.all, word, origin, font, lettering.scale, 255, lettering.outline, cv::LINE_AA);
    return stencil;
}

template <class T>
void stamp(Raster<T>& picture, const WordBox& box, const Stencil& stencil) {
    constexpr double white = std::numeric_limits<T>::max();
    for (int y = 0; y < box.size.height_px; ++y)
        for (int x = 0; x < box.size.width_px; ++x) {
            const double cover = opacity * stencil.all.at<std::uint8_t>(y, x) / 255.0;
            if (cover == 0.0) continue;
            const double tone = white * stencil.letters.at<std::uint8_t>(y, x) / 255.0;
            T* pixel = &picture.at(box.left + x, box.top + y);
            for (int c = 0; c < picture.channels(); ++c)
                pixel[c] = static_cast<T>(std::lround(pixel[c] + cover * (tone - pixel[c])));
        }
}

}  // namespace

std::vector<WordBox> forecast_word_boxes(SizePx picture) {
    const Lettering lettering = lettering_for(picture);
    const double step = step_in_words * lettering.box.width_px;
    const double row = std::max(1.5 * lettering.box.height_px, row_share * picture.height_px);
    std::vector<WordBox> boxes;
    bool moved = false;
    for (double top = 0.25 * row; top + lettering.box.height_px <= picture.height_px; top += row, moved = !moved)
        for (double left = moved ? 0.6 * step : 0.1 * step; left + lettering.box.width_px <= picture.width_px;
             left += step)
            boxes.push_back({static_cast<int>(left), static_cast<int>(top), lettering.box});
    return boxes;
}

RasterF forecast_word_pattern(double width_px) {
    const Lettering lettering = lettering_of(width_px);
    const Stencil stencil = stencil_of(lettering);
    RasterF out(lettering.box.width_px, lettering.box.height_px, 2);
    for (int y = 0; y < out.height_px(); ++y)
        for (int x = 0; x < out.width_px(); ++x) {
            out.at(x, y, 0) = static_cast<float>(stencil.all.at<std::uint8_t>(y, x)) / 255.0F;
            out.at(x, y, 1) = static_cast<float>(stencil.letters.at<std::uint8_t>(y, x)) / 255.0F;
        }
    return out;
}

template <class T>
void write_forecast_words(Raster<T>& picture) {
    const Stencil stencil = stencil_of(lettering_for(picture.size()));
    for (const WordBox& box : forecast_word_boxes(picture.size())) stamp(picture, box, stencil);
}

template void write_forecast_words(Raster8&);
template void write_forecast_words(Raster16&);

}  // namespace tedge::imaging
