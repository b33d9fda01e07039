// Gate 16, before lining or covering the back: inscriptions, stamps, labels, edges and nail holes recorded (or found
// illegible, or none found); the owner agrees; other choices considered. Warned about: transmitted light ("opaque" is
// an answer), thread count, consolidation done or part of it, a test strip. Common practice.
#include <fmt/format.h>

#include <array>

#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

bool covers_back(const Act& act) {
    constexpr std::array<std::string_view, 7> acts{"lining",     "strip-lining", "loose-lining", "relining",
                                                   "marouflage", "transfer",     "patch"};
    return act.kind == "structure_step" && std::ranges::find(acts, act.fields.text_or("act")) != acts.end();
}

bool is_behind(const CaseSnapshot& snapshot, const Body& inscription) {
    const auto frame = inscription.record("face_frame");
    const auto face = frame ? face_of_frame(snapshot, *frame) : std::nullopt;
    return face && *face != Face::recto && *face != Face::frame_front;
}

// Recorded is what can be read again when the back is covered: its words, its picture, or that nobody can read it.
bool is_kept(const Body& inscription) {
    return is_written(inscription, "transcription") || inscription.has("photograph") ||
           inscription.text("reading") == "illegible";
}

bool has_kept_one(const CaseSnapshot& snapshot, std::string_view kinds) {
    const auto sorts = split(kinds, ' ');
    for (const Record* record : snapshot.of_kind("inscription")) {
        const Body& body = record->body;
        const bool of_sort = std::ranges::find(sorts, body.text_or("kind")) != sorts.end();
        if (of_sort && is_behind(snapshot, body) && is_kept(body)) return true;
    }
    return false;
}

// The surveyor's answer decides; where nobody was asked, a record of the thing is answer enough.
bool is_back_recorded(const CaseSnapshot& snapshot, std::string_view question, std::string_view kinds) {
    const std::string answer = newest_answer(snapshot, "verso", question);
    if (answer == "none-found" || answer == "illegible") return true;
    if (answer == "not-looked") return false;
    return has_kept_one(snapshot, kinds);
}

constexpr std::array<std::string_view, 4> edges{"edge-top", "edge-right", "edge-bottom", "edge-left"};

std::vector<std::string> unrecorded_edges(const CaseSnapshot& snapshot) {
    std::vector<std::string> missing;
    const auto surveys = snapshot.of_kind("survey");
    for (const std::string_view edge : edges) {
        const auto on_it = [&](const Body& body) { return body.text("face") == edge; };
        const bool surveyed = std::ranges::any_of(surveys, [&](const Record* survey) { return on_it(survey->body); });
        if (!surveyed && !any_photograph(snapshot, on_it)) missing.emplace_back(edge.substr(5));
    }
    return missing;
}

bool are_nail_holes_recorded(const CaseSnapshot& snapshot) {
    const auto answers = [&](std::string_view face) {
        const std::string answer = newest_answer(snapshot, face, "nail_holes");
        return !answer.empty() && answer != "not-looked";
    };
    return answers("verso") || std::ranges::all_of(edges, answers);
}

bool is_thread_count_known(const CaseSnapshot& snapshot) {
    const auto measurements = snapshot.of_kind("measurement");
    return std::ranges::any_of(measurements, [](const Record* measurement) {
        return lowered_ascii(measurement->body.text_or("what")).find("thread") != std::string::npos;
    });
}

bool is_light_through_known(const CaseSnapshot& snapshot) {
    return newest_answer(snapshot, "verso", "transmitted_light") == "opaque" ||
           any_photograph(snapshot, [](const Body& photograph) { return photograph.text("light") == "transmitted"; });
}

// Nothing loose is left on the front, as far as the findings know.
bool is_consolidated(const CaseSnapshot& snapshot) {
    for (const Record* frame : snapshot.of_kind("face_frame")) {
        if (frame->body.text("face") == "recto" && !unstable_places(snapshot, frame->id).empty()) return false;
    }
    return true;
}

void ask_for_record(Asking& asking) {
    const CaseSnapshot& snapshot = asking.snapshot();
    struct Asked {
        std::string_view name;
        std::string_view label;
        std::string_view kinds;
    };
    constexpr std::array questions{Asked{"inscriptions", "Inscriptions", "inscription signature chalk-mark number"},
                                   Asked{"stamps", "Stamps", "stamp seal"}, Asked{"labels", "Labels", "label"}};
    for (const Asked& asked : questions) {
        asking.closed_unless(
            is_back_recorded(snapshot, asked.name, asked.kinds),
            {asked.name, fmt::format("{} on the back are not recorded and will be covered.", asked.label),
             "Record them with words or a photograph, or answer \"none found\" or \"illegible\" in "
             "the survey of the verso.",
             "survey"});
    }
    const auto missing = unrecorded_edges(snapshot);
    asking.closed_unless(missing.empty(), {"edges", fmt::format("Edges without a record: {}.", join(missing, ", ")),
                                           "Photograph or survey each edge.", "photographs"});
    asking.closed_unless(are_nail_holes_recorded(snapshot),
                         {"nail-holes", "The nail holes are not recorded.",
                          "Answer for the nail holes in the survey of the verso or of every edge.", "survey"});
}

void ask_lining(Asking& asking) {
    const CaseSnapshot& snapshot = asking.snapshot();
    const Body& step = asking.act().fields;
    ask_for_record(asking);
    asking.closed_unless(step.flag("owner_agreed"), {"owner-agrees", "The owner has not agreed to it.",
                                                     "Put it to the owner and record the answer.", "structure"});
    asking.closed_unless(is_written(step, "alternatives"),
                         {"alternatives", "It is not said which other choices were considered.",
                          "Write down what else was considered and why it was not taken.", "structure"});
    asking.warns_unless(is_light_through_known(snapshot),
                        {"transmitted-light", "The canvas has not been looked at against the light.",
                         "Photograph it in transmitted light, or answer \"opaque\" in the survey of the verso.",
                         "photographs", Answered::once_for_picture});
    asking.warns_unless(is_thread_count_known(snapshot), {"thread-count", "The threads have not been counted.",
                                                          "Measure the thread count on a photograph of the verso.",
                                                          "structure", Answered::once_for_picture});
    asking.warns_unless(step.flag("consolidation_included") || is_consolidated(snapshot),
                        {"consolidation", "Loose paint is neither consolidated nor is that part of the work.",
                         "Consolidate first, or say that it is part of it.", "treatment"});
    asking.warns_unless(is_written(step, "test_strip"),
                        {"test-strip", "There is no test strip.", "Make one and record what it showed.", "structure"});
}

}  // namespace

const GateRule gate_lining{16, "lining or covering the back", covers_back, ask_lining,
                           "act planned owner_agreed alternatives consolidation_included test_strip"};

}  // namespace tedge::casebook
