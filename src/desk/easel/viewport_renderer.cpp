#include "easel/viewport_renderer.hpp"

#include <algorithm>
#include <cmath>
#include <thread>
#include <vector>

#include "easel/tile_sampler.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int node_step = 32;
constexpr int most_threads = 4;
constexpr double sharp_above = 4.0;  // screen pixels a photograph pixel covers before its square is shown

// Photograph pixels at the nodes of a grid over the screen.
struct NodeGrid {
    int columns = 0;
    int rows = 0;
    std::vector<PointPx> nodes;
    [[nodiscard]] const PointPx& at(int column, int row) const {
        return nodes[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                     static_cast<std::size_t>(column)];
    }
};

NodeGrid make_grid(const std::optional<Placement>& placement, const ViewFrame& frame, QSize screen) {
    NodeGrid grid;
    grid.columns = screen.width() / node_step + 2;
    grid.rows = screen.height() / node_step + 2;
    const Homography photo_from_face = placement ? placement->face_from_photo.inverse() : Homography();
    for (int row = 0; row < grid.rows; ++row) {
        for (int column = 0; column < grid.columns; ++column) {
            const PointMm p = frame.to_face(QPointF(column * node_step + 0.5, row * node_step + 0.5));
            PointPx pixel{p.x_mm - 0.5, p.y_mm - 0.5};
            if (placement) {
                const auto exact = placement->to_photo(p);
                const auto plain = photo_from_face.apply(p.x_mm, p.y_mm);
                pixel = exact ? *exact : PointPx{plain[0], plain[1]};
            }
            grid.nodes.push_back(pixel);
        }
    }
    return grid;
}

// Photograph pixels for one screen pixel, in the middle of the view.
double photo_px_per_screen_px(const NodeGrid& grid) {
    const int c = grid.columns / 2 - (grid.columns > 2 ? 1 : 0);
    const int r = grid.rows / 2;
    const PointPx a = grid.at(c, r);
    const PointPx b = grid.at(c + 1, r);
    return std::hypot(b.x_px - a.x_px, b.y_px - a.y_px) / node_step;
}

QRect needed_part(const NodeGrid& grid, double to_level) {
    double left = 1e18, top = 1e18, right = -1e18, bottom = -1e18;
    for (const PointPx& p : grid.nodes) {
        left = std::min(left, p.x_px);
        right = std::max(right, p.x_px);
        top = std::min(top, p.y_px);
        bottom = std::max(bottom, p.y_px);
    }
    const auto bounded = [](double v) { return static_cast<int>(std::clamp(v, -1e6, 1e6)); };
    return {QPoint(bounded(left * to_level) - 2, bounded(top * to_level) - 2),
            QPoint(bounded(right * to_level) + 2, bounded(bottom * to_level) + 2)};
}

void sample_rows(const NodeGrid& grid, const TileSampler& sampler, QRgb* bits, QSize screen, int first_row,
                 int end_row) {
    for (int y = first_row; y < end_row; ++y) {
        QRgb* out = bits + static_cast<std::ptrdiff_t>(y) * screen.width();
        const int row = y / node_step;
        const double v = static_cast<double>(y % node_step) / node_step;
        const auto between_rows = [&](int column) {
            const PointPx& a = grid.at(column, row);
            const PointPx& b = grid.at(column, row + 1);
            return PointPx{a.x_px + (b.x_px - a.x_px) * v, a.y_px + (b.y_px - a.y_px) * v};
        };
        for (int first = 0; first < screen.width(); first += node_step) {
            const PointPx left = between_rows(first / node_step);
            const PointPx right = between_rows(first / node_step + 1);
            sampler.run(left, {(right.x_px - left.x_px) / node_step, (right.y_px - left.y_px) / node_step},
                        std::min(node_step, screen.width() - first), out + first);
        }
    }
}

// Bands of rows, one a thread: every pixel is reckoned alone, so their number changes nothing.
void sample(const NodeGrid& grid, const TileSampler& sampler, QImage& image) {
    const int threads = std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, most_threads);
    auto* bits = reinterpret_cast<QRgb*>(image.bits());  // 32 bits a pixel: no gap between rows
    const auto row_of = [&](int band) { return image.height() * band / threads; };
    std::vector<std::jthread> others;
    for (int band = 1; band < threads; ++band) {
        others.emplace_back(
            [&, band] { sample_rows(grid, sampler, bits, image.size(), row_of(band), row_of(band + 1)); });
    }
    sample_rows(grid, sampler, bits, image.size(), 0, row_of(1));
}

}  // namespace

Rendered render_photograph(TileStore& tiles, const std::filesystem::path& pyramid,
                           const std::optional<Placement>& placement, const ViewFrame& frame, QSize screen) {
    Rendered rendered{QImage(screen, QImage::Format_RGB32), false};
    const imaging::PyramidReader* reader = tiles.reader(pyramid);
    if (reader == nullptr || screen.isEmpty()) {
        rendered.image.fill(picture_surround);
        return rendered;
    }
    const NodeGrid grid = make_grid(placement, frame, screen);
    const double shrink = photo_px_per_screen_px(grid);
    const int level =
        std::clamp(static_cast<int>(std::lround(std::log2(std::max(shrink, 1.0)))), 0, reader->shape().levels - 1);
    const double to_level = 1.0 / (1 << level);
    const TileGrid seen = tiles_in_sight(tiles, pyramid, level, needed_part(grid, to_level));
    rendered.complete = seen.complete;
    if (seen.all.empty()) {
        rendered.image.fill(picture_surround);
        return rendered;
    }
    const TileSampler sampler(seen, to_level, shrink * sharp_above < 1.0);
    sample(grid, sampler, rendered.image);
    return rendered;
}

}  // namespace tedge::desk
