#include <fmt/format.h>

#include <cmath>

#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

namespace {

using casebook::Edit;
using casebook::Operation;
using casebook::Record;

Expected<imaging::Raster8> pixels_of(const casebook::Casebook& book, const Record& photograph,
                                     const Progress& progress) {
    const auto picture = imaging::read_picture(book.original_path(photograph.body.text_or("sha256")), {}, progress);
    if (!picture) return pass_on(picture);
    return imaging::to_srgb8(*picture);
}

// Millimetres a pixel of the photograph covers near its middle.
double mm_per_px(const Placement& placement, SizePx size) {
    const double x = size.width_px / 2.0;
    const double y = size.height_px / 2.0;
    const PointMm a = placement.to_face({x, y});
    const PointMm b = placement.to_face({x + 1, y});
    return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

Expected<void> may_be_compared(const Record& reference, const Record& moving) {
    if (!reference.body.placement("face_from_photo")) {
        return fail("photograph.not-placed", "The reference photograph is not placed on the picture yet.",
                    "Place it first by the four corners of the painted face.");
    }
    if (reference.body.text_or("face") != moving.body.text_or("face")) {
        return fail("photograph.other-face",
                    fmt::format("One photograph shows the {}, the other the {}.", reference.body.text_or("face"),
                                moving.body.text_or("face")),
                    "Choose two photographs of one face; a verso is placed by its corners.");
    }
    return {};
}

Edit report_record(const Record& reference, const Record& moving, const imaging::RegistrationReport& report,
                   double error_mm) {
    Edit edit;
    edit.case_id = moving.case_id;
    edit.kind = "registration";
    edit.values.record("reference", reference.id)
        .record("moving", moving.id)
        .flag("usable", report.usable)
        .text("reason", report.reason)
        .integer("inliers", report.inliers)
        .number("residual_px", report.residual_px)
        .text("method", "features, tiles, B-spline residual");
    if (report.usable) edit.values.number("error_mm", error_mm);
    return edit;
}

// Puts the photograph back to where it lay before, or nowhere.
Done placement_taken_back(const Record& before) {
    Done done;
    done.record = before.id;
    done.inverse.operation = Operation::patch;
    done.inverse.record = before.id;
    const auto put_back = [&](const char* field, const auto& value, auto set) {
        if (value) {
            set(*value);
        } else {
            done.inverse.values.unset(field);
        }
    };
    put_back("face_frame", before.body.record("face_frame"),
             [&](const Uuid& id) { done.inverse.values.record("face_frame", id); });
    put_back("face_from_photo", before.body.placement("face_from_photo"),
             [&](const Placement& placement) { done.inverse.values.placement("face_from_photo", placement); });
    return done;
}

}  // namespace

Expected<RegisteredPhotograph> register_photograph(const Acting& acting, const Uuid& reference, const Uuid& photograph,
                                                   const Progress& progress) {
    const auto still = acting.book.record(reference);
    const auto moving = acting.book.record(photograph);
    if (!still) return pass_on(still);
    if (!moving) return pass_on(moving);
    if (auto checked = may_be_compared(*still, *moving); !checked) return pass_on(checked);
    const Placement placement = *still->body.placement("face_from_photo");
    const auto still_pixels = pixels_of(acting.book, *still, progress.part(0.0, 0.1));
    if (!still_pixels) return pass_on(still_pixels);
    const auto moving_pixels = pixels_of(acting.book, *moving, progress.part(0.1, 0.2));
    if (!moving_pixels) return pass_on(moving_pixels);

    imaging::RegistrationOptions options;
    options.reference_mm_per_px = mm_per_px(placement, still_pixels->size());
    const auto report = imaging::register_pictures(*still_pixels, *moving_pixels, options, progress.part(0.2, 0.95));
    if (!report) return pass_on(report);

    std::vector<Edit> edits;
    RegisteredPhotograph result;
    result.usable = report->usable;
    result.reason = report->reason;
    result.inliers = report->inliers;
    result.residual_px = report->residual_px;
    result.seconds = report->seconds;
    if (report->usable) {
        const auto composed = imaging::compose_placement(placement, *report);
        if (!composed) return pass_on(composed);
        result.error_mm = composed->face_from_moving.error_mm;
        Edit place;
        place.operation = Operation::patch;
        place.record = photograph;
        place.values.placement("face_from_photo", composed->face_from_moving);
        if (const auto frame = still->body.record("face_frame")) place.values.record("face_frame", *frame);
        edits.push_back(std::move(place));
        result.placed = placement_taken_back(*moving);
    }
    edits.insert(edits.begin(), report_record(*still, *moving, *report, result.error_mm));
    const auto made = acting.book.commit(acting.author, edits);
    if (!made) return pass_on(made);
    result.registration = made->front();
    return result;
}

}  // namespace tedge::usecases
