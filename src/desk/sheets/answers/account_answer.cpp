#include "sheets/answers/answer.hpp"
#include "text.hpp"

namespace tedge::desk {

// Where the deal stands; what it comes to is reckoned by the panel below.
AnswerLines account_answer(const casebook::CaseSnapshot& snapshot, bool client_looks) {
    if (client_looks) return {{QObject::tr("Hidden while a client looks.")}};
    AnswerLines lines;
    const auto day = [](const casebook::Record& record, const char* field) {
        return record.body.has(field) ? QStringLiteral(", ") + day_text(record.body.text_or(field)) : QString();
    };
    for (const casebook::Record* purchase : snapshot.of_kind("purchase"))
        lines.push_back({QObject::tr("Bought%1").arg(day(*purchase, "bought_on")), Tone::done});
    for (const casebook::Record* sale : snapshot.of_kind("sale"))
        lines.push_back({QObject::tr("Sold%1").arg(day(*sale, "sold_on")), Tone::done});
    for (const casebook::Record* back : snapshot.of_kind("return"))
        lines.push_back({QObject::tr("Returned%1").arg(day(*back, "returned_on")), Tone::warning});
    if (lines.empty()) lines.push_back({QObject::tr("Neither bought nor sold.")});
    return lines;
}

}  // namespace tedge::desk
