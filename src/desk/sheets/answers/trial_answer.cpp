#include <map>

#include "sheets/answers/answer.hpp"
#include "tedge/usecases/next_trial.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

struct Passage {
    int cleared = 0;
    int stopped = 0;
    int not_judged = 0;
    int all = 0;
};

std::map<std::string, Passage> passages_of(const casebook::CaseSnapshot& snapshot) {
    std::map<std::string, Passage> passages;
    for (const casebook::Record* trial : snapshot.of_kind("trial")) {
        Passage& passage = passages[trial->body.text_or("passage")];
        ++passage.all;
        if (trial->body.text_or("verdict") == "cleared") ++passage.cleared;
        if (usecases::says_stop(trial->body)) ++passage.stopped;
        if (!trial->body.has("verdict")) ++passage.not_judged;
    }
    return passages;
}

// What was not judged is no trial that failed to clear.
QString told(const QString& passage, const Passage& p) {
    const int judged = p.all - p.not_judged;
    const QString waiting = QObject::tr("%1 not judged yet").arg(p.not_judged);
    if (judged == 0) return QObject::tr("%1: %2.").arg(passage, waiting);
    const QString cleared = QObject::tr("%1: cleared in %2 of %3 trials").arg(passage).arg(p.cleared).arg(judged);
    return p.not_judged == 0 ? cleared + u'.' : cleared + QStringLiteral(", ") + waiting + u'.';
}

}  // namespace

AnswerLines trial_answer(const casebook::CaseSnapshot& snapshot) {
    AnswerLines lines;
    for (const auto& [name, p] : passages_of(snapshot)) {
        const QString passage = capital(shown(name));
        if (p.stopped > 0) {
            lines.push_back({QObject::tr("⊘ %1: stop in %2 of %3 trials; the colour on the swab is answered first.")
                                 .arg(passage)
                                 .arg(p.stopped)
                                 .arg(p.all),
                             Tone::closed});
        } else {
            lines.push_back({told(passage, p)});
        }
    }
    if (lines.empty()) lines.push_back({QObject::tr("No trials yet. The mildest first, in a robust light passage.")});
    lines.push_back({QObject::tr("△ A few trials prove little. Ventilate, wear gloves; limits and local codes apply."),
                     Tone::warning});
    return lines;
}

}  // namespace tedge::desk
