#include "forecast_pairs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <opencv2/imgproc.hpp>

#include "encoded_light.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr int least_side_px = 8;
constexpr int margin_px = 2;       // edges of a window are soft, and the two photographs lie a little beside each other
constexpr double beside_px = 0.7;  // about how far, for what that does to a square on a slope of brightness
constexpr double squares_wanted = 100.0;
constexpr int least_square_px = 3;  // smaller ones show how the photographs lie beside each other, and little else
constexpr int largest_square_px = 24;
constexpr std::size_t squares_for_quarters = 32;

struct Box {
    int left = std::numeric_limits<int>::max();
    int top = std::numeric_limits<int>::max();
    int right = 0;  // one beyond
    int bottom = 0;
    std::size_t pixels = 0;
};

std::map<int, Box> boxes_of(const Raster8& windows) {
    std::map<int, Box> boxes;
    for (int y = 0; y < windows.height_px(); ++y) {
        const std::uint8_t* row = windows.row(y);
        for (int x = 0; x < windows.width_px(); ++x) {
            if (row[x] == 0) continue;
            Box& box = boxes[row[x]];
            box.left = std::min(box.left, x);
            box.right = std::max(box.right, x + 1);
            box.top = std::min(box.top, y);
            box.bottom = y + 1;
            ++box.pixels;
        }
    }
    return boxes;
}

// Where the window holds with its margin, over its box; 255 inside.
cv::Mat inside_of(const Raster8& windows, int number, const Box& box) {
    const int border = margin_px;
    cv::Mat mask = cv::Mat::zeros(box.bottom - box.top + 2 * border, box.right - box.left + 2 * border, CV_8U);
    for (int y = box.top; y < box.bottom; ++y)
        for (int x = box.left; x < box.right; ++x)
            if (windows.at(x, y) == number) mask.at<std::uint8_t>(y - box.top + border, x - box.left + border) = 255;
    const cv::Mat square = cv::getStructuringElement(cv::MORPH_RECT, {2 * margin_px + 1, 2 * margin_px + 1});
    cv::erode(mask, mask, square, {-1, -1}, 1, cv::BORDER_CONSTANT, cv::Scalar(0));
    return mask(cv::Rect(border, border, box.right - box.left, box.bottom - box.top)).clone();
}

// Sums over one square.
template <class T>
class Square {
public:
    void add(const T* uncleaned, const T* cleaned, double across, double down) {
        const auto& light = light_of_encoded<T>();
        constexpr T top = std::numeric_limits<T>::max();
        constexpr T burnt = top - top / 128;
        ++seen_;
        for (int c = 0; c < 3; ++c)
            if (uncleaned[c] >= burnt || cleaned[c] >= burnt) return;
        ++good_;
        for (std::size_t c = 0; c < 3; ++c) {
            const auto after = static_cast<double>(light[cleaned[c]]);
            before_[c] += static_cast<double>(light[uncleaned[c]]);
            after_[c] += after;
            across_[c] += across * after;
            down_[c] += down * after;
        }
    }
    [[nodiscard]] int seen() const { return seen_; }
    [[nodiscard]] int good() const { return good_; }

    // A square of `side` pixels that lies beside_px off loses a strip on one side and gains one on the other.
    [[nodiscard]] SeenTwice mean(int side) const {
        SeenTwice out;
        double worst = 0.0;
        for (std::size_t c = 0; c < 3; ++c) {
            out.uncleaned[c] = before_[c] / good_;
            out.cleaned[c] = after_[c] / good_;
            // Least squares over a full square: variance of the place is side²/12.
            const double per_px = 12.0 / (good_ * static_cast<double>(side) * side);
            const double slope = std::hypot(across_[c], down_[c]) * per_px;
            worst = std::max(worst, slope * 38.7 / std::pow(out.cleaned[c] + 0.003, 2.0 / 3.0));
        }
        out.misfit = beside_px * worst;
        return out;
    }

private:
    Light3 before_{}, after_{}, across_{}, down_{};
    int seen_ = 0;
    int good_ = 0;
};

double colour_change(const SeenTwice& place) {
    const auto lab = [](const Light3& light) {
        return lab_from_xyz(xyz_from_linear_srgb({light[0], light[1], light[2]}));
    };
    return delta_e00(lab(place.uncleaned), lab(place.cleaned));
}

template <class T>
class WindowReader {
public:
    WindowReader(const Raster<T>& uncleaned, const Raster<T>& cleaned, cv::Mat inside, const Box& box)
        : uncleaned_(uncleaned), cleaned_(cleaned), inside_(std::move(inside)), box_(box) {}

    WindowPairs read(int number) {
        out_.window.number = number;
        out_.window.pixels = box_.pixels;
        const int held = cv::countNonZero(inside_);
        if (std::min(inside_.cols, inside_.rows) < least_side_px || held < (least_side_px - 2 * margin_px) * 8) {
            refuse(WindowTrouble::too_small, "It is too small to be measured.");
            return std::move(out_);
        }
        side_ = std::clamp(static_cast<int>(std::sqrt(held / squares_wanted)), least_square_px, largest_square_px);
        for (int top = 0; top + side_ <= inside_.rows; top += side_)
            for (int left = 0; left + side_ <= inside_.cols; left += side_) add_square(left, top);
        finish();
        return std::move(out_);
    }

private:
    void refuse(WindowTrouble trouble, std::string why) {
        out_.window.trouble = trouble;
        out_.window.why_not = std::move(why);
    }

    void add_square(int left, int top) {
        Square<T> square;
        const double middle = 0.5 * (side_ - 1);
        for (int y = 0; y < side_; ++y)
            for (int x = 0; x < side_; ++x) {
                if (inside_.at<std::uint8_t>(top + y, left + x) == 0) continue;
                const int at_x = box_.left + left + x;
                const int at_y = box_.top + top + y;
                square.add(&uncleaned_.at(at_x, at_y), &cleaned_.at(at_x, at_y), x - middle, y - middle);
            }
        seen_ += square.seen();
        good_ += square.good();
        if (2 * square.good() < side_ * side_) return;
        out_.places.push_back(square.mean(side_));
        at_.push_back({box_.left + left + middle, box_.top + top + middle});
    }

    void finish() {
        if (2 * good_ < seen_) return refuse(WindowTrouble::burnt_out, "More than half of it is burnt out.");
        if (out_.places.size() < 8) return refuse(WindowTrouble::too_small, "It is too small to be measured.");
        for (const SeenTwice& each : out_.places)
            out_.window.seen_change += colour_change(each) / static_cast<double>(out_.places.size());
        divide();
        out_.window.used = true;
    }

    // Into quarters, each with a thickness of its own, and into halves along the longer side.
    void divide() {
        PointPx middle{};
        for (const PointPx& at : at_) {
            middle.x_px += at.x_px / static_cast<double>(at_.size());
            middle.y_px += at.y_px / static_cast<double>(at_.size());
        }
        const bool wide = inside_.cols >= inside_.rows;
        const bool quarters = at_.size() >= squares_for_quarters;
        std::array<double, 4> count{};
        std::array<PointPx, 4> sum{};
        std::array<std::size_t, 4> patch_of_quarter{};
        std::vector<std::size_t> quarter(at_.size());
        for (std::size_t i = 0; i < at_.size(); ++i) {
            const bool right = at_[i].x_px > middle.x_px;
            const bool below = at_[i].y_px > middle.y_px;
            out_.half.push_back((wide ? right : below) ? 1 : 0);
            quarter[i] = quarters ? (right ? 1U : 0U) + (below ? 2U : 0U) : 0U;
            count[quarter[i]] += 1.0;
            sum[quarter[i]].x_px += at_[i].x_px;
            sum[quarter[i]].y_px += at_[i].y_px;
        }
        for (std::size_t q = 0; q < 4; ++q) {
            if (count[q] == 0.0) continue;
            patch_of_quarter[q] = out_.middles.size();
            out_.middles.push_back({sum[q].x_px / count[q], sum[q].y_px / count[q]});
        }
        for (std::size_t i = 0; i < at_.size(); ++i) out_.places[i].patch = patch_of_quarter[quarter[i]];
    }

    const Raster<T>& uncleaned_;
    const Raster<T>& cleaned_;
    cv::Mat inside_;
    Box box_;
    WindowPairs out_;
    std::vector<PointPx> at_;
    int side_ = 2;
    int seen_ = 0;
    int good_ = 0;
};

}  // namespace

template <class T>
std::vector<WindowPairs> pairs_in_windows(const Raster<T>& uncleaned, const Raster<T>& cleaned, const Raster8& windows,
                                          const Progress& progress) {
    std::vector<WindowPairs> out;
    for (const auto& [number, box] : boxes_of(windows)) {
        if (progress.stopped()) return out;
        out.push_back(WindowReader<T>(uncleaned, cleaned, inside_of(windows, number, box), box).read(number));
    }
    return out;
}

template std::vector<WindowPairs> pairs_in_windows(const Raster8&, const Raster8&, const Raster8&, const Progress&);
template std::vector<WindowPairs> pairs_in_windows(const Raster16&, const Raster16&, const Raster8&, const Progress&);

}  // namespace tedge::imaging
