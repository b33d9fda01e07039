#include "tedge/imaging/crack_figures.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "crack_islands.hpp"
#include "crack_profile.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t chord_px = 4;  // to either side, on the smoothed line: finer than the few directions of the grid
constexpr double least_island_px2 = 25.0;

double length_of_one(const Crack& crack) {
    return crack.length_px / static_cast<double>(crack.pixels.size());
}

// 0 to 180, counted from the rows towards upright.
double degrees_at(const std::vector<PointPx>& line, std::size_t i) {
    const PointPx before = line[i < chord_px ? 0 : i - chord_px];
    const PointPx after = line[std::min(i + chord_px, line.size() - 1)];
    const double degrees = std::atan2(before.y_px - after.y_px, after.x_px - before.x_px) * 180.0 / std::numbers::pi;
    const double turned = degrees < 0.0 ? degrees + 180.0 : degrees;
    return turned >= 180.0 ? turned - 180.0 : turned;
}

std::vector<PointPx> line_of(const Crack& crack) {
    std::vector<PixelXY> pixels;
    for (const CrackPixel& pixel : crack.pixels) pixels.push_back(pixel.at);
    return smoothed(pixels);
}

CrackDirections directions_of(const CrackMap& map) {
    CrackDirections out;
    std::complex<double> doubled;
    std::complex<double> fourfold;
    double all = 0.0;
    for (const Crack& crack : map.cracks) {
        const double length = length_of_one(crack);
        const auto line = line_of(crack);
        for (std::size_t i = 0; i < line.size(); ++i) {
            const double degrees = degrees_at(line, i);
            const double angle = degrees * std::numbers::pi / 180.0;
            out.length_px[std::min(crack_directions - 1, static_cast<std::size_t>(degrees / 5.0))] += length;
            doubled += std::polar(length, 2 * angle);
            fourfold += std::polar(length, 4 * angle);
            all += length;
        }
    }
    if (all <= 0.0) return out;
    out.directed = std::abs(doubled) / all;
    out.crossed = std::abs(fourfold) / all;
    const double main = std::arg(doubled) / 2 * 180.0 / std::numbers::pi;
    out.main_degrees = main < 0.0 ? main + 180.0 : main;
    return out;
}

// The value at which half the weight is reached.
double weighted_median(std::vector<std::pair<float, double>> values) {
    std::ranges::sort(values);
    double all = 0.0;
    for (const auto& [value, weight] : values) all += weight;
    double so_far = 0.0;
    for (const auto& [value, weight] : values)
        if ((so_far += weight) >= all / 2) return static_cast<double>(value);
    return 0.0;
}

double median_by_length(const CrackMap& map, float CrackPixel::* what) {
    std::vector<std::pair<float, double>> values;
    for (const Crack& crack : map.cracks)
        for (const CrackPixel& pixel : crack.pixels) values.emplace_back(pixel.*what, length_of_one(crack));
    return weighted_median(std::move(values));
}

double quantile(const std::vector<double>& sorted, double share) {
    const double place = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return std::lerp(sorted[below], sorted[above], place - static_cast<double>(below));
}

IslandSizes islands_of(const CrackMap& map, const Raster8* counted, double counted_px) {
    auto areas = closed_areas_px2(crack_lines(map), counted);
    std::erase_if(areas, [](double area) { return area < least_island_px2; });
    if (areas.empty()) return {};
    std::ranges::sort(areas);
    double sum = 0.0;
    for (const double area : areas) sum += area;
    return {areas.size(), quantile(areas, 0.25), quantile(areas, 0.5), quantile(areas, 0.75), sum / counted_px};
}

// Squares from the top left corner, the last of a row or column perhaps cut.
class Squares {
public:
    Squares(SizePx size, double side_px)
        : side_px_(side_px),
          columns_(static_cast<int>(std::ceil(size.width_px / side_px))),
          rows_(static_cast<int>(std::ceil(size.height_px / side_px))) {
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column) squares_.push_back({column, row, 0.0, 0.0});
    }

    CrackSquare& at(PixelXY pixel) {
        const int column = std::min(columns_ - 1, static_cast<int>(pixel.x / side_px_));
        const int row = std::min(rows_ - 1, static_cast<int>(pixel.y / side_px_));
        return squares_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                        static_cast<std::size_t>(column)];
    }

    std::vector<CrackSquare> looked_at() {
        std::erase_if(squares_, [](const CrackSquare& square) { return square.counted_px <= 0.0; });
        return std::move(squares_);
    }

private:
    double side_px_;
    int columns_;
    int rows_;
    std::vector<CrackSquare> squares_;
};

void fill_squares(const CrackMap& map, const Raster8* counted, CrackFigures& out) {
    Squares squares(map.size, out.square_px);
    for (int y = 0; y < map.size.height_px; ++y)
        for (int x = 0; x < map.size.width_px; ++x)
            if (counted == nullptr || counted->at(x, y) != 0) squares.at({x, y}).counted_px += 1.0;
    for (const Crack& crack : map.cracks)
        for (const CrackPixel& pixel : crack.pixels) squares.at(pixel.at).length_px += length_of_one(crack);
    out.squares = squares.looked_at();
}

// px/px² is 1/px; times px per mm, and a hundred square millimetres to the square centimetre.
double density(double length_px, double area_px2, double px_per_mm) {
    return area_px2 > 0.0 ? 100.0 * px_per_mm * length_px / area_px2 : 0.0;
}

}  // namespace

std::optional<double> CrackFigures::length_mm() const {
    if (!px_per_mm) return std::nullopt;
    return length_px / *px_per_mm;
}

std::optional<double> CrackFigures::density_mm_per_cm2() const {
    if (!px_per_mm) return std::nullopt;
    return density(length_px, counted_px, *px_per_mm);
}

std::optional<double> CrackFigures::density_mm_per_cm2(const CrackSquare& square) const {
    if (!px_per_mm) return std::nullopt;
    return density(square.length_px, square.counted_px, *px_per_mm);
}

Expected<CrackFigures> crack_figures(const CrackMap& map, const CrackFigureOptions& options) {
    CrackFigures out;
    out.px_per_mm = options.px_per_mm;
    out.drawn_share = map.drawn_share;
    out.square_px = options.px_per_mm ? options.square_mm * *options.px_per_mm : options.square_px;
    if (!(out.square_px >= 1.0) || (options.px_per_mm && !(*options.px_per_mm > 0.0)))
        return fail("cracks.options", "A scale and the side of a square lie above nothing.", "Give other ones.");
    if (options.counted != nullptr && (!(options.counted->size() == map.size) || options.counted->channels() != 1))
        return fail("cracks.gate-differs", "The part to look at has another size than the picture.",
                    "Make it for this picture.");
    fill_squares(map, options.counted, out);
    for (const CrackSquare& square : out.squares) out.counted_px += square.counted_px;
    for (const Crack& crack : map.cracks) out.length_px += crack.length_px;
    out.median_width_px = median_by_length(map, &CrackPixel::width_px);
    out.median_depth = median_by_length(map, &CrackPixel::depth);
    out.directions = directions_of(map);
    out.islands = islands_of(map, options.counted, out.counted_px);
    return out;
}

}  // namespace tedge::imaging
