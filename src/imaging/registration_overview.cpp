#include "registration_overview.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int copy_side = 96;      // of the reference, and of the moving picture laid on it at scale one
constexpr int fourier_side = 192;  // room for shifts of half a side without meeting the far edge
constexpr double farthest_shift = 0.4 * copy_side;

constexpr std::array<double, 5> turns_degrees{0.0, -3.0, 3.0, -6.0, 6.0};
constexpr int scale_steps = 6;  // up and down
constexpr double scale_step = 1.06;

// Chance over all lies tried reached 5.6 on made and real pictures of different paintings.
constexpr double least_significance = 6.0;
constexpr std::size_t most_places = 3;
constexpr double same_place = 0.08;  // of the longer side, at the corners

struct Lie {
    double turn = 0.0;  // radians
    double scale = 1.0;
    bool mirrored = false;
};

std::vector<Lie> all_lies() {
    std::vector<Lie> lies;
    for (const bool mirrored : {false, true}) {
        for (int quarter = 0; quarter < 4; ++quarter) {
            for (const double degrees : turns_degrees) {
                for (int step = -scale_steps; step <= scale_steps; ++step)
                    lies.push_back(
                        {(90.0 * quarter + degrees) / 180.0 * std::numbers::pi, std::pow(scale_step, step), mirrored});
            }
        }
    }
    return lies;
}

double longer_side(SizePx size) {
    return std::max(size.width_px, size.height_px);
}

// Gray at the given longer side.
cv::Mat shrunk(const GrayPyramid& picture, int side) {
    const int level = picture.level_for_side(2 * side);
    const SizePx size = picture.size(level);
    cv::Mat gray(size.height_px, size.width_px, CV_32F);
    picture.read(level, 0, 0, size.width_px, size.height_px, gray.ptr<float>());
    const double share = side / longer_side(size);
    cv::Mat small;
    cv::resize(gray, small,
               {std::max(8, static_cast<int>(std::lround(size.width_px * share))),
                std::max(8, static_cast<int>(std::lround(size.height_px * share)))},
               0, 0, cv::INTER_AREA);
    return small;
}

// (gx + i·gy)² / |g|: the direction of an edge whichever side of it is bright. Evened out, so that a stretcher's edge
// counts for no more than a fold of drapery; zero outside the mask.
cv::Mat edge_directions(const cv::Mat& gray, const cv::Mat& mask) {
    constexpr double smoothing = 1.0;
    constexpr double around = 8.0;
    constexpr double gray_floor = 0.3;
    cv::Mat smooth;
    cv::GaussianBlur(gray, smooth, {}, smoothing);
    cv::Mat gx;
    cv::Mat gy;
    cv::Sobel(smooth, gx, CV_32F, 1, 0, 3, 0.125);
    cv::Sobel(smooth, gy, CV_32F, 0, 1, 3, 0.125);
    cv::Mat length;
    cv::magnitude(gx, gy, length);
    const cv::Mat divisor = length + 1e-3;
    std::array<cv::Mat, 2> parts;
    cv::divide(gx.mul(gx) - gy.mul(gy), divisor, parts[0]);
    cv::divide(2.0 * gx.mul(gy), divisor, parts[1]);
    cv::Mat known;
    cv::GaussianBlur(mask, known, {}, around);
    known += 1e-3;
    cv::Mat power = cv::Mat::zeros(gray.size(), CV_32F);
    for (cv::Mat& part : parts) {
        part = part.mul(mask);
        cv::Mat mean;
        cv::GaussianBlur(part, mean, {}, around);
        part = (part - mean / known).mul(mask);
        power += part.mul(part);
    }
    cv::Mat spread;
    cv::GaussianBlur(power, spread, {}, around);
    cv::sqrt(spread / known, spread);
    for (cv::Mat& part : parts) cv::divide(part, spread + gray_floor, part);
    cv::Mat field;
    cv::merge(parts.data(), parts.size(), field);
    return field;
}

cv::Mat spectrum_of(const cv::Mat& field) {
    cv::Mat padded = cv::Mat::zeros(fourier_side, fourier_side, CV_32FC2);
    field.copyTo(padded(cv::Rect({0, 0}, field.size())));
    cv::dft(padded, padded);
    return padded;
}

// The moving picture turned and enlarged on a square as wide as its diagonal.
class TurnedCopy {
public:
    TurnedCopy(const cv::Mat& gray, const Lie& lie) : side_(side_for(gray.size(), lie)) {
        const double c = std::cos(lie.turn) * lie.scale;
        const double s = std::sin(lie.turn) * lie.scale;
        const double hand = lie.mirrored ? -1.0 : 1.0;
        const double x = 0.5 * (gray.cols - 1);
        const double y = 0.5 * (gray.rows - 1);
        const double middle = 0.5 * (side_ - 1);
        from_gray_ = {c * hand, -s, middle - c * hand * x + s * y, s * hand, c, middle - s * hand * x - c * y};
        const cv::Mat everywhere = cv::Mat::ones(gray.size(), CV_32F);
        cv::Mat mask;
        cv::Mat turned;
        cv::warpAffine(gray, turned, from_gray_, {side_, side_}, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
        cv::warpAffine(everywhere, mask, from_gray_, {side_, side_}, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0.0);
        cv::erode(mask, mask, cv::Mat::ones(5, 5, CV_8U), {-1, -1}, 1, cv::BORDER_CONSTANT, 0.0);
        directions_ = edge_directions(turned, mask);
    }

    [[nodiscard]] cv::Point2d middle() const { return {0.5 * (side_ - 1), 0.5 * (side_ - 1)}; }
    [[nodiscard]] cv::Mat spectrum() const { return spectrum_of(directions_); }
    // Shifted by so much, in pixels of the copies.
    [[nodiscard]] cv::Matx23d map(cv::Point2d shift) const {
        cv::Matx23d shifted = from_gray_;
        shifted(0, 2) += shift.x;
        shifted(1, 2) += shift.y;
        return shifted;
    }

private:
    static int side_for(cv::Size gray, const Lie& lie) {
        const double diagonal = std::hypot(gray.width, gray.height) * lie.scale;
        return std::min(fourier_side, static_cast<int>(std::ceil(diagonal)) + 1);
    }

    int side_;
    cv::Matx23d from_gray_;
    cv::Mat directions_;
};

struct Peak {
    cv::Point2d shift;
    double significance = 0.0;
};

// The highest correlation within reach of lying middle on middle.
Peak highest(const cv::Mat& reference_spectrum, const cv::Mat& moving_spectrum, cv::Point2d middle_on_middle) {
    cv::Mat surface;
    cv::mulSpectrums(reference_spectrum, moving_spectrum, surface, 0, true);
    cv::idft(surface, surface);
    double sum = 0.0;
    double highest = 0.0;
    cv::Point2d at;
    int count = 0;
    const auto first_x = static_cast<int>(std::ceil(middle_on_middle.x - farthest_shift));
    const auto first_y = static_cast<int>(std::ceil(middle_on_middle.y - farthest_shift));
    for (int y = first_y; y <= middle_on_middle.y + farthest_shift; ++y) {
        const auto* row = surface.ptr<cv::Vec2f>((y % fourier_side + fourier_side) % fourier_side);
        for (int x = first_x; x <= middle_on_middle.x + farthest_shift; ++x) {
            const auto value = static_cast<double>(row[(x % fourier_side + fourier_side) % fourier_side][0]);
            sum += value * value;
            ++count;
            if (value > highest) {
                highest = value;
                at = {static_cast<double>(x), static_cast<double>(y)};
            }
        }
    }
    return {at, highest / std::sqrt(std::max(1e-12, sum / std::max(1, count)))};
}

// Pixels of the copies to pixels of the pictures.
Homography of_pictures(const cv::Matx23d& reference_from_moving, SizePx reference, cv::Size reference_copy,
                       SizePx moving, cv::Size moving_copy) {
    const auto enlarged = [](SizePx picture, cv::Size copy) {
        const double x = static_cast<double>(picture.width_px) / copy.width;
        const double y = static_cast<double>(picture.height_px) / copy.height;
        return cv::Matx33d(x, 0, 0.5 * x - 0.5, 0, y, 0.5 * y - 0.5, 0, 0, 1);
    };
    const cv::Matx23d& m = reference_from_moving;
    const cv::Matx33d map = enlarged(reference, reference_copy) *
                            cv::Matx33d(m(0, 0), m(0, 1), m(0, 2), m(1, 0), m(1, 1), m(1, 2), 0, 0, 1) *
                            enlarged(moving, moving_copy).inv();
    std::array<double, 9> values{};
    std::copy_n(map.val, 9, values.begin());
    return Homography::from_row_major(values).value_or(Homography::translation(0.0, 0.0));
}

bool differ(const OverviewPlace& one, const OverviewPlace& other, SizePx reference, SizePx moving) {
    if (one.mirrored != other.mirrored) return true;
    for (const double x : {0.0, moving.width_px - 1.0}) {
        for (const double y : {0.0, moving.height_px - 1.0}) {
            const auto a = one.reference_from_moving.apply(x, y);
            const auto b = other.reference_from_moving.apply(x, y);
            if (std::hypot(a[0] - b[0], a[1] - b[1]) > same_place * longer_side(reference)) return true;
        }
    }
    return false;
}

// Best first, without those that lie where a better one lies.
std::vector<OverviewPlace> best_of(std::vector<OverviewPlace> places, SizePx reference, SizePx moving) {
    std::ranges::stable_sort(places, std::ranges::greater{}, &OverviewPlace::significance);
    std::vector<OverviewPlace> best;
    for (const OverviewPlace& place : places) {
        if (place.significance < least_significance || best.size() == most_places) break;
        if (std::ranges::all_of(best, [&](const auto& better) { return differ(better, place, reference, moving); }))
            best.push_back(place);
    }
    return best;
}

}  // namespace

std::vector<OverviewPlace> places_at_first_sight(const GrayPyramid& reference, const GrayPyramid& moving, int workers,
                                                 const Progress& progress) {
    progress.at(0.0, "looking at the whole");
    const cv::Mat still = shrunk(reference, copy_side);
    const cv::Mat gray = shrunk(moving, copy_side);
    const cv::Mat spectrum = spectrum_of(edge_directions(still, cv::Mat::ones(still.size(), CV_32F)));
    const cv::Point2d middle(0.5 * (still.cols - 1), 0.5 * (still.rows - 1));
    const std::vector<Lie> lies = all_lies();
    std::vector<OverviewPlace> places(lies.size());
    for_each_index(
        static_cast<int>(lies.size()), workers, [&] { return progress.stopped(); },
        [&](int index, int) {
            const auto i = static_cast<std::size_t>(index);
            const TurnedCopy turned(gray, lies[i]);
            const Peak peak = highest(spectrum, turned.spectrum(), middle - turned.middle());
            const Homography map =
                of_pictures(turned.map(peak.shift), reference.size(0), still.size(), moving.size(0), gray.size());
            places[i] = {map, lies[i].mirrored, peak.significance};
        });
    return best_of(std::move(places), reference.size(0), moving.size(0));
}

}  // namespace tedge::imaging
