#include "tedge/imaging/thread_count.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "registration_workers.hpp"
#include "tedge/base/number_text.hpp"
#include "weave_cusping.hpp"
#include "weave_map.hpp"
#include "weave_phase.hpp"
#include "weave_verdict.hpp"

namespace tedge::imaging {
namespace {

constexpr double least_px_per_cm = 25.0;
constexpr double most_px_per_cm = 20'000.0;
constexpr double most_threads_per_cm = 31.0;
constexpr double seen_cycles_per_px = 0.48;

// Linear part of face_from_photo at a point, mm per pixel.
std::array<double, 4> linear_at(const Homography& face_from_photo, PointPx at) {
    const auto left = face_from_photo.apply(at.x_px - 0.5, at.y_px),
               right = face_from_photo.apply(at.x_px + 0.5, at.y_px);
    const auto up = face_from_photo.apply(at.x_px, at.y_px - 0.5), down = face_from_photo.apply(at.x_px, at.y_px + 0.5);
    return {right[0] - left[0], down[0] - up[0], right[1] - left[1], down[1] - up[1]};
}

// A frequency is a covector: with p_face = J p, f_face = J^-T f.
Frequency on_face(Frequency per_px, const std::array<double, 4>& j) {
    const double det = j[0] * j[3] - j[1] * j[2];
    return {(j[3] * per_px.x - j[2] * per_px.y) / det, (j[0] * per_px.y - j[1] * per_px.x) / det};
}

Frequency in_photo(Frequency per_mm, const std::array<double, 4>& j) {
    return {j[0] * per_mm.x + j[2] * per_mm.y, j[1] * per_mm.x + j[3] * per_mm.y};
}

struct Scaling {
    Homography face_from_photo;
    double px_per_cm = 0.0;             // at the middle, the mean of both directions
    std::array<double, 4> at_middle{};  // mm per px

    [[nodiscard]] Frequency per_cm_on_face(Frequency signal_per_cm, PointPx at) const {
        return 10.0 * on_face((1.0 / px_per_cm) * signal_per_cm, linear_at(face_from_photo, at));
    }
};

Expected<Scaling> scaling_of(const Homography& face_from_photo, SizePx size) {
    const PointPx middle{(size.width_px - 1) / 2.0, (size.height_px - 1) / 2.0};
    Scaling out{.face_from_photo = face_from_photo, .at_middle = linear_at(face_from_photo, middle)};
    const auto& j = out.at_middle;
    out.px_per_cm = 10.0 / std::sqrt(std::abs(j[0] * j[3] - j[1] * j[2]));
    if (!std::isfinite(out.px_per_cm) || out.px_per_cm <= 0.0 || out.px_per_cm > most_px_per_cm)
        return fail("weave.scale", "The scale of the photograph is not a usable number of pixels to the centimetre.",
                    "Give how many pixels of the photograph lie on one centimetre of canvas.");
    if (out.px_per_cm < least_px_per_cm)
        return fail(
            "weave.too-few-pixels",
            fmt::format("{} px to the centimetre are too few to show single threads.", format_fixed(out.px_per_cm, 1)),
            "Photograph a smaller part of the canvas: 100 px to the centimetre or more.");
    if (std::min(size.width_px, size.height_px) < out.px_per_cm)
        return fail("weave.picture-too-small", "The photograph shows less than a centimetre of canvas.",
                    "Use a photograph of at least two centimetres a side, or check the scale.");
    return out;
}

WeaveSquare square_of(const LocalWeave& local, PointPx centre, const Scaling& scaling) {
    const auto here = [&](Frequency f, double trust) {
        const Frequency face = scaling.per_cm_on_face(f, centre);
        return ThreadsHere{face.length(), face.degrees(), trust};
    };
    const auto p = scaling.face_from_photo.apply(centre.x_px, centre.y_px);
    return {centre, {p[0], p[1]}, here(local.a, local.trust_a), here(local.b, local.trust_b)};
}

// Set a is the one counted across the face, whichever way the camera was held; directions point right and down.
void name_sets(WeaveSquare& square, bool exchanged) {
    if (exchanged) std::swap(square.a, square.b);
    if (std::abs(square.a.angle_deg) > 90.0) square.a.angle_deg -= std::copysign(180.0, square.a.angle_deg);
    if (square.b.angle_deg < 0.0) square.b.angle_deg += 180.0;
}

WeaveMap map_of(const std::vector<LocalWeave>& locals, const WeaveSignal& signal, const SquareGrid& grid,
                const Scaling& scaling, const WeaveLattice& lattice, const SizeMm& face) {
    const double factor = 1 << signal.level;
    WeaveMap map{.columns = grid.columns,
                 .rows = grid.rows,
                 .square_px = grid.side_px * factor,
                 .step_px = std::max(grid.step_x_px, grid.step_y_px) * factor};
    const Frequency a = 10.0 * on_face((1.0 / scaling.px_per_cm) * lattice.a, scaling.at_middle);
    const Frequency b = 10.0 * on_face((1.0 / scaling.px_per_cm) * lattice.b, scaling.at_middle);
    const bool exchanged = std::abs(a.y) / a.length() > std::abs(b.y) / b.length();
    for (int i = 0; i < grid.count(); ++i) {
        const PointPx corner = grid.corner(i);
        const double half = 0.5 * (grid.side_px - 1);
        WeaveSquare square =
            square_of(locals[static_cast<std::size_t>(i)],
                      {signal.picture_px(corner.x_px + half), signal.picture_px(corner.y_px + half)}, scaling);
        name_sets(square, exchanged);
        const bool outside =
            face.width_mm > 0.0 && (square.on_face.x_mm < 0.0 || square.on_face.y_mm < 0.0 ||
                                    square.on_face.x_mm > face.width_mm || square.on_face.y_mm > face.height_mm);
        if (outside) square.a.trust = square.b.trust = 0.0;
        map.squares.push_back(square);
    }
    return map;
}

LocalTurn perspective_of(const WeaveSignal& signal, const Scaling& scaling) {
    return [&signal, scaling](PointPx centre) {
        const auto j =
            linear_at(scaling.face_from_photo, {signal.picture_px(centre.x_px), signal.picture_px(centre.y_px)});
        const Frequency x = in_photo(on_face({1, 0}, scaling.at_middle), j);
        const Frequency y = in_photo(on_face({0, 1}, scaling.at_middle), j);
        return std::array{x.x, y.x, x.y, y.y};
    };
}

}  // namespace

Expected<ThreadCount> count_threads(PictureView photograph, const Homography& face_from_photo,
                                    const ThreadCountOptions& options, const Progress& progress) {
    const auto scaling = scaling_of(face_from_photo, photograph.size());
    if (!scaling) return pass_on(scaling);
    const int workers = worker_count(options.threads);
    progress.at(0.0, "evening out light and paint");
    const WeaveSignal signal = weave_signal(photograph, scaling->px_per_cm, workers, progress.part(0.0, 0.3));
    if (progress.stopped()) return cancelled();
    progress.at(0.3, "looking for a weave");
    const SquareGrid grid = SquareGrid::over(signal);
    const PowerSpectrum mean = mean_spectrum(signal, grid, workers, progress.part(0.3, 0.6));
    if (progress.stopped()) return cancelled();
    ThreadCount out;
    out.largest_count_per_cm = std::min(most_threads_per_cm, seen_cycles_per_px * scaling->px_per_cm);
    const double area = static_cast<double>(signal.values.width_px()) * signal.values.height_px();
    const double squares = area / (static_cast<double>(grid.side_px) * grid.side_px);
    const LatticeSearch search = find_lattice(mean, squares, out.largest_count_per_cm);
    if (search.found) {
        progress.at(0.6, "following the threads");
        auto locals = follow_lattice(signal, grid, mean, *search.found, perspective_of(signal, *scaling), workers,
                                     progress.part(0.6, 0.9));
        if (progress.stopped()) return cancelled();
        correct_by_phase(signal, grid, search.found->contrast_a <= 1.0, search.found->contrast_b <= 1.0, locals,
                         workers, progress.part(0.9, 1.0));
        if (progress.stopped()) return cancelled();
        out.map = map_of(locals, signal, grid, *scaling, *search.found, options.face);
        sum_up(out);
        out.cusping = cusping_of(out.map);
    }
    judge(out, {.search = search, .px_per_cm = scaling->px_per_cm, .gray_levels = signal.gray_levels});
    return out;
}

Expected<ThreadCount> count_threads(PictureView photograph, double px_per_cm, const ThreadCountOptions& options,
                                    const Progress& progress) {
    if (!std::isfinite(px_per_cm) || px_per_cm <= 0.0)
        return fail("weave.scale", "The scale of the photograph is not a usable number of pixels to the centimetre.",
                    "Give how many pixels of the photograph lie on one centimetre of canvas.");
    return count_threads(photograph, Homography::scaling(10.0 / px_per_cm, 10.0 / px_per_cm), options, progress);
}

}  // namespace tedge::imaging
