#include "tedge/usecases/resized_face.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "act_values.hpp"
#include "registered_joints.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/placed_by.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::Field;
using casebook::FieldType;
using casebook::FieldValues;
using casebook::Record;

// How much longer each side becomes.
struct Stretch {
    double across = 1.0;
    double down = 1.0;

    [[nodiscard]] PointMm of(PointMm point) const { return {point.x_mm * across, point.y_mm * down}; }
};

std::optional<Stretch> stretch_between(SizeMm before, const Body& after) {
    const auto width = after.number("width_mm"), height = after.number("height_mm");
    if (!width || !height || *width <= 0 || *height <= 0 || before.width_mm <= 0 || before.height_mm <= 0) return {};
    const Stretch stretch{*width / before.width_mm, *height / before.height_mm};
    return stretch.across == 1.0 && stretch.down == 1.0 ? std::nullopt : std::optional(stretch);
}

Expected<Placement> stretched(const Placement& placement, const Stretch& by, SizeMm face) {
    const auto plane = compose(Homography::scaling(by.across, by.down), placement.face_from_photo);
    if (!plane) return pass_on(plane);
    Placement out{*plane, std::nullopt, 0.0};
    if (placement.displacement) {
        const auto exact = [&](PointPx pixel) { return std::optional(by.of(placement.to_face(pixel))); };
        const BoxMm over{{0.0, 0.0}, {face.width_mm * by.across, face.height_mm * by.down}};
        auto along =
            placement_along(*plane, exact, over, placement.displacement->spacing_mm() * std::min(by.across, by.down));
        if (!along) return pass_on(along);
        out = *std::move(along);
    }
    out.error_mm = std::hypot(out.error_mm, placement.error_mm * std::max(by.across, by.down));
    return out;
}

// A placement names the registration that it comes from; that one still holds.
void put_placement(FieldValues& values, const Body& body, std::string_view field, const Placement& placement) {
    FieldValues bare;
    bare.placement(field, placement);
    nlohmann::json written = bare.set_values().at(std::string(field));
    const nlohmann::json& before = body.as_json().at(std::string(field));
    if (before.contains("registration")) written["registration"] = before["registration"];
    values.value(field, written);
}

Expected<FieldValues> places_stretched(const Record& record, const Stretch& by, SizeMm face) {
    FieldValues values;
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return values;
    for (const Field& field : kind->fields) {
        if (field.type == FieldType::region) {
            const auto region = record.body.region(field.name);
            if (region) values.region(field.name, region->mapped([&](PointMm point) { return by.of(point); }));
        } else if (field.type == FieldType::placement) {
            const auto placement = record.body.placement(field.name);
            if (!placement) continue;
            const auto now = stretched(*placement, by, face);
            if (!now) return pass_on(now);
            put_placement(values, record.body, field.name, *now);
        }
    }
    return values;
}

// The frame after this one was joined to its old millimetres.
Expected<FieldValues> joint_to_stretched(const Record& newer, const Stretch& by) {
    FieldValues values;
    const auto joint = newer.body.placement("new_from_old");
    if (!joint) return values;
    const auto plane = compose(joint->face_from_photo, Homography::scaling(1.0 / by.across, 1.0 / by.down));
    if (!plane) return pass_on(plane);
    put_placement(values, newer.body, "new_from_old", {*plane, joint->displacement, joint->error_mm});
    return values;
}

Edit patch_of(const Uuid& record, FieldValues values) {
    Edit edit;
    edit.operation = casebook::Operation::patch;
    edit.record = record;
    edit.values = std::move(values);
    return edit;
}

// Registrations stand that were made over a photograph which has only been stretched with its face.
void follow_reference(std::vector<Edit>& edits, const CaseSnapshot& snapshot, const Record& photograph,
                      const FieldValues& values) {
    Record after = photograph;
    after.body = body_with(photograph.body, values);
    for (const Record* registration : snapshot.of_kind("registration")) {
        if (registration->body.record("reference") != photograph.id) continue;
        if (registration->body.text("reference_placed") != casebook::placement_digest(photograph)) continue;
        edits.push_back(
            patch_of(registration->id, FieldValues().text("reference_placed", casebook::placement_digest(after))));
    }
}

bool carries_photograph(const CaseSnapshot& snapshot, const Record& frame) {
    return std::ranges::any_of(snapshot.of_kind("photograph"), [&](const Record* photograph) {
        return photograph->body.record("face_frame") == frame.id && casebook::is_placed(*photograph);
    });
}

Expected<void> stretch_all_on(std::vector<Edit>& edits, const CaseSnapshot& snapshot, const Record& frame,
                              const Stretch& by) {
    if (!carries_photograph(snapshot, frame)) return {};
    const SizeMm face = casebook::size_of_frame(frame);
    for (const Record& record : snapshot.records) {
        Expected<FieldValues> values = FieldValues();
        const bool lies_on_it = record.id == frame.id || record.body.record("face_frame") == frame.id;
        if (lies_on_it) values = places_stretched(record, by, face);
        if (record.kind == "face_frame" && record.body.record("older") == frame.id)
            values = joint_to_stretched(record, by);
        if (!values) return pass_on(values);
        if (values->empty()) continue;
        if (record.kind == "photograph") follow_reference(edits, snapshot, record, *values);
        edits.push_back(patch_of(record.id, *std::move(values)));
    }
    return {};
}

void write_into(CaseSnapshot& snapshot, const std::vector<Edit>& edits) {
    for (const Edit& edit : edits) {
        const auto record = std::ranges::find(snapshot.records, edit.record, &Record::id);
        if (record != snapshot.records.end()) record->body = body_with(record->body, edit.values);
    }
}

// One frame after the other, each as the one before has left the joint between them.
Expected<void> size_follows(std::vector<Edit>& edits, CaseSnapshot now, const Record& picture, const Body& after) {
    const SizeMm was{picture.body.number("width_mm").value_or(0), picture.body.number("height_mm").value_or(0)};
    if (!stretch_between(was, after)) return {};
    for (std::size_t i = 0; i < now.records.size(); ++i) {
        const Record frame = now.records[i];
        const std::string face = frame.body.text_or("face");
        const bool is_side = face == to_text(Face::recto) || face == to_text(Face::verso);
        if (frame.kind != "face_frame" || !is_side || !is_same_size(casebook::size_of_frame(frame), was)) continue;
        FieldValues size;
        size.number("width_mm", *after.number("width_mm")).number("height_mm", *after.number("height_mm"));
        auto made = edits_of_new_size(now, frame, body_with(frame.body, size));
        if (!made) return pass_on(made);
        made->push_back(patch_of(frame.id, size));
        write_into(now, *made);
        std::ranges::move(*made, std::back_inserter(edits));
    }
    return {};
}

// Several patches of one record become one, the latest values in it.
std::vector<Edit> one_each(std::vector<Edit> edits) {
    std::vector<Edit> out;
    for (Edit& edit : edits) {
        const auto same = std::ranges::find(out, edit.record, &Edit::record);
        if (same == out.end()) {
            out.push_back(std::move(edit));
            continue;
        }
        for (const auto& [path, value] : edit.values.set_values().items()) same->values.value(path, value);
    }
    return out;
}

}  // namespace

Expected<std::vector<Edit>> edits_of_new_size(const CaseSnapshot& snapshot, const Record& before, const Body& after) {
    std::vector<Edit> edits;
    if (before.kind == "case") {
        if (auto followed = size_follows(edits, snapshot, before, after); !followed) return pass_on(followed);
    } else if (before.kind == "face_frame") {
        const auto by = stretch_between(casebook::size_of_frame(before), after);
        if (!by) return edits;
        if (auto laid = stretch_all_on(edits, snapshot, before, *by); !laid) return pass_on(laid);
    }
    return one_each(std::move(edits));
}

Expected<std::vector<Edit>> with_what_follows(const Acting& acting, const Edit& edit, const Record& before,
                                              const Body& after) {
    if (before.kind != "case" && before.kind != "face_frame") return with_frames(acting, edit, after);
    const auto snapshot = acting.book.snapshot(before.kind == "case" ? before.id : before.case_id);
    if (!snapshot) return pass_on(snapshot);
    auto following = edits_of_new_size(*snapshot, before, after);
    if (!following) return pass_on(following);
    std::vector<Edit> edits{edit};
    for (Edit& each : *following) {
        if (each.record != edit.record) {
            edits.push_back(std::move(each));
            continue;
        }
        for (const auto& [path, value] : each.values.set_values().items()) {
            if (!edit.values.set_values().contains(path)) edits.front().values.value(path, value);
        }
    }
    return edits;
}

}  // namespace tedge::usecases
