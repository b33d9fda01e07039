#include "accounts/duty_words.hpp"

#include <QObject>
#include <algorithm>

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

using usecases::CalledFor;
using usecases::Duty;

namespace {

QString paragraph(const QString& text, const QColor& colour) {
    return QStringLiteral("<p style=\"margin:0 0 6px 0; color:%1\">%2</p>").arg(colour.name(), text.toHtmlEscaped());
}

QString called_words(const Duty& duty) {
    switch (duty.called) {
        case CalledFor::yes:
            return QObject::tr("The facts ask for it. %1").arg(shown(duty.why));
        case CalledFor::no:
            return QObject::tr("The facts do not ask for it. %1").arg(shown(duty.why));
        case CalledFor::unknown:
            break;
    }
    return QObject::tr("Whether it is asked is not known. %1").arg(shown(duty.why));
}

QString answer_words(const Duty& duty, const casebook::CaseSnapshot& snapshot) {
    if (!duty.answer) return {};
    QString text = QObject::tr("Answer: %1").arg(spoken(duty.state));
    if (!duty.answered_on.empty()) text += QObject::tr(", %1").arg(day_text(duty.answered_on));
    const casebook::Record* document = duty.document ? snapshot.find(*duty.document) : nullptr;
    if (document != nullptr) text += QObject::tr(", document “%1”").arg(shown(document->body.text_or("title")));
    text += u'.';
    if (!duty.found.empty()) text += QLatin1Char(' ') + shown(duty.found);
    return text;
}

qsizetype count_of(const usecases::DutiesOfCase& duties, std::string_view state) {
    return std::ranges::count(duties.duties, state, &Duty::state);
}

}  // namespace

QString duty_line(const Duty& duty) {
    const QString mark = duty.state == "answered" ? QStringLiteral("✓")
                         : duty.state == "open"   ? QStringLiteral("○")
                                                  : QStringLiteral("–");
    QString text = QStringLiteral("%1 %2: %3").arg(mark, capital(spoken(duty.name)), spoken(duty.state));
    if (duty.state == "open" && duty.called == CalledFor::yes) text += QObject::tr(", asked by the facts");
    if (!duty.answered_on.empty()) text += QObject::tr(", %1").arg(day_text(duty.answered_on));
    return text;
}

QString duty_told(const Duty& duty, const casebook::CaseSnapshot& snapshot) {
    QString told =
        QStringLiteral("<p style=\"margin:0 0 6px 0\"><b>%1</b></p>").arg(shown(duty.question).toHtmlEscaped());
    told += paragraph(called_words(duty), theme().ink);
    const QString answer = answer_words(duty, snapshot);
    if (!answer.isEmpty()) told += paragraph(answer, theme().ink);
    for (const std::string& remark : duty.remarks)
        told += paragraph(QStringLiteral("△ ") + shown(remark), theme().warning);
    for (const money::LegalSource& source : duty.sources) {
        const QString sure = source.from_memory() ? QObject::tr("△ From memory or not seen in print: ") : QString();
        told += paragraph(QObject::tr("%1%2 [%3]").arg(sure, shown(source.source), shown(source.status)),
                          theme().faded_ink);
    }
    return told;
}

QString duties_summary(const usecases::DutiesOfCase& duties) {
    const auto asked = std::ranges::count_if(
        duties.duties, [](const Duty& duty) { return duty.state == "open" && duty.called == CalledFor::yes; });
    return QObject::tr("%1 of %2 answered, %3 open (the facts ask for %4 of them), %5 not applicable.")
        .arg(count_of(duties, "answered"))
        .arg(duties.duties.size())
        .arg(count_of(duties, "open"))
        .arg(asked)
        .arg(count_of(duties, "not-applicable"));
}

QString papers_told(const usecases::DutiesOfCase& duties) {
    QString told;
    for (const usecases::IdentityPaper& paper : duties.papers) {
        const QString until = day_text(paper.destroy_after);
        const QString when = until.isEmpty() ? QObject::tr("no day is said on which it is destroyed")
                             : paper.due     ? QObject::tr("was to be destroyed after %1").arg(until)
                                             : QObject::tr("to be destroyed after %1").arg(until);
        told += paragraph(QObject::tr("%1 “%2”: %3.")
                              .arg(paper.due || until.isEmpty() ? QStringLiteral("△ Identity paper")
                                                                : QStringLiteral("Identity paper"),
                                   shown(paper.title), when),
                          paper.due || until.isEmpty() ? theme().warning : theme().ink);
    }
    if (!duties.papers_until.empty())
        told += paragraph(QObject::tr("Identity papers of this deal are usually kept until %1, and destroyed then.")
                              .arg(day_text(duties.papers_until)),
                          theme().faded_ink);
    return told;
}

}  // namespace tedge::desk
