#include "sheets/answers/answer.hpp"
#include "text.hpp"

namespace tedge::desk {

AnswerLines transit_answer(const casebook::CaseSnapshot& snapshot, bool client_looks) {
    const usecases::CaseCard card = usecases::card_of(snapshot);
    if (card.place.empty()) return {{QObject::tr("Nobody wrote down where it is."), Tone::warning}};
    AnswerLines lines{{QObject::tr("Now: %1").arg(shown(card.place))}};
    if (client_looks) return lines;
    if (card.holder.empty()) {
        lines.push_back({QObject::tr("△ Who holds it is not recorded."), Tone::warning});
    } else {
        lines.push_back({QObject::tr("Held by %1").arg(shown(card.holder))});
    }
    if (card.insured_by.empty()) {
        lines.push_back({QObject::tr("△ Who insures it is not recorded."), Tone::warning});
    } else {
        lines.push_back({QObject::tr("Insured by %1").arg(shown(card.insured_by))});
    }
    return lines;
}

}  // namespace tedge::desk
