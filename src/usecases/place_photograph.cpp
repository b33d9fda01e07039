#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "frame_making.hpp"
#include "placed_corners.hpp"
#include "placed_photograph.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::FieldValues;
using casebook::Record;

std::optional<Face> other_side(Face face) {
    if (face == Face::recto) return Face::verso;
    if (face == Face::verso) return Face::recto;
    return std::nullopt;
}

std::optional<SizeMm> size_of(const casebook::Body& body) {
    const auto width = body.number("width_mm");
    const auto height = body.number("height_mm");
    return width && height ? std::optional(SizeMm{*width, *height}) : std::nullopt;
}

Expected<void> check_another_size(const CaseSnapshot& snapshot, Face face, const std::optional<SizeMm>& wanted) {
    const auto now = size_of(current_frame(snapshot, face)->body);
    if (wanted && now && !is_same_size(*wanted, *now)) return {};
    return fail(
        "photograph.same-size", "The face has this size already.",
        "If it was lined or put on another stretcher, record that step on the sheet structure: it opens the new "
        "frame. Otherwise place the photograph by its corners.");
}

// The other side of the canvas at the time of the photograph: a first frame of this side begins and measures as it.
const Record* frame_behind(const CaseSnapshot& snapshot, Face face, const Record& photograph) {
    const auto other = other_side(face);
    if (!other) return nullptr;
    Record turned = photograph;
    turned.body = casebook::Body({{"face", to_text(*other)},
                                  {"stage", photograph.body.text_or("stage")},
                                  {"taken_at", photograph.body.text_or("taken_at")}});
    return frame_of_photograph(snapshot, turned);
}

// Both sides of an epoch name the same beginning and the same opener: so they are known to belong together.
void begin_with(FieldValues& values, const Record* behind, const FrameWanted& wanted) {
    std::string from = wanted.epoch_from;
    if (from.empty() && behind != nullptr) from = behind->body.text_or("epoch_from");
    if (!from.empty()) values.text("epoch_from", from);
    if (!wanted.epoch_why.empty()) values.text("epoch_why", wanted.epoch_why);
    if (wanted.new_epoch || behind == nullptr) return;
    if (const auto opener = behind->body.record("opened_by")) values.record("opened_by", *opener);
}

Expected<FrameOfFace> make_frame(const Acting& acting, const CaseSnapshot& snapshot, const Record& photograph,
                                 Face face, const FrameWanted& wanted) {
    const Record* behind = frame_behind(snapshot, face, photograph);
    std::optional<SizeMm> size = wanted.size;
    if (!size && !wanted.new_epoch && behind != nullptr) size = size_of(behind->body);
    if (!size) size = known_size(snapshot, face);
    if (!size) {
        return fail(
            "photograph.no-size", "The size of this face is not known.",
            "Give the width and height of that face first: tedge record add face_frame, or the form of the face.");
    }
    if (auto checked = FaceFrame{face, *size, std::nullopt}.check(); !checked) return pass_on(checked);
    FrameOfFace frame{{}, *size, std::nullopt, wanted.new_epoch ? current_frame(snapshot, face) : nullptr};
    FieldValues values;
    values.text("face", to_text(face)).number("width_mm", size->width_mm).number("height_mm", size->height_mm);
    values.record("reference", photograph.id);
    begin_with(values, behind, wanted);
    if (frame.older != nullptr) values.record("older", frame.older->id);
    auto made = add_record(acting, snapshot.picture.id, "face_frame", values);
    if (!made) return pass_on(made);
    frame.id = made->record;
    frame.made = *std::move(made);
    return frame;
}

Expected<Placement> placement_of(const std::array<PointPx, 4>& corners, SizeMm size, double error_px) {
    const double w = size.width_mm;
    const double h = size.height_mm;
    std::array<std::array<double, 2>, 4> from{};
    for (std::size_t i = 0; i < 4; ++i) from[i] = {corners[i].x_px, corners[i].y_px};
    const auto map = Homography::from_four_points(from, {{{0, 0}, {w, 0}, {w, h}, {0, h}}});
    if (!map) return pass_on(map);
    Placement placement;
    placement.face_from_photo = *map;
    const double px_across = std::hypot(corners[1].x_px - corners[0].x_px, corners[1].y_px - corners[0].y_px);
    placement.error_mm = error_px * w / px_across;
    return placement;
}

// The photograph lay in the older frame and lies in the new one now: that measures how the canvas moved.
Expected<std::optional<Done>> join_epochs(const Acting& acting, const Record& photograph, const FrameOfFace& frame,
                                          const Placement& now) {
    const auto before = photograph.body.placement("face_from_photo");
    const bool lay_there = frame.older != nullptr && before && photograph.body.record("face_frame") == frame.older->id;
    if (!lay_there) return std::optional<Done>();
    const auto moved = measure_move(now, *before, size_of(frame.older->body).value_or(frame.size));
    if (!moved) return pass_on(moved);
    auto joined = change_record(acting, frame.id, FieldValues().placement("new_from_old", moved->new_from_old));
    if (!joined) return pass_on(joined);
    return std::optional(*std::move(joined));
}

}  // namespace

Expected<FrameOfFace> frame_for(const Acting& acting, const CaseSnapshot& snapshot, const Record& photograph, Face face,
                                const FrameWanted& wanted) {
    if (!wanted.new_epoch) {
        const Record* own = frame_of_photograph(snapshot, photograph);
        if (own != nullptr) return FrameOfFace{own->id, size_of(own->body).value_or(SizeMm{}), std::nullopt};
    } else if (current_frame(snapshot, face) == nullptr) {
        return fail("photograph.no-older-epoch", "This face has no frame yet that a later one could follow.",
                    "Place a photograph of the earlier state first.");
    } else if (auto checked = check_another_size(snapshot, face, wanted.size); !checked) {
        return pass_on(checked);
    }
    return make_frame(acting, snapshot, photograph, face, wanted);
}

std::optional<SizeMm> known_size(const CaseSnapshot& snapshot, Face face) {
    if (const Record* frame = current_frame(snapshot, face)) return size_of(frame->body);
    const auto other = other_side(face);
    if (!other) return std::nullopt;
    if (const Record* frame = current_frame(snapshot, *other)) return size_of(frame->body);
    return size_of(snapshot.picture.body);
}

Expected<PlacedByCorners> place_by_corners(const Acting& acting, const Uuid& photograph,
                                           const std::array<PointPx, 4>& corners, const FrameWanted& wanted,
                                           double error_px) {
    return acting.book.in_one_act([&]() -> Expected<PlacedByCorners> {
        const auto record = existing_photograph(acting.book, photograph);
        if (!record) return pass_on(record);
        if (const auto seen = check_corners(corners, record->body); !seen) return pass_on(seen);
        const auto face = parse_face(record->body.text_or("face"));
        if (!face) return pass_on(face);
        const auto snapshot = acting.book.snapshot(record->case_id);
        if (!snapshot) return pass_on(snapshot);
        auto frame = frame_for(acting, *snapshot, *record, *face, wanted);
        if (!frame) return pass_on(frame);
        PlacedByCorners placed;
        placed.face_frame = frame->id;
        if (frame->made) placed.done.push_back(*frame->made);
        const auto placement = placement_of(corners, frame->size, error_px);
        if (!placement) return pass_on(placement);
        placed.placement = *placement;
        const auto joined = join_epochs(acting, *record, *frame, *placement);
        if (!joined) return pass_on(joined);
        placed.joined = joined->has_value();
        FieldValues values;
        values.record("face_frame", frame->id).placement("face_from_photo", *placement);
        auto done = change_record(acting, photograph, values);
        if (!done) return pass_on(done);
        placed.done.push_back(*std::move(done));
        return placed;
    });
}

Expected<Done> say_face(const Acting& acting, const Uuid& photograph, Face face) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto record = existing_photograph(acting.book, photograph);
        if (!record) return pass_on(record);
        FieldValues values;
        values.text("face", to_text(face));
        for (const char* field : {"face_frame", "face_from_photo", "shown_first"}) {
            if (record->body.has(field)) values.unset(field);
        }
        return change_record(acting, photograph, values, "another face is seen on it");
    });
}

Expected<Done> show_first(const Acting& acting, const Uuid& photograph) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto record = existing_photograph(acting.book, photograph);
        if (!record) return pass_on(record);
        const auto all = acting.book.records(record->case_id, "photograph");
        if (!all) return pass_on(all);
        std::int64_t highest = 0;
        for (const Record& other : *all) highest = std::max(highest, other.body.integer("shown_first").value_or(0));
        return change_record(acting, photograph, FieldValues().integer("shown_first", highest + 1));
    });
}

}  // namespace tedge::usecases
