#include <fmt/format.h>

#include <cmath>

#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::FieldValues;
using casebook::Operation;
using casebook::Record;

// A corner is set by eye on a screen: this much of a pixel is common practice, no more than that.
constexpr double corner_error_px = 2.0;

// The size the frame of this face is to have: recto and verso share the picture's.
std::optional<SizeMm> size_of_face(const CaseSnapshot& snapshot, Face face) {
    if (face != Face::recto && face != Face::verso) return std::nullopt;
    if (const Record* recto = current_frame(snapshot, Face::recto)) {
        return SizeMm{recto->body.number("width_mm").value_or(0), recto->body.number("height_mm").value_or(0)};
    }
    const auto width = snapshot.picture.body.number("width_mm");
    const auto height = snapshot.picture.body.number("height_mm");
    return width && height ? std::optional(SizeMm{*width, *height}) : std::nullopt;
}

struct Frame {
    Uuid id;
    SizeMm size;
};

Expected<Frame> frame_for(const Acting& acting, const CaseSnapshot& snapshot, Face face, const Uuid& photograph) {
    if (const Record* frame = current_frame(snapshot, face)) {
        return Frame{frame->id,
                     {frame->body.number("width_mm").value_or(0), frame->body.number("height_mm").value_or(0)}};
    }
    const auto size = size_of_face(snapshot, face);
    if (!size) {
        return fail("photograph.no-size", "The size of this face is not known.",
                    "Measure the picture and give its width and height first.");
    }
    Edit edit;
    edit.case_id = snapshot.picture.id;
    edit.kind = "face_frame";
    edit.values.text("face", to_text(face))
        .number("width_mm", size->width_mm)
        .number("height_mm", size->height_mm)
        .record("reference", photograph);
    const auto made = acting.book.commit(acting.author, {edit});
    if (!made) return pass_on(made);
    return Frame{made->front(), *size};
}

}  // namespace

Expected<Placement> place_by_corners(const Acting& acting, const Uuid& photograph,
                                     const std::array<PointPx, 4>& corners) {
    return acting.book.in_one_act([&]() -> Expected<Placement> {
        const auto record = acting.book.record(photograph);
        if (!record) return pass_on(record);
        const auto face = parse_face(record->body.text_or("face"));
        if (!face) return pass_on(face);
        const auto snapshot = acting.book.snapshot(record->case_id);
        if (!snapshot) return pass_on(snapshot);
        const auto frame = frame_for(acting, *snapshot, *face, photograph);
        if (!frame) return pass_on(frame);

        const double w = frame->size.width_mm;
        const double h = frame->size.height_mm;
        std::array<std::array<double, 2>, 4> from{};
        for (std::size_t i = 0; i < 4; ++i) from[i] = {corners[i].x_px, corners[i].y_px};
        const auto map = Homography::from_four_points(from, {{{0, 0}, {w, 0}, {w, h}, {0, h}}});
        if (!map) return pass_on(map);
        Placement placement;
        placement.face_from_photo = *map;
        const double px_across = std::hypot(corners[1].x_px - corners[0].x_px, corners[1].y_px - corners[0].y_px);
        placement.error_mm = corner_error_px * w / px_across;

        Edit edit;
        edit.operation = Operation::patch;
        edit.record = photograph;
        edit.values.record("face_frame", frame->id).placement("face_from_photo", placement);
        const auto made = acting.book.commit(acting.author, {edit});
        if (!made) return pass_on(made);
        return placement;
    });
}

}  // namespace tedge::usecases
