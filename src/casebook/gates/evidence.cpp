#include "gates/evidence.hpp"

#include "tedge/base/text.hpp"
#include "tedge/casebook/findings.hpp"

namespace tedge::casebook {

namespace {

// Whether two frames show the same piece of canvas or panel at all: an edge or the frame of wood is elsewhere. Of a
// frame that is not here any more nobody knows.
bool may_meet(const CaseSnapshot& snapshot, const Uuid& a, const Uuid& b) {
    const auto sheet = [](Face face) { return face == Face::recto || face == Face::verso; };
    const auto face_a = face_of_frame(snapshot, a);
    const auto face_b = face_of_frame(snapshot, b);
    if (!face_a || !face_b) return true;
    return (sheet(*face_a) && sheet(*face_b)) || face_a == face_b;
}

}  // namespace

bool is_as_found(const Body& photograph) {
    const std::string stage = photograph.text_or("stage");
    return stage == "as-received" || stage == "before-facing" || stage == "unframed";
}

bool has_size(const Body& photograph) {
    return photograph.flag("has_scale") || photograph.has("face_from_photo");
}

bool has_guessed_photograph(const CaseSnapshot& snapshot) {
    return std::ranges::any_of(snapshot.of_kind("photograph"),
                               [](const Record* photograph) { return photograph->body.flag("guessed"); });
}

bool is_written(const Body& fields, std::string_view field) {
    return !trimmed(fields.text_or(field)).empty();
}

std::vector<UnstablePlace> unstable_places(const CaseSnapshot& snapshot, const Uuid& in_frame) {
    std::vector<UnstablePlace> places;
    for (const Record* finding : snapshot.of_kind("finding")) {
        const Body& body = finding->body;
        const auto on = body.record("face_frame");
        const auto region = body.region("region");
        if (!is_open_danger(snapshot, *finding) || !on || !region) continue;
        if (!may_meet(snapshot, *on, in_frame)) continue;
        const auto here = seen_in_frame(snapshot, *region, *on, in_frame);
        if (!here) {
            places.push_back({finding, std::nullopt});
            continue;
        }
        Region left = still_loose(snapshot, *finding, *here, in_frame);
        if (!left.empty()) places.push_back({finding, std::move(left)});
    }
    return places;
}

std::string newest_answer(const CaseSnapshot& snapshot, std::string_view face, std::string_view question) {
    const Record* newest = nullptr;
    for (const Record* survey : snapshot.of_kind("survey")) {
        if (survey->body.text("face") != face || !survey->body.has(question)) continue;
        if (newest == nullptr || is_newer_survey(*survey, *newest)) newest = survey;
    }
    return newest != nullptr ? newest->body.text_or(question) : std::string();
}

}  // namespace tedge::casebook
