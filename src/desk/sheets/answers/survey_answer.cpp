#include <algorithm>
#include <map>

#include "sheets/answers/answer.hpp"
#include "tedge/casebook/findings.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Record;

namespace {

// What the newest survey of some face says.
bool is_unstable_by_newest(const std::vector<const Record*>& surveys) {
    std::map<std::string, const Record*> newest;
    for (const Record* survey : surveys) {
        const Record*& known = newest[survey->body.text_or("face")];
        const bool newer =
            known == nullptr || survey->body.text_or("surveyed_on") >= known->body.text_or("surveyed_on");
        if (newer) known = survey;
    }
    return std::ranges::any_of(newest,
                               [](const auto& of) { return of.second->body.text_or("condition") == "unstable"; });
}

}  // namespace

AnswerLines survey_answer(const casebook::CaseSnapshot& snapshot) {
    const auto findings = snapshot.of_kind("finding");
    const auto surveys = snapshot.of_kind("survey");
    const auto unstable = static_cast<int>(
        std::ranges::count_if(findings, [](const Record* r) { return casebook::is_open_danger(r->body); }));
    AnswerLines lines;
    if (unstable == 1) lines.push_back({QObject::tr("⊘ One place is unstable and not consolidated."), Tone::closed});
    if (unstable > 1)
        lines.push_back({QObject::tr("⊘ %1 places are unstable and not consolidated.").arg(unstable), Tone::closed});
    if (unstable == 0 && !surveys.empty() && !is_unstable_by_newest(surveys))
        lines.push_back({QObject::tr("Nothing is recorded as unstable now."), Tone::done});
    lines.push_back({QObject::tr("Findings: %1. Surveys: %2.").arg(findings.size()).arg(surveys.size())});
    if (surveys.empty()) lines.push_back({QObject::tr("△ No face is surveyed yet."), Tone::warning});
    return lines;
}

}  // namespace tedge::desk
