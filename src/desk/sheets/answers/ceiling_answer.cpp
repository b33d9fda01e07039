#include "forms/local_time.hpp"
#include "sheets/answers/answer.hpp"
#include "tedge/usecases/ceilings.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t most_told = 3;  // of what was learnt since: it shall not push the plan out of sight

}  // namespace

AnswerLines ceiling_answer(const casebook::CaseSnapshot& snapshot, bool client_looks) {
    if (client_looks) return {{QObject::tr("Hidden while a client looks.")}};
    const auto fixed = usecases::ceiling_standing(snapshot);
    if (!fixed) return {{QObject::tr("No ceiling is fixed."), Tone::warning}};
    AnswerLines lines;
    if (fixed->limit) {
        const QString by = fixed->fixed_by.empty() ? QString() : QObject::tr(" by %1").arg(shown(fixed->fixed_by));
        const auto lots = snapshot.of_kind("lot");
        const QString zone = lots.empty() ? QString() : shown(lots.back()->body.text_or("sale_zone"));
        lines.push_back(
            {QObject::tr("Limit %1, fixed %2%3")
                 .arg(shown(to_display_text(*fixed->limit)), local_text_with_zone(fixed->fixed_at, zone), by),
             fixed->out_of_date() ? Tone::warning : Tone::done});
    }
    const casebook::Record* record = snapshot.find(fixed->record);
    const std::string binding = record != nullptr ? record->body.text_or("report/binding") : std::string();
    if (!binding.empty() && binding != "none")
        lines.push_back({QObject::tr("The %1 ceiling binds.").arg(spoken(binding))});
    if (!fixed->out_of_date()) return lines;
    const std::size_t told = fixed->since.size() <= most_told ? fixed->since.size() : most_told - 1;
    for (std::size_t i = 0; i < told; ++i)
        lines.push_back({QStringLiteral("△ ") + shown(fixed->since[i].sentence), Tone::warning});
    if (told < fixed->since.size())
        lines.push_back({QObject::tr("△ And %1 more.").arg(fixed->since.size() - told), Tone::warning});
    lines.push_back({QObject::tr("Reckon again and fix the limit anew."), Tone::warning});
    return lines;
}

}  // namespace tedge::desk
