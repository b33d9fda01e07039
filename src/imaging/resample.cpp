#include <algorithm>
#include <atomic>
#include <cmath>
#include <vector>

#include "registration_workers.hpp"
#include "resample_kernel.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {
namespace {

// Rows done by one worker at a time, and the distance of the points at which the map is evaluated exactly. Between them
// it is interpolated linearly: a displacement of 7 px over 2000 px is then wrong by 0.002 px at most.
constexpr int node_px = 16;

// Positions in the moving picture of the nodes of one row of nodes. False when the map has no inverse there.
bool fill_nodes(const PixelMap& map, int row_px, std::vector<PointPx>& nodes) {
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const auto at = map.inverse({static_cast<double>(i) * node_px, static_cast<double>(row_px)});
        if (!at) return false;
        nodes[i] = *at;
    }
    return true;
}

PointPx between(PointPx a, PointPx b, double share) {
    return {a.x_px + share * (b.x_px - a.x_px), a.y_px + share * (b.y_px - a.y_px)};
}

template <class T>
void fill_span(const Raster<T>& moving, const ResampleSpan& span, T* out) {
    if (lies_inside(span, moving.size())) return resample_span_inside(moving, span, out);
    for (int i = 0; i < span.count; ++i)
        resample_pixel(moving, span.x + static_cast<float>(i) * span.step_x,
                       span.y + static_cast<float>(i) * span.step_y, out + i * moving.channels());
}

// The rows of one band. False when the map folds there.
template <class T>
bool fill_band(const Raster<T>& moving, const PixelMap& map, int first, Raster<T>& out) {
    const auto nodes = static_cast<std::size_t>(out.width_px() / node_px + 2);
    std::vector<PointPx> above(nodes);
    std::vector<PointPx> below(nodes);
    if (!fill_nodes(map, first, above) || !fill_nodes(map, first + node_px, below)) return false;
    const int last = std::min(first + node_px, out.height_px());
    for (int y = first; y < last; ++y) {
        const double share = static_cast<double>(y - first) / node_px;
        for (std::size_t i = 0; i + 1 < nodes; ++i) {
            const int from = static_cast<int>(i) * node_px;
            const int count = std::min(node_px, out.width_px() - from);
            if (count <= 0) break;
            const PointPx left = between(above[i], below[i], share);
            const PointPx right = between(above[i + 1], below[i + 1], share);
            const ResampleSpan span{static_cast<float>(left.x_px), static_cast<float>(left.y_px),
                                    static_cast<float>((right.x_px - left.x_px) / node_px),
                                    static_cast<float>((right.y_px - left.y_px) / node_px), count};
            fill_span(moving, span, out.row(y) + static_cast<std::size_t>(from * out.channels()));
        }
    }
    return true;
}

template <class T>
Expected<Raster<T>> resample_any(const Raster<T>& moving, const PixelMap& map, SizePx reference, int threads,
                                 const Progress& progress) {
    if (reference.width_px < 1 || reference.height_px < 1 || moving.empty() || threads < 0)
        return fail("registration.bad-options", "A picture without pixels cannot be laid on another.",
                    "Choose another photograph.");
    Raster<T> out(reference.width_px, reference.height_px, moving.channels());
    const int bands = (reference.height_px + node_px - 1) / node_px;
    std::atomic<bool> folded{false};
    std::atomic<int> done{0};
    for_each_index(
        bands, worker_count(threads), [&] { return progress.stopped() || folded; },
        [&](int band, int worker) {
            if (!fill_band(moving, map, band * node_px, out)) folded = true;
            const int finished = ++done;
            if (worker == 0) progress.at(static_cast<double>(finished) / bands, "laying one photograph on the other");
        });
    if (progress.stopped()) return cancelled();
    if (folded)
        return fail("geometry.no-inverse", "The displacement folds over itself, so there is no way back.",
                    "Register the photographs again.");
    return out;
}

}  // namespace

Expected<Raster8> resample(const Raster8& moving, const PixelMap& reference_from_moving, SizePx reference, int threads,
                           const Progress& progress) {
    return resample_any(moving, reference_from_moving, reference, threads, progress);
}

Expected<Raster16> resample(const Raster16& moving, const PixelMap& reference_from_moving, SizePx reference,
                            int threads, const Progress& progress) {
    return resample_any(moving, reference_from_moving, reference, threads, progress);
}

Expected<RasterF> resample(const RasterF& moving, const PixelMap& reference_from_moving, SizePx reference, int threads,
                           const Progress& progress) {
    return resample_any(moving, reference_from_moving, reference, threads, progress);
}

}  // namespace tedge::imaging
