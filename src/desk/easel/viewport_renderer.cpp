#include "easel/viewport_renderer.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int node_step = 16;
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

struct Sampler {
    const LevelPatch& patch;
    double to_level;
    double width;  // of the level in pixels
    double height;
    bool sharp;

    // Level pixel centres: a photograph pixel x lies at (x + 0.5)·to_level - 0.5.
    [[nodiscard]] QRgb at(double photo_x, double photo_y) const {
        const double x = (photo_x + 0.5) * to_level - 0.5;
        const double y = (photo_y + 0.5) * to_level - 0.5;
        if (!(x > -0.5 && y > -0.5 && x < width - 0.5 && y < height - 0.5)) return picture_surround.rgb();
        if (sharp) return pixel(static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y)));
        const int x0 = static_cast<int>(std::floor(x));
        const int y0 = static_cast<int>(std::floor(y));
        const auto fx = static_cast<unsigned>((x - x0) * 256);
        const auto fy = static_cast<unsigned>((y - y0) * 256);
        const QRgb top = mix(pixel(x0, y0), pixel(x0 + 1, y0), fx);
        return mix(top, mix(pixel(x0, y0 + 1), pixel(x0 + 1, y0 + 1), fx), fy);
    }

    [[nodiscard]] QRgb pixel(int x, int y) const {
        const int px = std::clamp(x - patch.origin.x(), 0, patch.image.width() - 1);
        const int py = std::clamp(y - patch.origin.y(), 0, patch.image.height() - 1);
        // The patch may end in a tile that is not full: beyond the level its last pixel goes on.
        const int limited_x = std::min(px, static_cast<int>(width) - 1 - patch.origin.x());
        const int limited_y = std::min(py, static_cast<int>(height) - 1 - patch.origin.y());
        return reinterpret_cast<const QRgb*>(patch.image.constScanLine(limited_y))[limited_x];
    }

    [[nodiscard]] static QRgb mix(QRgb a, QRgb b, unsigned share) {
        const unsigned keep = 256 - share;
        const unsigned odd = (((a & 0xFF00FFU) * keep + (b & 0xFF00FFU) * share) >> 8U) & 0xFF00FFU;
        const unsigned green = (((a & 0x00FF00U) * keep + (b & 0x00FF00U) * share) >> 8U) & 0x00FF00U;
        return 0xFF000000U | odd | green;
    }
};

void sample_rows(const NodeGrid& grid, const Sampler& sampler, QImage& image) {
    for (int y = 0; y < image.height(); ++y) {
        auto* out = reinterpret_cast<QRgb*>(image.scanLine(y));
        const int row = y / node_step;
        const double v = static_cast<double>(y % node_step) / node_step;
        const auto between_rows = [&](int column) {
            const PointPx& a = grid.at(column, row);
            const PointPx& b = grid.at(column, row + 1);
            return PointPx{a.x_px + (b.x_px - a.x_px) * v, a.y_px + (b.y_px - a.y_px) * v};
        };
        for (int first = 0; first < image.width(); first += node_step) {
            const PointPx left = between_rows(first / node_step);
            const PointPx right = between_rows(first / node_step + 1);
            const double dx = (right.x_px - left.x_px) / node_step;
            const double dy = (right.y_px - left.y_px) / node_step;
            const int end = std::min(first + node_step, image.width());
            for (int x = first; x < end; ++x) {
                out[x] = sampler.at(left.x_px + dx * (x - first), left.y_px + dy * (x - first));
            }
        }
    }
}

}  // namespace

Rendered render_photograph(TileStore& tiles, const std::filesystem::path& pyramid,
                           const std::optional<Placement>& placement, const ViewFrame& frame, QSize screen) {
    Rendered rendered{QImage(screen, QImage::Format_RGB32), false};
    rendered.image.fill(picture_surround);
    const imaging::PyramidReader* reader = tiles.reader(pyramid);
    if (reader == nullptr || screen.isEmpty()) return rendered;
    const NodeGrid grid = make_grid(placement, frame, screen);
    const double shrink = photo_px_per_screen_px(grid);
    const int level =
        std::clamp(static_cast<int>(std::lround(std::log2(std::max(shrink, 1.0)))), 0, reader->shape().levels - 1);
    const double to_level = 1.0 / (1 << level);
    const LevelPatch patch = level_patch(tiles, pyramid, level, needed_part(grid, to_level));
    if (patch.image.isNull()) {
        rendered.complete = true;  // out of sight
        return rendered;
    }
    const SizePx size = reader->shape().level_size(level);
    const Sampler sampler{patch, to_level, static_cast<double>(size.width_px), static_cast<double>(size.height_px),
                          shrink * sharp_above < 1.0};
    sample_rows(grid, sampler, rendered.image);
    rendered.complete = patch.complete;
    return rendered;
}

}  // namespace tedge::desk
