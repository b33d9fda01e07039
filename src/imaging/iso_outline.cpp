#include "iso_outline.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace tedge::imaging {
namespace {

enum Side { top, right, bottom, left };

struct Step {
    Side from, to;
};

// By which corners of a cell lie above the level: 1 the upper left, then clockwise 2, 4, 8. What lies above is on the
// left hand. Two corners across from each other count as apart.
constexpr std::array<std::array<Step, 2>, 16> steps_of_case{{{},
                                                             {{{left, top}}},
                                                             {{{top, right}}},
                                                             {{{left, right}}},
                                                             {{{right, bottom}}},
                                                             {{{left, top}, {right, bottom}}},
                                                             {{{top, bottom}}},
                                                             {{{left, bottom}}},
                                                             {{{bottom, left}}},
                                                             {{{bottom, top}}},
                                                             {{{top, right}, {bottom, left}}},
                                                             {{{bottom, right}}},
                                                             {{{right, left}}},
                                                             {{{right, top}}},
                                                             {{{top, left}}},
                                                             {}}};
constexpr std::array<int, 16> step_count{0, 1, 1, 1, 1, 2, 1, 1, 1, 1, 2, 1, 1, 1, 1, 0};

// The field with a rim of one pixel below the level, so that every ring closes.
class Lattice {
public:
    Lattice(const RasterF& field, float level)
        : field_(&field),
          level_(level),
          columns_(field.width_px() + 2),
          rows_(field.height_px() + 2),
          next_(2 * static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), -1) {}

    std::vector<std::vector<PointPx>> rings() {
        for (int y = 0; y + 1 < rows_; ++y)
            for (int x = 0; x + 1 < columns_; ++x) link_cell(x, y);
        std::vector<std::vector<PointPx>> out;
        for (std::size_t start = 0; start < next_.size(); ++start)
            if (next_[start] >= 0) out.push_back(ring_from(start));
        return out;
    }

private:
    // Above the level: positive.
    [[nodiscard]] float above(int x, int y) const {
        if (x < 1 || y < 1 || x > field_->width_px() || y > field_->height_px()) return -1.0F;
        return field_->at(x - 1, y - 1) - level_;
    }
    // An edge of the lattice: even ones lie to the right of their point, odd ones below it.
    [[nodiscard]] std::size_t edge(int x, int y, Side side) const {
        const int px = x + (side == right ? 1 : 0), py = y + (side == bottom ? 1 : 0);
        const bool lying = side == top || side == bottom;
        return 2 * (static_cast<std::size_t>(py) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(px)) +
               (lying ? 0 : 1);
    }
    void link_cell(int x, int y) {
        const auto in = [&](int dx, int dy) { return above(x + dx, y + dy) > 0.0F ? 1U : 0U; };
        const std::size_t which = in(0, 0) | in(1, 0) << 1U | in(1, 1) << 2U | in(0, 1) << 3U;
        for (int i = 0; i < step_count[which]; ++i) {
            const Step step = steps_of_case[which][static_cast<std::size_t>(i)];
            next_[edge(x, y, step.from)] = static_cast<std::ptrdiff_t>(edge(x, y, step.to));
        }
    }
    [[nodiscard]] PointPx crossing(std::size_t id) const {
        const int point = static_cast<int>(id / 2);
        const int x = point % columns_, y = point / columns_;
        const bool lying = id % 2 == 0;
        const double a = static_cast<double>(above(x, y));
        const double b = static_cast<double>(lying ? above(x + 1, y) : above(x, y + 1));
        const double part = a / (a - b);
        return {x - 1.0 + (lying ? part : 0.0), y - 1.0 + (lying ? 0.0 : part)};
    }
    std::vector<PointPx> ring_from(std::size_t start) {
        std::vector<PointPx> ring;
        for (std::size_t at = start; next_[at] >= 0;) {
            ring.push_back(crossing(at));
            const auto to = static_cast<std::size_t>(next_[at]);
            next_[at] = -1;
            at = to;
        }
        return ring;
    }

    const RasterF* field_;
    float level_;
    int columns_;
    int rows_;
    std::vector<std::ptrdiff_t> next_;
};

std::vector<PointPx> thinned(const std::vector<PointPx>& ring) {
    constexpr double within_px = 0.2;
    std::vector<cv::Point2f> in, out;
    in.reserve(ring.size());
    for (const PointPx& p : ring) in.emplace_back(static_cast<float>(p.x_px), static_cast<float>(p.y_px));
    cv::approxPolyDP(in, out, within_px, true);
    std::vector<PointPx> corners;
    corners.reserve(out.size());
    for (const cv::Point2f& p : out) corners.push_back({static_cast<double>(p.x), static_cast<double>(p.y)});
    return corners;
}

// Empty where no proper polygon comes of it. Thinning may make a ring cross itself: then it stays as it was.
Region polygon_of(const std::vector<PointPx>& ring, const std::function<PointMm(PointPx)>& face_from_field) {
    for (const auto& corners : {thinned(ring), ring}) {
        if (corners.size() < 3) continue;
        std::vector<PointMm> on_face;
        on_face.reserve(corners.size());
        for (const PointPx& corner : corners) on_face.push_back(face_from_field(corner));
        if (auto polygon = Region::polygon(on_face)) return *std::move(polygon);
    }
    return {};
}

}  // namespace

std::vector<std::vector<PointPx>> iso_rings(const RasterF& field, float level) {
    return Lattice(field, level).rings();
}

double signed_area_px2(const std::vector<PointPx>& ring) {
    double twice = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const PointPx& p = ring[i];
        const PointPx& q = ring[(i + 1) % ring.size()];
        twice += p.x_px * q.y_px - q.x_px * p.y_px;
    }
    return twice / 2.0;
}

std::vector<Region> outlined_regions(const RasterF& field, float level, double least_mm2,
                                     const std::function<PointMm(PointPx)>& face_from_field) {
    std::vector<Region> out, holes;
    for (const auto& ring : iso_rings(field, level)) {
        Region polygon = polygon_of(ring, face_from_field);
        if (polygon.area_mm2() < least_mm2) continue;
        (signed_area_px2(ring) < 0.0 ? out : holes).push_back(std::move(polygon));
    }
    for (Region& region : out)
        for (const Region& hole : holes)
            if (region.contains(hole.label_point())) region = region.without(hole);
    std::ranges::stable_sort(out, std::ranges::greater{}, &Region::area_mm2);
    return out;
}

}  // namespace tedge::imaging
