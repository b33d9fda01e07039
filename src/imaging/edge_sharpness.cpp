#include "tedge/imaging/edge_sharpness.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace tedge::imaging {
namespace {

constexpr int least_side = 20;
constexpr int oversampling = 4;
constexpr double least_contrast = 0.2;
constexpr double least_degrees = 2.0;
constexpr double most_degrees = 30.0;
constexpr double straight_px = 0.5;

// Rows cross the edge: for a level edge the box is transposed.
struct Region {
    int width = 0;
    int height = 0;
    std::vector<double> light;
    [[nodiscard]] double at(int x, int y) const {
        return light[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
};

Region region_of(const Raster16& linear, const BoxPx& box, bool transposed) {
    Region out{.width = transposed ? box.height_px : box.width_px,
               .height = transposed ? box.width_px : box.height_px,
               .light = {}};
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            out.light.push_back(transposed ? linear.at(box.x_px + y, box.y_px + x, 1)
                                           : linear.at(box.x_px + x, box.y_px + y, 1));
    return out;
}

// Mean change from column to column, and from row to row: the larger runs across the edge.
bool edge_is_level(const Region& region) {
    double across = 0.0;
    double down = 0.0;
    for (int y = 0; y + 1 < region.height; ++y)
        for (int x = 0; x + 1 < region.width; ++x) {
            across += std::abs(region.at(x + 1, y) - region.at(x, y));
            down += std::abs(region.at(x, y + 1) - region.at(x, y));
        }
    return down > across;
}

double hamming(double from_centre, double half_width) {
    if (std::abs(from_centre) > half_width) return 0.0;
    return 0.54 + 0.46 * std::cos(std::numbers::pi * from_centre / half_width);
}

// x of the edge at row y: offset + slope · y.
struct Line {
    double offset = 0.0;
    double slope = 0.0;
    double misfit = 0.0;  // px, root mean square
};

double centroid(const Region& region, int y, double around, double half_width) {
    double sum = 0.0;
    double moment = 0.0;
    for (int x = 0; x + 1 < region.width; ++x) {
        const double weight = hamming(x + 0.5 - around, half_width);
        const double slope = (region.at(x + 1, y) - region.at(x, y)) * weight;
        sum += slope;
        moment += slope * (x + 0.5);
    }
    return std::abs(sum) > 1e-9 ? moment / sum : -1.0;
}

Line through(const std::vector<double>& x_of_row) {
    double n = 0.0, sy = 0.0, sx = 0.0, syy = 0.0, sxy = 0.0;
    for (std::size_t i = 0; i < x_of_row.size(); ++i) {
        const auto y = static_cast<double>(i);
        n += 1.0;
        sy += y;
        sx += x_of_row[i];
        syy += y * y;
        sxy += y * x_of_row[i];
    }
    Line line;
    line.slope = (n * sxy - sy * sx) / (n * syy - sy * sy);
    line.offset = (sx - line.slope * sy) / n;
    for (std::size_t i = 0; i < x_of_row.size(); ++i)
        line.misfit += std::pow(x_of_row[i] - line.offset - line.slope * static_cast<double>(i), 2) / n;
    line.misfit = std::sqrt(line.misfit);
    return line;
}

Line edge_line(const Region& region) {
    Line line{.offset = region.width / 2.0};
    double half_width = region.width;
    for (int round = 0; round < 3; ++round) {
        std::vector<double> rows;
        rows.reserve(static_cast<std::size_t>(region.height));
        for (int y = 0; y < region.height; ++y)
            rows.push_back(centroid(region, y, line.offset + line.slope * y, half_width));
        line = through(rows);
        half_width = std::max(8.0, region.width / 4.0);
    }
    return line;
}

// Light against the distance from the edge, in quarter pixels; the distance is measured square to the edge.
std::vector<double> edge_profile(const Region& region, const Line& line, int half_bins) {
    std::vector<double> sum(static_cast<std::size_t>(2 * half_bins), 0.0);
    std::vector<double> count(sum.size(), 0.0);
    const double square = 1.0 / std::hypot(1.0, line.slope);
    for (int y = 0; y < region.height; ++y)
        for (int x = 0; x < region.width; ++x) {
            const double distance = (x - line.offset - line.slope * y) * square;
            const auto bin = static_cast<int>(std::floor(distance * oversampling)) + half_bins;
            if (bin < 0 || bin >= 2 * half_bins) continue;
            sum[static_cast<std::size_t>(bin)] += region.at(x, y);
            count[static_cast<std::size_t>(bin)] += 1.0;
        }
    // Bins that no pixel reaches, at either end where the edge slants, carry on what lies beside them.
    double last = 0.0;
    for (std::size_t i = sum.size(); i-- > 0;)
        if (count[i] > 0.0) last = sum[i] / count[i];
    for (std::size_t i = 0; i < sum.size(); ++i) {
        if (count[i] > 0.0) last = sum[i] / count[i];
        sum[i] = last;
    }
    return sum;
}

// |Fourier transform| of the windowed slope, made good for the two-sided difference that took it.
std::vector<double> response_of(const std::vector<double>& profile) {
    std::vector<double> slope(profile.size(), 0.0);
    const double middle = static_cast<double>(profile.size()) / 2.0 - 0.5;
    for (std::size_t i = 1; i + 1 < profile.size(); ++i)
        slope[i] = (profile[i + 1] - profile[i - 1]) * hamming(static_cast<double>(i) - middle, middle);
    std::vector<double> response;
    for (int k = 0; k <= 32; ++k) {
        const double frequency = k / 64.0 / oversampling;  // cycles a bin
        std::complex<double> sum = 0.0;
        for (std::size_t i = 0; i < slope.size(); ++i)
            sum += slope[i] * std::polar(1.0, -2.0 * std::numbers::pi * frequency * static_cast<double>(i));
        // A difference over two bins and a bin's own width weaken high frequencies.
        const double over_two = 2.0 * std::numbers::pi * frequency;
        const double over_one = std::numbers::pi * frequency;
        const double lost = k == 0 ? 1.0 : std::sin(over_two) / over_two * std::sin(over_one) / over_one;
        response.push_back(std::abs(sum) / lost);
    }
    const double whole = response.front();
    for (double& value : response) value /= whole;
    return response;
}

// Of a part of the profile: its mean and its root mean square departure from that.
struct Side {
    double mean = 0.0;
    double departure = 0.0;
};

Side side_of(const std::vector<double>& profile, int from, int past) {
    Side side;
    const double count = std::max(1, past - from);
    for (int i = from; i < past; ++i) side.mean += profile[static_cast<std::size_t>(i)] / count;
    for (int i = from; i < past; ++i)
        side.departure += std::pow(profile[static_cast<std::size_t>(i)] - side.mean, 2) / count;
    side.departure = std::sqrt(side.departure);
    return side;
}

// Sides begin a quarter of the box from the edge and end before the bins that slanting leaves half filled.
void judge_box(const Region& region, const Line& line, const std::vector<double>& profile, EdgeSharpness& out) {
    const int middle = static_cast<int>(profile.size()) / 2;
    const int near = region.width * oversampling / 4, far = region.width * oversampling * 2 / 5;
    const Side left = side_of(profile, middle - far, middle - near),
               right = side_of(profile, middle + near, middle + far);
    const double step = std::max(1.0, std::abs(right.mean - left.mean));
    out.contrast = step / std::max({1.0, left.mean, right.mean});
    out.uneven_sides = std::max(left.departure, right.departure) / step;
    const double square = 1.0 / std::hypot(1.0, line.slope);
    double sum = 0.0;
    for (int y = 0; y < region.height; ++y)
        for (int x = 0; x < region.width; ++x) {
            const double bins = (x - line.offset - line.slope * y) * square * oversampling;
            const int bin = std::clamp(static_cast<int>(std::floor(bins)) + middle, 0, 2 * middle - 1);
            sum += std::pow(region.at(x, y) - profile[static_cast<std::size_t>(bin)], 2);
        }
    out.unexplained = std::sqrt(sum / static_cast<double>(region.light.size())) / step;
}

double falls_to(const std::vector<double>& response, double level) {
    for (std::size_t k = 1; k < response.size(); ++k) {
        if (response[k] > level) continue;
        const double part = (response[k - 1] - level) / (response[k - 1] - response[k]);
        return (static_cast<double>(k - 1) + part) / 64.0;
    }
    return 0.5;
}

std::unexpected<Error> no_edge() {
    return fail("sharpness.no-edge", "There is no single straight edge in this part of the photograph.",
                "Mark a part with one straight edge, dark on one side and light on the other.");
}

}  // namespace

Expected<EdgeSharpness> edge_sharpness(const ChartPicture& picture, const BoxPx& box) {
    const Raster16& linear = picture.linear;
    if (!box.lies_in(picture.linear.size(), least_side))
        return fail("sharpness.box", "The part marked is too small or lies outside the photograph.",
                    "Mark a part of at least 20 by 20 pixels.");
    Region region = region_of(linear, box, false);
    if (edge_is_level(region)) region = region_of(linear, box, true);
    const auto [low, high] = std::ranges::minmax(region.light);
    if (high >= clipped_from)
        return fail("sharpness.clipped", "The light side of the edge is overexposed.", "Expose less.");
    if (high - low < least_contrast * high) return no_edge();
    const Line line = edge_line(region);
    if (!(line.misfit < straight_px) || line.offset + line.slope * region.height / 2.0 < 8.0 ||
        line.offset + line.slope * region.height / 2.0 > region.width - 8.0)
        return no_edge();
    const double degrees = std::abs(std::atan(line.slope)) * 180.0 / std::numbers::pi;
    if (degrees < least_degrees || degrees > most_degrees)
        return fail("sharpness.angle", "The edge is not slanted enough, or too much, to measure sharpness by.",
                    "Turn the edge by about five degrees against the camera.");
    const std::vector<double> profile = edge_profile(region, line, region.width * 2);
    EdgeSharpness out{.edge_degrees = degrees, .response = response_of(profile)};
    judge_box(region, line, profile, out);
    out.sfr50_cycles_per_px = falls_to(out.response, 0.5);
    out.sfr10_cycles_per_px = falls_to(out.response, 0.1);
    out.sampling_efficiency_percent = 100.0 * out.sfr10_cycles_per_px / 0.5;
    out.highest_response = std::ranges::max(out.response);
    return out;
}

}  // namespace tedge::imaging
