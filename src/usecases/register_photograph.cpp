#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "act_values.hpp"
#include "frame_making.hpp"
#include "local_error.hpp"
#include "registered_joints.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/placed_by.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::Operation;
using casebook::Record;

// Millimetres a pixel of the photograph covers near its middle.
double mm_per_px(const Placement& placement, SizePx size) {
    const double x = size.width_px / 2.0;
    const double y = size.height_px / 2.0;
    const PointMm a = placement.to_face({x, y});
    const PointMm b = placement.to_face({x + 1, y});
    return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

// Light through the canvas shows the painting from behind, mirror-wise; in ordinary light the back shows nothing of it.
bool is_seen_from_behind(const Record& reference, const Record& moving) {
    return reference.body.text_or("face") == to_text(Face::recto) &&
           moving.body.text_or("face") == to_text(Face::verso) && moving.body.text_or("light") == "transmitted";
}

Expected<void> may_be_compared(const Record& reference, const Record& moving) {
    if (!reference.body.placement("face_from_photo")) {
        return fail("photograph.not-placed", "The reference photograph is not placed on the picture yet.",
                    "Place it first by the four corners of the painted face.");
    }
    if (reference.body.text_or("face") != moving.body.text_or("face") && !is_seen_from_behind(reference, moving)) {
        return fail("photograph.other-face",
                    fmt::format("One photograph shows the {}, the other the {}.", reference.body.text_or("face"),
                                moving.body.text_or("face")),
                    "Choose two photographs of one face. A back in ordinary light shows nothing of the painting and is "
                    "placed by its measured corners; with light through the canvas it can be laid over a placed "
                    "photograph of the front.");
    }
    return {};
}

Edit report_record(const Uuid& id, const Record& reference, const Record& moving,
                   const imaging::RegistrationReport& report, double error_mm) {
    const std::string found = report.pairs ? "pairs of points" : "features";
    Edit edit;
    edit.record = id;
    edit.case_id = moving.case_id;
    edit.kind = "registration";
    edit.values.record("reference", reference.id)
        .record("moving", moving.id)
        .flag("usable", report.usable)
        .text("reason", report.reason)
        .integer("inliers", report.inliers)
        .number("residual_px", report.residual_px)
        .text("method", found + ", tiles, B-spline residual" + (report.mirrored ? ", mirrored" : ""));
    if (report.usable)
        edit.values.number("error_mm", error_mm)
            .text("reference_placed", casebook::placement_digest(reference))
            .value("error_grid", error_grid_json(report.error_map));
    return edit;
}

// The frames of the two photographs, and what has to be done about them.
struct Lie {
    std::optional<Uuid> reference_frame;
    const Record* own_frame = nullptr;  // of the moving photograph, where it is another one
    bool joins = false;                 // the two are not joined yet: this photograph measures the move
};

bool are_joined(const CaseSnapshot& snapshot, const Record& reference, const Uuid& frame) {
    return casebook::placement_on_frame(snapshot, reference, frame).has_value();
}

Expected<Lie> how_they_lie(const CaseSnapshot& snapshot, const Record& reference, const Record& moving) {
    Lie lie{reference.body.record("face_frame"), frame_of_photograph(snapshot, moving), false};
    if (!lie.reference_frame || lie.own_frame == nullptr || lie.own_frame->id == lie.reference_frame) {
        lie.own_frame = nullptr;
        return lie;
    }
    lie.joins = !are_joined(snapshot, reference, lie.own_frame->id);
    if (!lie.joins) return lie;
    if (is_seen_from_behind(reference, moving)) {
        return fail("photograph.other-epoch",
                    "The back of this time and the front of the reference's time are not joined by any measurement.",
                    "Lay it over a photograph of the front of the same time.");
    }
    const Record* older = snapshot.find(*lie.reference_frame);
    if (older != nullptr && older->body.text_or("epoch_from") > lie.own_frame->body.text_or("epoch_from")) {
        return fail("photograph.older-frame", "The canvas moved after this photograph, and nobody measured how.",
                    "Lay the newer photograph over the older one instead.");
    }
    if (moving.body.record("face_frame") != lie.own_frame->id || !moving.body.has("face_from_photo")) {
        return fail("photograph.new-frame",
                    fmt::format("The canvas has moved since the reference was taken ({}), and nothing lies on the new "
                                "frame yet.",
                                lie.own_frame->body.text_or("epoch_why")),
                    "Place this photograph by the four corners of the painted face, then lay it over the older one: "
                    "that measures how the canvas moved.");
    }
    return lie;
}

Edit placed_on(const Record& moving, const std::optional<Uuid>& frame, const Placement& placement,
               const Uuid& registration) {
    Edit place;
    place.operation = Operation::patch;
    place.record = moving.id;
    casebook::place_by(place.values, placement, registration);
    if (frame) place.values.record("face_frame", *frame);
    return place;
}

// The new frame follows directly on the reference's: what lies between the two was never measured.
Expected<Edit> join(const Lie& lie, const Record& moving, const Placement& on_old, RegisteredPhotograph& result) {
    const SizeMm size = casebook::size_of_frame(*lie.own_frame);
    const auto moved = measure_move(*moving.body.placement("face_from_photo"), on_old, size);
    if (!moved) return pass_on(moved);
    result.move = {lie.own_frame->id, moved->mean_mm, moved->most_mm, moved->new_from_old.error_mm};
    Edit edit;
    edit.operation = Operation::patch;
    edit.record = lie.own_frame->id;
    edit.values.placement("new_from_old", moved->new_from_old)
        .record("older", *lie.reference_frame)
        .record("reference", moving.id);
    return edit;
}

Expected<std::vector<Edit>> placing_edits(const CaseSnapshot& snapshot, const Lie& lie, const Record& moving,
                                          const Placement& on_reference_frame, RegisteredPhotograph& result) {
    if (lie.own_frame == nullptr)
        return std::vector{placed_on(moving, lie.reference_frame, on_reference_frame, result.registration)};
    if (lie.joins) {
        auto joined = join(lie, moving, on_reference_frame, result);
        if (!joined) return pass_on(joined);
        return std::vector{*std::move(joined)};
    }
    const auto carried = casebook::carried_over(snapshot, on_reference_frame, *lie.reference_frame, lie.own_frame->id);
    if (!carried) {
        return fail("geometry.no-inverse", "The map between the two frames folds over itself there.",
                    "Measure again how the canvas moved.");
    }
    result.error_mm = carried->error_mm;
    return std::vector{placed_on(moving, lie.own_frame->id, *carried, result.registration)};
}

// Takes back the one edit that places or joins.
Expected<Done> taken_back(casebook::Casebook& book, const Edit& edit) {
    const auto before = book.record(edit.record);
    if (!before) return pass_on(before);
    Edit inverse;
    inverse.operation = Operation::patch;
    inverse.record = edit.record;
    inverse.values = inverse_values(before->body, edit.values);
    return Done{edit.record, std::move(inverse)};
}

// The two photographs as the book has them at one moment.
struct Pair {
    Record reference;
    Record moving;
    CaseSnapshot snapshot;
    Placement placement;  // of the reference

    // Asked before the pixels are, and again in the act that writes: matching takes seconds, in which canvas may have
    // been lined, a face corrected, a photograph deleted.
    static Expected<Pair> read(casebook::Casebook& book, const Uuid& reference, const Uuid& photograph) {
        const auto still = existing_photograph(book, reference);
        if (!still) return pass_on(still);
        const auto moving = existing_photograph(book, photograph);
        if (!moving) return pass_on(moving);
        if (const auto two = check_two_of_one_case(*still, *moving); !two) return pass_on(two);
        if (auto checked = may_be_compared(*still, *moving); !checked) return pass_on(checked);
        auto snapshot = book.snapshot(moving->case_id);
        if (!snapshot) return pass_on(snapshot);
        return Pair{*still, *moving, *std::move(snapshot), *still->body.placement("face_from_photo")};
    }
    [[nodiscard]] Expected<Lie> lie() const { return how_they_lie(snapshot, reference, moving); }
};

// Raking light falls from one side; what shines in ultraviolet, or is seen in infrared or against the light, is not
// shaded as the usual lamps do.
imaging::LightDifference light_difference(const Record& reference, const Record& moving) {
    const auto is = [&](std::string_view light) {
        return std::pair{reference.body.text_or("light") == light, moving.body.text_or("light") == light};
    };
    const auto raking = is("raking");
    if (raking.first || raking.second) return imaging::LightDifference::one_side;
    for (const std::string_view kind : {"ultraviolet", "infrared", "transmitted"}) {
        const auto shown = is(kind);
        if (shown.first != shown.second) return imaging::LightDifference::other_kind;
    }
    return imaging::LightDifference::none;
}

// A front that was filed as a back would come to lie mirror-wise.
void refuse_unmirrored(imaging::RegistrationReport& report) {
    if (!report.usable || report.mirrored) return;
    report.usable = false;
    report.code = "registration.not-mirrored";
    report.reason = "It shows the painting the right way round, so it was taken from the front.";
}

Expected<imaging::RegistrationReport> matched(const Acting& acting, const Pair& pair,
                                              const std::vector<imaging::PointPair>& points, const Progress& progress) {
    const auto still = srgb_of(acting.book, pair.reference.body.text_or("sha256"), progress.part(0.0, 0.1));
    if (!still) return pass_on(still);
    const auto moving = srgb_of(acting.book, pair.moving.body.text_or("sha256"), progress.part(0.1, 0.2));
    if (!moving) return pass_on(moving);
    imaging::RegistrationOptions options;
    options.reference_mm_per_px = mm_per_px(pair.placement, still->size());
    options.light = light_difference(pair.reference, pair.moving);
    options.accept_mirrored = is_seen_from_behind(pair.reference, pair.moving);
    options.pairs = points;
    auto report = imaging::register_pictures(*still, *moving, options, progress.part(0.2, 0.95));
    if (report && options.accept_mirrored) refuse_unmirrored(*report);
    return report;
}

// The back of a painting has no frame until something is placed on it.
Expected<Pair> with_frame_of_its_own(const Acting& acting, const Pair& pair, RegisteredPhotograph& result) {
    if (!is_seen_from_behind(pair.reference, pair.moving)) return pair;
    auto frame = frame_for(acting, pair.snapshot, pair.moving, Face::verso, {});
    if (!frame) return pass_on(frame);
    if (!frame->made) return pair;
    result.frame_made = *std::move(frame->made);
    return Pair::read(acting.book, pair.reference.id, pair.moving.id);
}

Expected<void> place(const Acting& acting, const Pair& before, const imaging::RegistrationReport& report,
                     std::vector<Edit>& edits, RegisteredPhotograph& result) {
    const auto framed = with_frame_of_its_own(acting, before, result);
    if (!framed) return pass_on(framed);
    const Pair& pair = *framed;
    const auto lie = pair.lie();
    if (!lie) return pass_on(lie);
    const auto composed = imaging::compose_placement(pair.placement, report);
    if (!composed) return pass_on(composed);
    result.error_mm = composed->face_from_moving.error_mm;
    auto placing = placing_edits(pair.snapshot, *lie, pair.moving, composed->face_from_moving, result);
    if (!placing) return pass_on(placing);
    edits = *std::move(placing);
    auto undo = taken_back(acting.book, edits.front());
    if (!undo) return pass_on(undo);
    result.placed = *std::move(undo);
    return {};
}

Expected<RegisteredPhotograph> recorded(const Acting& acting, const Pair& pair,
                                        const imaging::RegistrationReport& report) {
    RegisteredPhotograph result;
    result.registration = acting.book.new_id();  // the placement names it
    result.usable = report.usable;
    result.reason = report.reason;
    result.inliers = report.inliers;
    result.residual_px = report.residual_px;
    result.seconds = report.seconds;
    result.pairs = report.pairs;
    std::vector<Edit> edits;
    if (report.usable) {
        if (auto placed = place(acting, pair, report, edits, result); !placed) return pass_on(placed);
    }
    edits.insert(edits.begin(),
                 report_record(result.registration, pair.reference, pair.moving, report, result.error_mm));
    const auto made = acting.book.commit(acting.author, edits);
    if (!made) return pass_on(made);
    return result;
}

}  // namespace

Expected<RegisteredPhotograph> register_photograph(const Acting& acting, const Uuid& reference, const Uuid& photograph,
                                                   const Progress& progress,
                                                   const std::vector<imaging::PointPair>& pairs) {
    const auto before = Pair::read(acting.book, reference, photograph);
    if (!before) return pass_on(before);
    if (const auto lie = before->lie(); !lie) return pass_on(lie);
    const auto report = matched(acting, *before, pairs, progress);
    if (!report) return pass_on(report);
    return acting.book.in_one_act([&]() -> Expected<RegisteredPhotograph> {
        const auto now = Pair::read(acting.book, reference, photograph);
        if (!now) return pass_on(now);
        return recorded(acting, *now, *report);
    });
}

}  // namespace tedge::usecases
