#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::Operation;
using casebook::Record;

// A corner is set by eye on a screen: this much of a pixel is common practice, no more than that.
constexpr double corner_error_px = 2.0;

SizeMm size_of(const Record& sized) {
    return {sized.body.number("width_mm").value_or(0), sized.body.number("height_mm").value_or(0)};
}

struct Frame {
    Uuid id;
    SizeMm size;
};

// The other side of the canvas at the time of the photograph: a first frame of the verso begins and measures as it.
const Record* recto_beside(const CaseSnapshot& snapshot, Face face, const Record& photograph) {
    if (face != Face::verso) return nullptr;
    Record as_recto = photograph;
    as_recto.body = casebook::Body({{"face", "recto"},
                                    {"stage", photograph.body.text_or("stage")},
                                    {"taken_at", photograph.body.text_or("taken_at")}});
    return frame_of_photograph(snapshot, as_recto);
}

Expected<Frame> first_frame(const Acting& acting, const CaseSnapshot& snapshot, Face face, const Record& photograph) {
    const Record* beside = recto_beside(snapshot, face, photograph);
    const bool of_picture = face == Face::recto || face == Face::verso;
    const SizeMm size = beside != nullptr ? size_of(*beside) : of_picture ? size_of(snapshot.picture) : SizeMm{};
    if (!(size.width_mm > 0) || !(size.height_mm > 0)) {
        return fail("photograph.no-size", "The size of this face is not known.",
                    "Measure the picture and give its width and height first.");
    }
    Edit edit;
    edit.case_id = snapshot.picture.id;
    edit.kind = "face_frame";
    edit.values.text("face", to_text(face))
        .number("width_mm", size.width_mm)
        .number("height_mm", size.height_mm)
        .record("reference", photograph.id);
    if (beside != nullptr && beside->body.has("epoch_from")) {
        edit.values.text("epoch_from", beside->body.text_or("epoch_from"));
    }
    if (const auto opener = beside != nullptr ? beside->body.record("opened_by") : std::nullopt) {
        edit.values.record("opened_by", *opener);
    }
    const auto made = acting.book.commit(acting.author, {edit});
    if (!made) return pass_on(made);
    return Frame{made->front(), size};
}

Expected<Frame> frame_for(const Acting& acting, const CaseSnapshot& snapshot, Face face, const Record& photograph) {
    if (const Record* frame = frame_of_photograph(snapshot, photograph)) return Frame{frame->id, size_of(*frame)};
    return first_frame(acting, snapshot, face, photograph);
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
        const auto frame = frame_for(acting, *snapshot, *face, *record);
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
