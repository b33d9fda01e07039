#include <algorithm>
#include <cmath>

#include "residual_field.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {
namespace {

constexpr int most_cells = 64;

bool inside(PointPx point, SizePx size, double margin_px) {
    return point.x_px >= -0.5 - margin_px && point.y_px >= -0.5 - margin_px &&
           point.x_px <= size.width_px - 0.5 + margin_px && point.y_px <= size.height_px - 0.5 + margin_px;
}

// mm per reference pixel in the middle of the reference, by area.
double local_scale(const Placement& face_from_reference, SizePx reference) {
    const double x = 0.5 * reference.width_px;
    const double y = 0.5 * reference.height_px;
    const PointMm at = face_from_reference.to_face({x, y});
    const PointMm right = face_from_reference.to_face({x + 1.0, y});
    const PointMm below = face_from_reference.to_face({x, y + 1.0});
    return std::sqrt(
        std::abs((right.x_mm - at.x_mm) * (below.y_mm - at.y_mm) - (right.y_mm - at.y_mm) * (below.x_mm - at.x_mm)));
}

struct Deviation {
    PointPx moving;
    FieldObservation seen;  // lengths in mm: where the homography puts it on the face, and how far it is off
};

// The exact composition at steps × steps points of the moving picture, shifted by a share of a step, as far as they lie
// on the reference or within a margin around it.
std::vector<Deviation> deviations(const Placement& face_from_reference, const RegistrationReport& report,
                                  const Homography& face_from_moving, int steps, double shift, double margin_px) {
    constexpr double precision_mm = 1e-4;  // far below any measurement: the fit follows the samples
    constexpr double information = 1.0 / (precision_mm * precision_mm);
    std::vector<Deviation> all;
    const int count = shift > 0.0 ? steps - 1 : steps;  // shifted points stay inside the moving picture
    for (int j = 0; j < count; ++j) {
        for (int i = 0; i < count; ++i) {
            const PointPx moving{(i + shift) / (steps - 1) * (report.moving_size.width_px - 1),
                                 (j + shift) / (steps - 1) * (report.moving_size.height_px - 1)};
            const PointPx reference = report.reference_from_moving.map(moving);
            if (!inside(reference, report.reference_size, margin_px)) continue;
            const PointMm exact = face_from_reference.to_face(reference);
            const auto plane = face_from_moving.apply(moving.x_px, moving.y_px);
            all.push_back({moving,
                           {{plane[0], plane[1]},
                            exact.x_mm - plane[0],
                            exact.y_mm - plane[1],
                            {information, 0.0, information},
                            0}});
        }
    }
    return all;
}

// A lattice over the points, half as wide as the finest of the displacements that are composed.
FieldLattice lattice_for(const std::vector<Deviation>& points, double finest_mm) {
    BoxMm box{{1e300, 1e300}, {-1e300, -1e300}};
    for (const Deviation& each : points) {
        box.min.x_mm = std::min(box.min.x_mm, each.seen.at.x_px);
        box.min.y_mm = std::min(box.min.y_mm, each.seen.at.y_px);
        box.max.x_mm = std::max(box.max.x_mm, each.seen.at.x_px);
        box.max.y_mm = std::max(box.max.y_mm, each.seen.at.y_px);
    }
    const double width = box.max.x_mm - box.min.x_mm;
    const double height = box.max.y_mm - box.min.y_mm;
    FieldLattice lattice;
    lattice.spacing = std::max(0.5 * finest_mm, std::max(width, height) / most_cells);
    const int cells_x = static_cast<int>(width / lattice.spacing) + 1;
    const int cells_y = static_cast<int>(height / lattice.spacing) + 1;
    lattice.columns = cells_x + 3;
    lattice.rows = cells_y + 3;
    lattice.origin = {box.min.x_mm - 0.5 * (cells_x * lattice.spacing - width) - lattice.spacing,
                      box.min.y_mm - 0.5 * (cells_y * lattice.spacing - height) - lattice.spacing};
    return lattice;
}

}  // namespace

Expected<ComposedPlacement> compose_placement(const Placement& face_from_reference, const RegistrationReport& report) {
    if (!report.usable)
        return fail("registration.not-usable", "A registration that cannot be trusted places nothing.",
                    "Register the photograph again or mark points by hand.");
    const auto plane = compose(face_from_reference.face_from_photo, report.reference_from_moving.homography);
    if (!plane) return pass_on(plane);
    ComposedPlacement composed;
    composed.face_from_moving.face_from_photo = *plane;
    const double scale = local_scale(face_from_reference, report.reference_size);
    const double registration_mm = report.error_px * scale;
    // Fitted a little beyond the reference, so that its rim is not the rim of the fit.
    const double margin_px = 0.02 * std::max(report.reference_size.width_px, report.reference_size.height_px);
    if (face_from_reference.displacement || report.reference_from_moving.displacement) {
        const auto samples = deviations(face_from_reference, report, *plane, 4 * most_cells, 0.0, margin_px);
        if (samples.empty())
            return fail("registration.not-usable", "The photographs do not overlap, so nothing can be placed.",
                        "Register the photograph again.");
        double finest = 1e300;
        if (face_from_reference.displacement) finest = face_from_reference.displacement->spacing_mm();
        if (report.reference_from_moving.displacement)
            finest = std::min(finest, report.reference_from_moving.displacement->spacing_mm() * scale);
        std::vector<FieldObservation> seen;
        for (const Deviation& each : samples) seen.push_back(each.seen);
        constexpr double free_mm = 1e3;  // no smoothing where there are samples
        const SmoothingField fitted(lattice_for(samples, finest), seen, std::vector<double>(seen.size(), 1.0), free_mm);
        composed.face_from_moving.displacement = fitted.displacement();
        for (const Deviation& each : deviations(face_from_reference, report, *plane, 4 * most_cells, 0.5, 0.0)) {
            const PointMm placed = composed.face_from_moving.to_face(each.moving);
            composed.fit_error_mm =
                std::max(composed.fit_error_mm, std::hypot(placed.x_mm - each.seen.at.x_px - each.seen.dx,
                                                           placed.y_mm - each.seen.at.y_px - each.seen.dy));
        }
    }
    composed.face_from_moving.error_mm =
        std::sqrt(face_from_reference.error_mm * face_from_reference.error_mm + registration_mm * registration_mm +
                  composed.fit_error_mm * composed.fit_error_mm);
    return composed;
}

}  // namespace tedge::imaging
