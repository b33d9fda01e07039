#include "tedge/imaging/relief_change.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "iso_outline.hpp"
#include "linear_light.hpp"
#include "luminance.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_regions.hpp"
#include "tedge/imaging/registration_error.hpp"

namespace tedge::imaging {
namespace {

constexpr double slow_mm = 10.0, window_mm = 2.0;  // deviations: of what the lamp does, of where energy is averaged
constexpr double fine_px = 1.0;                    // noise of single pixels goes out before anything is squared
constexpr double coarsest_mm_per_px = 1.25;        // four pixels in a cupping of 5 mm
constexpr double floors = 2.0;
constexpr double least_turn = 0.3;
constexpr double most_degrees_apart = 10.0, told_degrees_apart = 2.0;
constexpr float dark_guard = 0.004F;
constexpr double rim_share = 0.3;  // of a window that must count for anything to be said

cv::Mat blurred(const cv::Mat& field, double deviation_px) {
    cv::Mat out;
    cv::GaussianBlur(field, out, {}, deviation_px, deviation_px, cv::BORDER_REFLECT_101);
    return out;
}

// The logarithm of luminance.
cv::Mat log_light(const Raster8& picture) {
    constexpr auto red = static_cast<float>(luminance_weights[0]), green = static_cast<float>(luminance_weights[1]),
                   blue = static_cast<float>(luminance_weights[2]);
    const auto& light = linear_light().from_srgb8;
    cv::Mat out(picture.height_px(), picture.width_px(), CV_32F);
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x) {
            const auto at = [&](int c) { return static_cast<float>(light[picture.at(x, y, c)]) / 65535.0F; };
            float y_light = at(0);
            if (picture.channels() >= 3) y_light = red * at(0) + green * at(1) + blue * at(2);
            out.at<float>(y, x) = std::log(y_light + dark_guard);
        }
    return blurred(out, fine_px);
}

cv::Mat without_slow(const cv::Mat& field, double mm_per_px) {
    return field - blurred(field, slow_mm / mm_per_px);
}

cv::Mat gradient_energy(const cv::Mat& field) {
    const cv::Matx<float, 1, 3> across{-0.5F, 0.0F, 0.5F};
    cv::Mat dx, dy;
    cv::filter2D(field, dx, CV_32F, across);
    cv::filter2D(field, dy, CV_32F, across.t());
    return dx.mul(dx) + dy.mul(dy);
}

// Averages over a window of what counts.
class Window {
public:
    Window(SizePx size, const Raster8* counted, double mm_per_px)
        : deviation_px_(window_mm / mm_per_px), weights_(size.height_px, size.width_px, CV_32F, cv::Scalar(1.0)) {
        if (counted != nullptr)
            for (int y = 0; y < weights_.rows; ++y)
                for (int x = 0; x < weights_.cols; ++x) weights_.at<float>(y, x) = counted->at(x, y) != 0 ? 1.0F : 0.0F;
        support_ = blurred(weights_, deviation_px_);
        known_ = (support_ >= rim_share) & (weights_ > 0.5);
    }
    [[nodiscard]] cv::Mat mean(const cv::Mat& field) const {
        cv::Mat out;
        cv::divide(blurred(field.mul(weights_), deviation_px_), support_, out);
        out.setTo(0.0, ~known_);
        return out;
    }
    [[nodiscard]] const cv::Mat& known() const { return known_; }

private:
    double deviation_px_;
    cv::Mat weights_, support_, known_;
};

double median_root(const cv::Mat& energy, const cv::Mat& known) {
    std::vector<float> values;
    for (int y = 0; y < energy.rows; ++y)
        for (int x = 0; x < energy.cols; ++x)
            if (known.at<std::uint8_t>(y, x) != 0) values.push_back(energy.at<float>(y, x));
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, middle);
    return std::sqrt(std::max(0.0, static_cast<double>(*middle)));
}

Expected<void> check(const Raster8& before, const Raster8& after, const ReliefChangeOptions& options) {
    if (before.empty()) return fail("colour-difference.empty", "There is no pixel to compare.", "Choose two pictures.");
    if (!(before.size() == after.size()))
        return fail("colour-difference.sizes-differ", "The two pictures have different sizes.",
                    "Register the second one to the first, then compare.");
    if (options.counted != nullptr && !(options.counted->size() == before.size()))
        return fail("colour-difference.gate-differs", "The gate has another size than the pictures.",
                    "Make it for these pictures.");
    if (!(options.mm_per_px > 0.0))
        return fail("relief.scale-unknown", "It is not known how large the picture is.",
                    "Place the photographs first.");
    if (options.mm_per_px > coarsest_mm_per_px)
        return fail("relief.too-coarse", "Cupping is a few millimetres wide, and these pictures show less than that.",
                    "Take photographs with at least one pixel to a millimetre.");
    return {};
}

// Square of how far the two lie beside each other, place by place; negative where one of them does not reach.
cv::Mat squared_errors(cv::Size size, const ReliefChangeOptions& options) {
    cv::Mat out(size, CV_32F, cv::Scalar(options.error_px * options.error_px));
    if (options.error_maps.empty()) return out;
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x) {
            const double error =
                error_at(options.error_px, options.error_maps, {static_cast<double>(x), static_cast<double>(y)});
            out.at<float>(y, x) = static_cast<float>(std::copysign(error * error, error));
        }
    return out;
}

cv::Mat change_over_floor(const cv::Mat& first, const cv::Mat& second, const Window& window,
                          const ReliefChangeOptions& options, double& noise) {
    const cv::Mat difference = second - first;
    const cv::Mat energy = window.mean(difference.mul(difference));
    noise = median_root(energy, window.known());
    cv::Mat steepest, over;
    cv::max(window.mean(gradient_energy(first)), window.mean(gradient_energy(second)), steepest);
    const cv::Mat error2 = squared_errors(first.size(), options);
    const cv::Mat floor2 = floors * floors * (noise * noise + error2.mul(steepest));
    cv::divide(energy, floor2 + 1e-12, over);
    cv::sqrt(over, over);
    over.setTo(0.0, ~window.known() | (error2 < 0.0));
    return over;
}

RasterF raster_of(const cv::Mat& field) {
    RasterF out(field.cols, field.rows, 1);
    for (int y = 0; y < field.rows; ++y)
        for (int x = 0; x < field.cols; ++x) out.at(x, y) = field.at<float>(y, x);
    return out;
}

// +1 where the second picture shows just what the first one does and new slopes besides, -1 the other way round.
ReliefTurn turn_of(const cv::Mat& first, const cv::Mat& second, const Raster8& mask) {
    double with = 0.0, of_change = 0.0;
    for (int y = 0; y < first.rows; ++y)
        for (int x = 0; x < first.cols; ++x) {
            if (mask.at(x, y) == 0) continue;
            const auto a = static_cast<double>(first.at<float>(y, x)), b = static_cast<double>(second.at<float>(y, x));
            with += (a + b) * (b - a);
            of_change += (b - a) * (b - a);
        }
    const double turn = of_change > 0.0 ? with / of_change : 0.0;
    return turn > least_turn ? ReliefTurn::stronger : turn < -least_turn ? ReliefTurn::weaker : ReliefTurn::unclear;
}

Expected<void> add_places(ReliefChange& out, const cv::Mat& first, const cv::Mat& second,
                          const Placement& face_from_map, double least_cm2) {
    for (Region& region : outlined_regions(out.change, 1.0F, 100.0 * least_cm2,
                                           [&](PointPx pixel) { return face_from_map.to_face(pixel); })) {
        const auto mask = region_mask(region, face_from_map, out.change.size());
        if (!mask) return pass_on(mask);
        const auto figures = statistics_of(out.change, &*mask);
        const double area_cm2 = region.area_mm2() / 100.0;
        out.places.push_back(
            {std::move(region), area_cm2, turn_of(first, second, *mask), figures ? figures->mean : 0.0});
    }
    return {};
}

}  // namespace

std::string_view to_text(ReliefTurn turn) {
    return turn == ReliefTurn::stronger ? "stronger" : turn == ReliefTurn::weaker ? "weaker" : "unclear";
}

Expected<std::string> lamps_agree(const RakingLamp& before, const RakingLamp& after) {
    if (before.side.empty() || after.side.empty())
        return fail("relief.side-unknown", "It is not recorded from which side the raking light fell.",
                    "Record the side of the lamp with both photographs.");
    if (before.side != after.side)
        return fail("relief.sides-differ",
                    fmt::format("The raking light fell from the {} in one photograph and from the {} in the other: "
                                "other slopes are shaded.",
                                before.side, after.side),
                    "Compare two photographs lit from one side.", {{"before", before.side}, {"after", after.side}});
    if (!before.angle_degrees || !after.angle_degrees)
        return "The angle of the lamp is not known for both: a lower lamp alone makes all relief stronger.";
    const double apart = std::abs(*before.angle_degrees - *after.angle_degrees);
    if (apart > most_degrees_apart)
        return fail("relief.angles-differ", "The lamp stood much lower in one photograph than in the other.",
                    "Compare two photographs with the lamp at like angles.");
    return apart > told_degrees_apart ? "The lamp stood a little lower in one of the two: all relief is stronger there."
                                      : "";
}

Expected<ReliefChange> relief_change(const Raster8& before, const Raster8& after, const Placement& face_from_map,
                                     const ReliefChangeOptions& options, const Progress& progress) {
    auto note = lamps_agree(options.before, options.after);
    if (!note) return pass_on(note);
    if (const auto fine = check(before, after, options); !fine) return pass_on(fine);
    const cv::Mat first = without_slow(log_light(before), options.mm_per_px);
    progress.at(0.3, "comparing relief");
    if (progress.stopped()) return cancelled();
    const cv::Mat second = without_slow(log_light(after), options.mm_per_px);
    progress.at(0.6, "comparing relief");
    if (progress.stopped()) return cancelled();
    const Window window(before.size(), options.counted, options.mm_per_px);
    ReliefChange out;
    out.note = *std::move(note);
    out.change = raster_of(change_over_floor(first, second, window, options, out.noise));
    if (auto done = add_places(out, first, second, face_from_map, options.least_cm2); !done) return pass_on(done);
    progress.at(1.0, "comparing relief");
    return out;
}

}  // namespace tedge::imaging
