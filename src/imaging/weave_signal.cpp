#include "weave_signal.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "registration_gray.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr double most_px_per_cm = 192.0;
constexpr double mean_sigma_cm = 0.08;      // passes 5 threads/cm nearly whole
constexpr double contrast_sigma_cm = 0.25;  // several threads
constexpr float least_deviation = 0.2F;     // gray levels: less is no picture
constexpr float steps_per_deviation = 32.0F;
constexpr int band_rows = 256;

int box_for(double sigma_px, int passes) {
    const double width = std::sqrt(12.0 * sigma_px * sigma_px / passes + 1.0);
    return 2 * static_cast<int>(std::lround((width - 1.0) / 2.0)) + 1;
}

struct Boxes {
    int mean = 1;
    int contrast = 1;
    [[nodiscard]] int margin() const { return 3 * (mean / 2) + 2 * (contrast / 2) + 1; }
};

cv::Mat blurred(const cv::Mat& from, int box, int passes) {
    cv::Mat out;
    cv::blur(from, out, {box, box}, {-1, -1}, cv::BORDER_REPLICATE);
    for (int pass = 1; pass < passes; ++pass) cv::blur(out, out, {box, box}, {-1, -1}, cv::BORDER_REPLICATE);
    return out;
}

// Rows [y0, y0 + rows) of the signal; returns the sum of local deviations.
double fill_band(const GrayPyramid& pyramid, int y0, int rows, const Boxes& boxes, WeaveSignal& signal) {
    const int margin = boxes.margin();
    const int width = signal.values.width_px() + 2 * margin;
    cv::Mat gray(rows + 2 * margin, width, CV_32F);
    pyramid.read(signal.level, -margin, y0 - margin, width, gray.rows, gray.ptr<float>());
    gray -= blurred(gray, boxes.mean, 3);
    const cv::Mat variance = blurred(gray.mul(gray), boxes.contrast, 2);
    double sum = 0.0;
    for (int y = 0; y < rows; ++y) {
        const float* value = gray.ptr<float>(y + margin) + margin;
        const float* spread = variance.ptr<float>(y + margin) + margin;
        std::int8_t* out = signal.values.row(y0 + y);
        for (int x = 0; x < signal.values.width_px(); ++x) {
            const float deviation = std::sqrt(std::max(0.0F, spread[x]));
            sum += deviation;
            const float steps = value[x] * steps_per_deviation / (deviation + least_deviation);
            out[x] = static_cast<std::int8_t>(std::lround(std::clamp(steps, -127.0F, 127.0F)));
        }
    }
    return sum;
}

}  // namespace

WeaveSignal weave_signal(PictureView photograph, double px_per_cm, int workers, const Progress& progress) {
    WeaveSignal signal;
    while (px_per_cm / (1 << signal.level) >= most_px_per_cm) ++signal.level;
    const GrayPyramid pyramid(photograph, workers, progress.part(0.0, 0.3), Plane::gray,
                              {.finest = 0, .coarsest = signal.level});
    signal.level = std::min(signal.level, pyramid.levels() - 1);  // small ones are not halved as far
    signal.px_per_cm = px_per_cm / (1 << signal.level);
    if (progress.stopped()) return signal;
    const SizePx size = pyramid.size(signal.level);
    signal.values = Raster<std::int8_t>(size.width_px, size.height_px, 1);
    const Boxes boxes{box_for(mean_sigma_cm * signal.px_per_cm, 3), box_for(contrast_sigma_cm * signal.px_per_cm, 2)};
    const int bands = (size.height_px + band_rows - 1) / band_rows;
    std::vector<double> deviations(static_cast<std::size_t>(bands), 0.0);
    for_each_index(
        bands, workers, [&] { return progress.stopped(); },
        [&](int band, int) {
            const int y0 = band * band_rows;
            const int rows = std::min(band_rows, size.height_px - y0);
            deviations[static_cast<std::size_t>(band)] = fill_band(pyramid, y0, rows, boxes, signal);
        });
    for (const double each : deviations) signal.gray_levels += each;
    signal.gray_levels /= static_cast<double>(size.width_px) * size.height_px;
    return signal;
}

}  // namespace tedge::imaging
