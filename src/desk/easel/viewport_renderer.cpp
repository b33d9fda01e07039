#include "easel/viewport_renderer.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <thread>
#include <vector>

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

QRgb mix(QRgb a, QRgb b, unsigned share) {
    const unsigned keep = 256 - share;
    const unsigned odd = (((a & 0xFF00FFU) * keep + (b & 0xFF00FFU) * share) >> 8U) & 0xFF00FFU;
    const unsigned green = (((a & 0x00FF00U) * keep + (b & 0x00FF00U) * share) >> 8U) & 0x00FF00U;
    return 0xFF000000U | odd | green;
}

// Pixels of a level between their centres, from its patch. Level pixel centres: a photograph pixel x lies at
// (x + 0.5)·to_level - 0.5.
class Sampler {
public:
    Sampler(const LevelPatch& patch, double to_level, SizePx level, bool sharp)
        : bits_(reinterpret_cast<const QRgb*>(patch.image.constBits())),
          stride_(patch.image.bytesPerLine() / static_cast<qsizetype>(sizeof(QRgb))),
          origin_(patch.origin),
          in_patch_(QRect(patch.origin, patch.image.size())
                        .intersected(QRect(0, 0, level.width_px, level.height_px))
                        .translated(-patch.origin)),
          level_(level),
          to_level_(to_level),
          sharp_(sharp) {}

    // `count` pixels from photograph pixel `from` on, `step` apart.
    void run(PointPx from, PointPx step, int count, QRgb* out) const {
        const double x = (from.x_px + 0.5) * to_level_ - 0.5 - origin_.x();
        const double y = (from.y_px + 0.5) * to_level_ - 0.5 - origin_.y();
        const double dx = step.x_px * to_level_;
        const double dy = step.y_px * to_level_;
        if (!sharp_ && is_inside(x, y) && is_inside(x + dx * count, y + dy * count)) {
            run_inside(x, y, dx, dy, count, out);
        } else {
            for (int i = 0; i < count; ++i) out[i] = at(x + dx * i, y + dy * i);
        }
    }

private:
    // With the neighbours at the right and below; the patch is one box, so what lies between two such points is too.
    [[nodiscard]] bool is_inside(double x, double y) const {
        return x >= in_patch_.left() && y >= in_patch_.top() && x < in_patch_.right() && y < in_patch_.bottom();
    }

    // In fixed point of 16 bits after the point, of which the upper 8 weigh. Both pixels of a row at once: eight
    // channels of 16 bits, in which 255 · 256 has room.
    void run_inside(double x, double y, double dx, double dy, int count, QRgb* out) const {
        constexpr double one = 65536.0;
        auto fixed_x = static_cast<std::int64_t>(x * one);
        auto fixed_y = static_cast<std::int64_t>(y * one);
        const auto step_x = static_cast<std::int64_t>(dx * one);
        const auto step_y = static_cast<std::int64_t>(dy * one);
        for (int i = 0; i < count; ++i, fixed_x += step_x, fixed_y += step_y) {
            const QRgb* pixel = bits_ + (fixed_y >> 16) * stride_ + (fixed_x >> 16);
            const auto right = static_cast<std::uint16_t>((fixed_x >> 8) & 0xFF);
            const auto below = static_cast<std::uint16_t>((fixed_y >> 8) & 0xFF);
            const auto left = static_cast<std::uint16_t>(256 - right);
            const auto above = static_cast<std::uint16_t>(256 - below);
            const Channels column = (two_pixels(pixel) * above + two_pixels(pixel + stride_) * below) >> 8;
            const Channels weighed = column * Channels{left, left, left, left, right, right, right, right};
            const Channels mixed = (weighed + __builtin_shuffle(weighed, Channels{4, 5, 6, 7, 0, 1, 2, 3})) >> 8;
            const Bytes bytes = __builtin_convertvector(mixed, Bytes);
            std::memcpy(out + i, &bytes, sizeof(QRgb));
        }
    }

    using Channels = std::uint16_t __attribute__((vector_size(16)));
    using Bytes = std::uint8_t __attribute__((vector_size(8)));
    static Channels two_pixels(const QRgb* pixel) {
        Bytes bytes;
        std::memcpy(&bytes, pixel, sizeof bytes);
        return __builtin_convertvector(bytes, Channels);
    }

    // At the rim: the surround beyond the photograph, its last pixel up to its edge.
    [[nodiscard]] QRgb at(double x, double y) const {
        const double level_x = x + origin_.x();
        const double level_y = y + origin_.y();
        if (!(level_x > -0.5 && level_y > -0.5 && level_x < level_.width_px - 0.5 && level_y < level_.height_px - 0.5))
            return picture_surround.rgb();
        if (sharp_) return pixel(static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y)));
        const int x0 = static_cast<int>(std::floor(x));
        const int y0 = static_cast<int>(std::floor(y));
        const auto fx = static_cast<unsigned>((x - x0) * 256);
        const auto fy = static_cast<unsigned>((y - y0) * 256);
        return mix(mix(pixel(x0, y0), pixel(x0 + 1, y0), fx), mix(pixel(x0, y0 + 1), pixel(x0 + 1, y0 + 1), fx), fy);
    }

    [[nodiscard]] QRgb pixel(int x, int y) const {
        const int inside_x = std::clamp(x, in_patch_.left(), in_patch_.right());
        const int inside_y = std::clamp(y, in_patch_.top(), in_patch_.bottom());
        return bits_[inside_y * stride_ + inside_x];
    }

    const QRgb* bits_;
    qsizetype stride_;
    QPoint origin_;
    QRect in_patch_;  // pixels of the patch that are pixels of the level
    SizePx level_;
    double to_level_;
    bool sharp_;
};

void sample_rows(const NodeGrid& grid, const Sampler& sampler, QRgb* bits, QSize screen, int first_row, int end_row) {
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
void sample(const NodeGrid& grid, const Sampler& sampler, QImage& image) {
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
    const PatchInSight seen = level_patch(tiles, pyramid, level, needed_part(grid, to_level));
    rendered.complete = seen.complete;
    if (seen.patch == nullptr) {
        rendered.image.fill(picture_surround);
        return rendered;
    }
    const Sampler sampler(*seen.patch, to_level, reader->shape().level_size(level), shrink * sharp_above < 1.0);
    sample(grid, sampler, rendered.image);
    return rendered;
}

}  // namespace tedge::desk
