// Gate 7, before any cleaning trial: recto and verso photographed as found in normal light with a scale; loose paint
// mapped, or none found. Raking and ultraviolet light, a colour chart and a full survey are warned about. Common
// practice.
#include <array>

#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"
#include "tedge/casebook/findings.hpp"

namespace tedge::casebook {

namespace {

bool is_recorded_as_found(const Asking& asking, std::string_view face) {
    return any_photograph(asking.snapshot(), [&](const Body& photograph) {
        return photograph.text("face") == face && photograph.text("light") == "normal" && is_as_found(photograph) &&
               has_size(photograph);
    });
}

bool is_seen_in(const Asking& asking, std::string_view light) {
    return any_photograph(asking.snapshot(), [&](const Body& photograph) {
        return photograph.text("face") == "recto" && photograph.text("light") == light;
    });
}

// A map is a place on a face; what is only named can be kept clear of by nobody.
bool has_unstable_finding(const CaseSnapshot& snapshot) {
    const auto findings = snapshot.of_kind("finding");
    return std::ranges::any_of(findings, [](const Record* finding) {
        return is_unstable(finding->body) && finding->body.region("region") && finding->body.record("face_frame");
    });
}

bool is_loose_paint_known(const CaseSnapshot& snapshot) {
    const std::string answer = newest_answer(snapshot, "recto", "loose_paint");
    return answer == "none-found" || (answer == "mapped" && has_unstable_finding(snapshot));
}

// Every face of the canvas or panel was surveyed, or it is said why it could not be.
bool is_fully_surveyed(const CaseSnapshot& snapshot) {
    constexpr std::array<std::string_view, 6> faces{"recto",      "verso",       "edge-top",
                                                    "edge-right", "edge-bottom", "edge-left"};
    const auto surveys = snapshot.of_kind("survey");
    return std::ranges::all_of(faces, [&](std::string_view face) {
        return std::ranges::any_of(surveys, [&](const Record* survey) { return survey->body.text("face") == face; });
    });
}

void ask_for_photographs(Asking& asking) {
    asking.closed_unless(
        is_recorded_as_found(asking, "recto"),
        {"recto-as-found", "The recto has not been photographed as found in normal light with a scale.",
         "Photograph the whole recto in normal light with a scale beside it.", "photographs"});
    asking.closed_unless(
        is_recorded_as_found(asking, "verso"),
        {"verso-as-found", "The verso has not been photographed as found in normal light with a scale.",
         "Photograph the whole verso in normal light with a scale beside it.", "photographs"});
    asking.warns_unless(is_seen_in(asking, "raking"),
                        {"raking", "There is no photograph in raking light.",
                         "Photograph the recto in raking light, or say why it is not possible.", "photographs",
                         Answered::once_for_picture});
    asking.warns_unless(is_seen_in(asking, "ultraviolet"),
                        {"ultraviolet", "There is no photograph in ultraviolet light.",
                         "Photograph the recto in ultraviolet light, with eyes and skin protected, or say why it is "
                         "not possible.",
                         "photographs", Answered::once_for_picture});
    const auto with_chart = [](const Body& photograph) { return photograph.flag("has_chart"); };
    asking.warns_unless(any_photograph(asking.snapshot(), with_chart),
                        {"colour-chart", "No photograph shows a colour chart: colours cannot be measured later.",
                         "Photograph the recto with a colour chart beside it, or say why it is not possible.",
                         "photographs", Answered::once_for_picture});
}

void ask_cleaning_trial(Asking& asking) {
    asking.closed_unless(is_loose_paint_known(asking.snapshot()),
                         {"loose-paint", "Loose paint has neither been mapped nor looked for and not found.",
                          "Survey the recto and map what is loose, or record that none was found.", "survey"});
    ask_for_photographs(asking);
    asking.warns_unless(
        is_fully_surveyed(asking.snapshot()),
        {"full-survey", "Not every face has been surveyed.",
         "Survey recto, verso and the four edges, or say why one cannot be.", "survey", Answered::once_for_picture});
}

}  // namespace

const GateRule gate_cleaning_trial{7, "any cleaning trial", [](const Act& act) { return act.kind == "trial"; },
                                   ask_cleaning_trial, "face_frame region"};

}  // namespace tedge::casebook
