#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <limits>
#include <type_traits>

#include "registration_clones.hpp"
#include "registration_workers.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {
namespace {

// Rows done by one worker at a time, and the distance of the points at which the map is evaluated exactly. Between them
// it is interpolated linearly: a displacement of 7 px over 2000 px is then wrong by 0.002 px at most.
constexpr int node_px = 16;

// The weights of Keys' kernel (a = -0.5) at 1/1024 px steps: positions are rounded to less than 0.0005 px.
constexpr int kernel_steps = 1024;
using KernelTable = std::array<std::array<float, 4>, kernel_steps + 1>;

const KernelTable& kernel_table() {
    static const KernelTable table = [] {
        KernelTable made{};
        for (int i = 0; i <= kernel_steps; ++i) {
            const float t = static_cast<float>(i) / kernel_steps;
            const float t2 = t * t;
            const float t3 = t2 * t;
            made[static_cast<std::size_t>(i)] = {-0.5F * t3 + t2 - 0.5F * t, 1.5F * t3 - 2.5F * t2 + 1.0F,
                                                 -1.5F * t3 + 2.0F * t2 + 0.5F * t, 0.5F * t3 - 0.5F * t2};
        }
        return made;
    }();
    return table;
}

template <class T>
T to_sample(float value) {
    if constexpr (std::is_floating_point_v<T>) {
        return value;
    } else {
        constexpr float most = static_cast<float>(std::numeric_limits<T>::max());
        return static_cast<T>(std::clamp(value, 0.0F, most) + 0.5F);
    }
}

struct Position {
    float x;
    float y;
};

// Away from the edges the sixteen neighbours are read without asking.
template <class T, int channels>
inline void interpolate_inside(const Raster<T>& moving, Position at, T* out) {
    const int ix = static_cast<int>(at.x);
    const int iy = static_cast<int>(at.y);
    const auto& table = kernel_table();
    const auto& u = table[static_cast<std::size_t>((at.x - static_cast<float>(ix)) * kernel_steps + 0.5F)];
    const auto& v = table[static_cast<std::size_t>((at.y - static_cast<float>(iy)) * kernel_steps + 0.5F)];
    std::array<float, channels> sum{};
    for (int j = 0; j < 4; ++j) {
        const T* p = moving.row(iy - 1 + j) + static_cast<std::size_t>(ix - 1) * channels;
        const float weight = v[static_cast<std::size_t>(j)];
        for (std::size_t c = 0; c < channels; ++c) {
            sum[c] += weight *
                      (u[0] * static_cast<float>(p[c]) + u[1] * static_cast<float>(p[c + channels]) +
                       u[2] * static_cast<float>(p[c + 2 * channels]) + u[3] * static_cast<float>(p[c + 3 * channels]));
        }
    }
    for (std::size_t c = 0; c < channels; ++c) out[c] = to_sample<T>(sum[c]);
}

// At the edges the outermost pixels are repeated.
template <class T>
void interpolate_edge(const Raster<T>& moving, Position at, T* out) {
    const int ix = static_cast<int>(std::floor(at.x));
    const int iy = static_cast<int>(std::floor(at.y));
    const auto& table = kernel_table();
    const auto& u = table[static_cast<std::size_t>((at.x - static_cast<float>(ix)) * kernel_steps + 0.5F)];
    const auto& v = table[static_cast<std::size_t>((at.y - static_cast<float>(iy)) * kernel_steps + 0.5F)];
    for (int c = 0; c < moving.channels(); ++c) {
        float sum = 0.0F;
        for (int j = 0; j < 4; ++j) {
            for (int i = 0; i < 4; ++i) {
                const int x = std::clamp(ix - 1 + i, 0, moving.width_px() - 1);
                const int y = std::clamp(iy - 1 + j, 0, moving.height_px() - 1);
                sum += u[static_cast<std::size_t>(i)] * v[static_cast<std::size_t>(j)] *
                       static_cast<float>(moving.at(x, y, c));
            }
        }
        out[c] = to_sample<T>(sum);
    }
}

template <class T>
void interpolate(const Raster<T>& moving, Position at, T* out) {
    const auto right = static_cast<float>(moving.width_px() - 1);
    const auto bottom = static_cast<float>(moving.height_px() - 1);
    // Half a pixel beyond the outermost centres the picture ends; NaN fails the test as well.
    if (!(at.x >= -0.5F && at.y >= -0.5F && at.x <= right + 0.5F && at.y <= bottom + 0.5F)) return;
    if (at.x >= 1.0F && at.y >= 1.0F && at.x < right - 2.0F && at.y < bottom - 2.0F) {
        if (moving.channels() == 3) return interpolate_inside<T, 3>(moving, at, out);
        if (moving.channels() == 1) return interpolate_inside<T, 1>(moving, at, out);
    }
    interpolate_edge(moving, at, out);
}

// Positions in the moving picture of the nodes of one row of nodes. False when the map has no inverse there.
bool fill_nodes(const PixelMap& map, int row_px, std::vector<PointPx>& nodes) {
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const auto at = map.inverse({static_cast<double>(i) * node_px, static_cast<double>(row_px)});
        if (!at) return false;
        nodes[i] = *at;
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
    const auto nodes = static_cast<std::size_t>(reference.width_px / node_px + 2);
    const int bands = (reference.height_px + node_px - 1) / node_px;
    std::atomic<bool> folded{false};
    std::atomic<int> done{0};
    const auto stopped = [&] { return progress.stopped() || folded; };
    for_each_index(bands, worker_count(threads), stopped, [&](int band, int worker) {
        std::vector<PointPx> above(nodes);
        std::vector<PointPx> below(nodes);
        const int first = band * node_px;
        if (!fill_nodes(map, first, above) || !fill_nodes(map, first + node_px, below)) {
            folded = true;
            return;
        }
        const int last = std::min(first + node_px, reference.height_px);
        for (int y = first; y < last; ++y) {
            const double t = static_cast<double>(y - first) / node_px;
            const auto at_node = [&](std::size_t i) {
                return PointPx{above[i].x_px + t * (below[i].x_px - above[i].x_px),
                               above[i].y_px + t * (below[i].y_px - above[i].y_px)};
            };
            T* row = out.row(y);
            PointPx left = at_node(0);
            for (std::size_t i = 0; i + 1 < nodes; ++i) {
                const PointPx right = at_node(i + 1);
                const double step_x = (right.x_px - left.x_px) / node_px;
                const double step_y = (right.y_px - left.y_px) / node_px;
                const int from = static_cast<int>(i) * node_px;
                const int to = std::min(from + node_px, reference.width_px);
                for (int x = from; x < to; ++x) {
                    const Position at{static_cast<float>(left.x_px + (x - from) * step_x),
                                      static_cast<float>(left.y_px + (x - from) * step_y)};
                    interpolate(moving, at,
                                row + static_cast<std::size_t>(x) * static_cast<std::size_t>(moving.channels()));
                }
                left = right;
            }
        }
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
