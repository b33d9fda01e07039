#include <algorithm>

#include "sheets/answers/answer.hpp"
#include "tedge/casebook/findings.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Record;

AnswerLines survey_answer(const casebook::CaseSnapshot& snapshot) {
    const auto findings = snapshot.of_kind("finding");
    const auto surveys = snapshot.of_kind("survey");
    const auto unstable = static_cast<int>(
        std::ranges::count_if(findings, [&](const Record* r) { return casebook::is_open_danger(snapshot, *r); }));
    AnswerLines lines;
    if (unstable == 1) lines.push_back({QObject::tr("⊘ One place is unstable and not consolidated."), Tone::closed});
    if (unstable > 1)
        lines.push_back({QObject::tr("⊘ %1 places are unstable and not consolidated.").arg(unstable), Tone::closed});
    if (casebook::is_loose_without_place(surveys, findings)) {
        lines.push_back({QObject::tr("△ By the survey paint is loose; draw where."), Tone::warning});
    } else if (unstable == 0 && !surveys.empty()) {
        lines.push_back({QObject::tr("Nothing is recorded as unstable now."), Tone::done});
    }
    lines.push_back({QObject::tr("Findings: %1. Surveys: %2.").arg(findings.size()).arg(surveys.size())});
    if (surveys.empty()) lines.push_back({QObject::tr("△ No face is surveyed yet."), Tone::warning});
    return lines;
}

}  // namespace tedge::desk
