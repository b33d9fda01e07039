#include "tedge/usecases/epochs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::Operation;
using casebook::Record;

constexpr std::array<std::string_view, 7> moving_acts{"lining",     "strip-lining", "loose-lining", "relining",
                                                      "marouflage", "transfer",     "stretcher"};

bool is_in_force(const CaseSnapshot& snapshot, const Record& frame) {
    const auto opener = frame.body.record("opened_by");
    const Record* step = opener ? snapshot.find(*opener) : nullptr;
    return !opener || (step != nullptr && changes_support(step->body));
}

// A stage that only a newer program knows is taken for a late one.
int rank_of(const Body& photograph) {
    const int rank = casebook::stage_rank(photograph.text_or("stage"));
    return rank < 0 ? std::numeric_limits<int>::max() : rank;
}

// Whether the photograph was taken after the frame began.
bool is_after(const Body& photograph, const Body& frame) {
    const std::string day = photograph.text_or("taken_at").substr(0, 10);
    const std::string from = frame.text_or("epoch_from");
    if (day.empty() || from.empty() || day > from) return true;
    return day == from && rank_of(photograph) >= casebook::stage_rank("lined");
}

bool shows_first_epoch(const Body& photograph) {
    return rank_of(photograph) <= casebook::stage_rank("before-facing");
}

Edit new_frame(const CaseSnapshot& snapshot, const Record& older, const Uuid& step, const Body& body,
               const std::string& from) {
    Edit edit;
    edit.case_id = snapshot.picture.id;
    edit.kind = "face_frame";
    edit.values.text("face", older.body.text_or("face"))
        .number("width_mm", older.body.number("width_mm").value_or(0))
        .number("height_mm", older.body.number("height_mm").value_or(0))
        .record("older", older.id)
        .record("opened_by", step)
        .text("epoch_from", from)
        .text("epoch_why", body.text_or("act"));
    return edit;
}

// The newest frame of a face that began on or before this day and was not opened by this step.
const Record* frame_before(const CaseSnapshot& snapshot, Face face, const Uuid& step, const std::string& day) {
    const Record* before = nullptr;
    for (const Record* frame : frames_in_force(snapshot, face)) {
        const bool own = frame->body.record("opened_by") == step;
        if (!own && frame->body.text_or("epoch_from") <= day) before = frame;
    }
    return before;
}

std::vector<const Record*> opened_by(const CaseSnapshot& snapshot, const Uuid& step) {
    std::vector<const Record*> frames = snapshot.of_kind("face_frame");
    std::erase_if(frames, [&](const Record* frame) { return frame->body.record("opened_by") != step; });
    return frames;
}

Edit begun_on(const Uuid& frame, const std::string& day) {
    Edit edit;
    edit.operation = Operation::patch;
    edit.record = frame;
    edit.values.text("epoch_from", day);
    return edit;
}

}  // namespace

bool is_same_size(SizeMm a, SizeMm b) {
    constexpr double same_size_mm = 0.5;
    return std::abs(a.width_mm - b.width_mm) < same_size_mm && std::abs(a.height_mm - b.height_mm) < same_size_mm;
}

bool changes_support(const Body& step) {
    return !step.flag("planned") && std::ranges::find(moving_acts, step.text_or("act")) != moving_acts.end();
}

std::vector<const Record*> frames_in_force(const CaseSnapshot& snapshot, Face face) {
    std::vector<const Record*> frames = snapshot.of_kind("face_frame");
    std::erase_if(frames, [&](const Record* frame) {
        return frame->body.text_or("face") != to_text(face) || !is_in_force(snapshot, *frame);
    });
    std::ranges::stable_sort(frames, {}, [](const Record* frame) { return frame->body.text_or("epoch_from"); });
    return frames;
}

const Record* current_frame(const CaseSnapshot& snapshot, Face face) {
    const auto frames = frames_in_force(snapshot, face);
    return frames.empty() ? nullptr : frames.back();
}

const Record* frame_of_photograph(const CaseSnapshot& snapshot, const Record& photograph) {
    const auto face = parse_face(photograph.body.text_or("face"));
    const auto frames = face ? frames_in_force(snapshot, *face) : std::vector<const Record*>();
    if (frames.empty()) return nullptr;
    const auto placed_on = photograph.body.record("face_frame");
    const auto own = std::ranges::find_if(frames, [&](const Record* frame) { return frame->id == placed_on; });
    if (own != frames.end()) return *own;
    if (shows_first_epoch(photograph.body)) return frames.front();
    const Record* newest = frames.front();
    for (const Record* frame : frames) {
        if (is_after(photograph.body, frame->body)) newest = frame;
    }
    return newest;
}

const Record* frame_to_show(const CaseSnapshot& snapshot, Face face, const std::optional<Uuid>& photograph) {
    const Record* current = current_frame(snapshot, face);
    const Record* looked_at = photograph ? snapshot.find(*photograph) : nullptr;
    if (current == nullptr || looked_at == nullptr) return current;
    const auto own = looked_at->body.record("face_frame");
    if (!own || casebook::placement_on_frame(snapshot, *looked_at, current->id)) return current;
    const Record* older = snapshot.find(*own);
    return older != nullptr ? older : current;
}

std::vector<Edit> frames_that_follow(const CaseSnapshot& snapshot, const Uuid& step, const Body& body,
                                     const std::string& today) {
    std::vector<Edit> edits;
    if (!changes_support(body)) return edits;
    const std::string day = body.text_or("done_on", today);
    const auto opened = opened_by(snapshot, step);
    for (const Record* frame : opened) {
        if (body.has("done_on") && frame->body.text_or("epoch_from") != day) edits.push_back(begun_on(frame->id, day));
    }
    if (!opened.empty()) return edits;
    for (const Face face : {Face::recto, Face::verso}) {
        const Record* older = frame_before(snapshot, face, step, day);
        if (older != nullptr) edits.push_back(new_frame(snapshot, *older, step, body, day));
    }
    return edits;
}

Expected<std::vector<Edit>> with_frames(const Acting& acting, const Edit& edit, const Body& body) {
    if (edit.kind != "structure_step") return std::vector{edit};
    const auto snapshot = acting.book.snapshot(edit.case_id);
    if (!snapshot) return pass_on(snapshot);
    std::vector<Edit> edits{edit};
    const std::string today = to_text(acting.clock.now()).substr(0, 10);
    for (Edit& frame : frames_that_follow(*snapshot, edit.record, body, today)) edits.push_back(std::move(frame));
    return edits;
}

Expected<MeasuredMove> measure_move(const Placement& new_from_photo, const Placement& old_from_photo, SizeMm face) {
    constexpr double cells = 32.0;  // as fine as canvas moves: half a hand on a picture of two metres
    const auto plane = compose(new_from_photo.face_from_photo, old_from_photo.face_from_photo.inverse());
    if (!plane) return pass_on(plane);
    const auto exact = [&](PointPx old) -> std::optional<PointMm> {
        const auto pixel = old_from_photo.to_photo({old.x_px, old.y_px});
        return pixel ? std::optional(new_from_photo.to_face(*pixel)) : std::nullopt;
    };
    const BoxMm over{{0.0, 0.0}, {face.width_mm, face.height_mm}};
    const auto map = placement_along(*plane, exact, over, std::max(face.width_mm, face.height_mm) / cells);
    if (!map) return pass_on(map);
    MeasuredMove move{*map, 0.0, 0.0};
    constexpr int steps = 24;
    for (int row = 0; row <= steps; ++row) {
        for (int column = 0; column <= steps; ++column) {
            const PointMm old{face.width_mm * column / steps, face.height_mm * row / steps};
            const PointMm now = map->to_face({old.x_mm, old.y_mm});
            const double way = std::hypot(now.x_mm - old.x_mm, now.y_mm - old.y_mm);
            move.mean_mm += way / ((steps + 1) * (steps + 1));
            move.most_mm = std::max(move.most_mm, way);
        }
    }
    move.new_from_old.error_mm = std::hypot(map->error_mm, old_from_photo.error_mm);
    return move;
}

}  // namespace tedge::usecases
