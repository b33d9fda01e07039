// The search of edge_sharpness.hpp: squares whose gradients all point one way are looked at closely.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include "tedge/imaging/edge_sharpness.hpp"

namespace tedge::imaging {
namespace {

constexpr int tile_px = 8;
constexpr std::array<int, 3> sides_in_tiles{12, 8, 5};
constexpr double one_way = 0.85;  // of the gradients of a square, 0 to 1
constexpr double slant_least = 2.0, slant_most = 30.0;
constexpr std::size_t most_looked_at = 400;
constexpr double least_contrast = 0.3, most_unexplained = 0.05, most_uneven = 0.03;

// Sums of the products of the gradient (of the logarithm of light, so that dark edges count alike).
struct Tensor {
    double xx = 0.0, yy = 0.0, xy = 0.0;

    Tensor& operator+=(const Tensor& other) {
        xx += other.xx;
        yy += other.yy;
        xy += other.xy;
        return *this;
    }
    Tensor& operator-=(const Tensor& other) {
        xx -= other.xx;
        yy -= other.yy;
        xy -= other.xy;
        return *this;
    }
    [[nodiscard]] double energy() const { return xx + yy; }
    [[nodiscard]] double coherence() const { return energy() > 0.0 ? std::hypot(xx - yy, 2.0 * xy) / energy() : 0.0; }
    // Of the edge from the nearest pixel axis.
    [[nodiscard]] double slant_degrees() const {
        const double degrees = 0.5 * std::atan2(2.0 * xy, xx - yy) * 180.0 / std::numbers::pi;  // -90 to 90
        return std::min(std::abs(degrees), 90.0 - std::abs(degrees));
    }
};

// Summed over all tiles above and to the left.
class Tensors {
public:
    explicit Tensors(const Raster16& linear)
        : levels_(65536),
          columns_(linear.width_px() / tile_px),
          rows_(linear.height_px() / tile_px),
          sums_(static_cast<std::size_t>(columns_ + 1) * static_cast<std::size_t>(rows_ + 1)) {
        constexpr double dark_guard = 300.0;
        for (std::size_t i = 0; i < levels_.size(); ++i)
            levels_[i] = static_cast<float>(std::log(static_cast<double>(i) + dark_guard));
        for (int row = 0; row < rows_; ++row) {
            Tensor along;
            for (int column = 0; column < columns_; ++column) {
                along += of_tile(linear, column, row);
                Tensor sum = along;
                sum += at(column + 1, row);
                at(column + 1, row + 1) = sum;
            }
        }
    }
    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }
    [[nodiscard]] Tensor of(int column, int row, int side) const {
        Tensor out = at(column + side, row + side);
        out += at(column, row);
        out -= at(column + side, row);
        out -= at(column, row + side);
        return out;
    }

private:
    [[nodiscard]] Tensor of_tile(const Raster16& linear, int column, int row) const {
        const auto level = [&](int x, int y) { return static_cast<double>(levels_[linear.at(x, y, 1)]); };
        Tensor out;
        const int right = std::min((column + 1) * tile_px, linear.width_px() - 1);
        const int bottom = std::min((row + 1) * tile_px, linear.height_px() - 1);
        for (int y = std::max(1, row * tile_px); y < bottom; ++y)
            for (int x = std::max(1, column * tile_px); x < right; ++x) {
                const double dx = level(x + 1, y) - level(x - 1, y);
                const double dy = level(x, y + 1) - level(x, y - 1);
                out += {dx * dx, dy * dy, dx * dy};
            }
        return out;
    }
    [[nodiscard]] const Tensor& at(int column, int row) const {
        return sums_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_ + 1) +
                     static_cast<std::size_t>(column)];
    }
    [[nodiscard]] Tensor& at(int column, int row) {
        return sums_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_ + 1) +
                     static_cast<std::size_t>(column)];
    }

    std::vector<float> levels_;
    int columns_, rows_;
    std::vector<Tensor> sums_;
};

struct Square {
    BoxPx box;
    double energy = 0.0;
};

// With gradients one way and slanted, the strongest first.
std::vector<Square> promising(const Tensors& tensors, int side) {
    std::vector<Square> out;
    for (int row = 0; row + side <= tensors.rows(); ++row)
        for (int column = 0; column + side <= tensors.columns(); ++column) {
            const Tensor here = tensors.of(column, row, side);
            const double slant = here.slant_degrees();
            if (here.coherence() < one_way || slant < slant_least || slant > slant_most) continue;
            out.push_back({{column * tile_px, row * tile_px, side * tile_px, side * tile_px}, here.energy()});
        }
    const auto stronger = [](const Square& a, const Square& b) {
        return a.energy != b.energy ? a.energy > b.energy
                                    : std::pair(a.box.y_px, a.box.x_px) < std::pair(b.box.y_px, b.box.x_px);
    };
    std::ranges::sort(out, stronger);
    if (out.size() > most_looked_at) out.resize(most_looked_at);
    return out;
}

std::optional<BoxPx> best_of(const ChartPicture& picture, const std::vector<Square>& squares) {
    std::optional<BoxPx> best;
    double best_cycles = 0.0;
    for (const Square& square : squares) {
        const auto edge = edge_sharpness(picture, square.box);
        if (!edge || edge->contrast < least_contrast || edge->unexplained > most_unexplained ||
            edge->uneven_sides > most_uneven || edge->sfr50_cycles_per_px <= best_cycles)
            continue;
        best_cycles = edge->sfr50_cycles_per_px;
        best = square.box;
    }
    return best;
}

}  // namespace

Expected<BoxPx> find_edge(const ChartPicture& picture, const Progress& progress) {
    const Tensors tensors(picture.linear);
    for (std::size_t i = 0; i < sides_in_tiles.size(); ++i) {
        if (progress.stopped()) return cancelled();
        progress.at(0.4 + 0.2 * static_cast<double>(i), "looking for an edge");
        if (const auto best = best_of(picture, promising(tensors, sides_in_tiles[i]))) return *best;
    }
    return fail("sharpness.none-found",
                "No straight, slanted, clean edge was found in the photograph to measure its sharpness by.",
                "Point at one, or photograph a card or a ruler in the plane of the picture, turned by some five "
                "degrees.");
}

}  // namespace tedge::imaging
