#include "sheets/answers/answer.hpp"
#include "text.hpp"

namespace tedge::desk {

AnswerLines ceiling_answer(const casebook::CaseSnapshot& snapshot, bool client_looks) {
    if (client_looks) return {{QObject::tr("Hidden while a client looks.")}};
    const auto ceilings = snapshot.of_kind("ceiling");
    if (ceilings.empty()) return {{QObject::tr("No ceiling is fixed."), Tone::warning}};
    const casebook::Record& fixed = *ceilings.back();
    AnswerLines lines;
    if (const auto limit = fixed.body.money("limit"))
        lines.push_back({QObject::tr("Limit %1, fixed %2")
                             .arg(shown(to_display_text(*limit)), instant_text(fixed.body.text_or("fixed_at"))),
                         Tone::done});
    const std::string binding = fixed.body.text_or("report/binding");
    if (!binding.empty() && binding != "none")
        lines.push_back({QObject::tr("The %1 ceiling binds.").arg(spoken(binding))});
    const auto notes = snapshot.of_kind("viewing_note");
    if (!notes.empty() && notes.back()->last_written > fixed.last_written)
        lines.push_back({QObject::tr("△ A viewing note came after it: reckon again."), Tone::warning});
    return lines;
}

}  // namespace tedge::desk
