#include "tedge/casebook/findings.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <tuple>

#include "tedge/base/text.hpp"
#include "tedge/casebook/frames.hpp"

namespace tedge::casebook {

namespace {

// Consolidated after it was found: an older consolidation did not hold, or it would not have been found loose.
bool consolidates(const Record& treatment, const Record& finding) {
    const Body& body = treatment.body;
    if (body.text("act") != "consolidation" || body.flag("planned") || !body.has("region")) return false;
    const std::string found_on = to_text(finding.first_written).substr(0, 10);
    const std::string done_on = body.text_or("done_on");
    return done_on >= found_on && !lay_ahead(treatment, done_on);  // ISO 8601 days compare as text
}

// What consolidations since have left of a place, and the day of the last one that met it.
struct Held {
    Region loose;
    std::string last_on;
};

Held held(const CaseSnapshot& snapshot, const Record& finding, const Region& place, const Uuid& frame) {
    Held now{place, {}};
    for (const Record* treatment : snapshot.of_kind("treatment_step")) {
        if (!consolidates(*treatment, finding)) continue;
        const auto on = treatment->body.record("face_frame");
        const auto region = treatment->body.region("region");
        const auto here = on && region ? seen_in_frame(snapshot, *region, *on, frame) : std::nullopt;
        if (!here || place.distance_mm(*here) > 0.0) continue;
        now.loose = now.loose.without(*here);
        now.last_on = std::max(now.last_on, treatment->body.text_or("done_on"));
    }
    return now;
}

}  // namespace

bool is_unstable(const Body& finding) {
    constexpr std::array<std::string_view, 8> loose{"flak",   "lifting", "blister", "powder",
                                                    "detach", "cleav",   "loose",   "tenting"};
    if (finding.has("unstable")) return finding.flag("unstable");
    const std::string term = lowered_ascii(finding.text_or("term"));
    return std::ranges::any_of(loose, [&](std::string_view word) { return term.find(word) != std::string::npos; });
}

std::string consolidated_on(const CaseSnapshot& snapshot, const Record& finding) {
    const auto said = finding.body.text("consolidated_on");
    if (said && !lay_ahead(finding, *said)) return *said;
    const auto frame = finding.body.record("face_frame");
    const auto place = finding.body.region("region");
    if (!is_unstable(finding.body) || !frame || !place) return {};
    const Held now = held(snapshot, finding, *place, *frame);
    return now.loose.empty() ? now.last_on : std::string();
}

bool is_open_danger(const CaseSnapshot& snapshot, const Record& finding) {
    return is_unstable(finding.body) && consolidated_on(snapshot, finding).empty();
}

Region still_loose(const CaseSnapshot& snapshot, const Record& finding, const Region& place_in_frame,
                   const Uuid& frame) {
    return held(snapshot, finding, place_in_frame, frame).loose;
}

bool lay_ahead(const Record& record, std::string_view iso_day) {
    return iso_day > to_text(record.last_written + std::chrono::days(1)).substr(0, 10);
}

bool is_newer_survey(const Record& survey, const Record& than) {
    const auto day = [](const Record& each) {
        const std::string written = to_text(each.first_written).substr(0, 10);
        const auto said = each.body.text("surveyed_on");
        return said && !lay_ahead(each, *said) ? *said : written;
    };
    return std::tuple(day(survey), survey.last_written, survey.id) > std::tuple(day(than), than.last_written, than.id);
}

bool is_loose_without_place(const std::vector<const Record*>& surveys, const std::vector<const Record*>& findings) {
    if (std::ranges::any_of(findings, [](const Record* each) { return is_unstable(each->body); })) return false;
    std::map<std::string, const Record*> newest;
    for (const Record* survey : surveys) {
        const Record*& known = newest[survey->body.text_or("face")];
        if (known == nullptr || is_newer_survey(*survey, *known)) known = survey;
    }
    return std::ranges::any_of(newest, [](const auto& of) {
        const Body& said = of.second->body;
        return said.text_or("condition") == "unstable" || said.text_or("loose_paint") == "mapped";
    });
}

}  // namespace tedge::casebook
