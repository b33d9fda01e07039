#include "photographs/intake_told.hpp"

#include <QStringList>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int refusals_in_sight = 5;

// What reading left out of pictures that were taken in.
QString remarks(const IntakeModel& model) {
    QStringList lines;
    for (const IntakeRow& row : model.rows()) {
        if (row.state != IntakeState::refused && row.state != IntakeState::waiting && !row.told.isEmpty())
            lines << QStringLiteral("△ %1: %2").arg(shown(to_utf8(row.wanted.file.filename())), row.told);
    }
    const auto more = lines.size() - refusals_in_sight;
    if (more > 0) lines = lines.mid(0, refusals_in_sight) << QObject::tr("… and %1 more, each in its record").arg(more);
    return lines.join(u'\n');
}

QString refusals(const IntakeModel& model) {
    QStringList lines;
    for (const IntakeRow& row : model.rows()) {
        if (row.state == IntakeState::refused)
            lines << QStringLiteral("⊘ %1: %2").arg(shown(to_utf8(row.wanted.file.filename())), row.told);
    }
    const auto more = lines.size() - refusals_in_sight;
    if (more > 0) lines = lines.mid(0, refusals_in_sight) << QObject::tr("… and %1 more").arg(more);
    return lines.join(u'\n');
}

}  // namespace

QString told_of_intake(const IntakeModel& model, bool was_cancelled) {
    QStringList parts{QObject::tr("%1 taken in").arg(model.count(IntakeState::taken))};
    if (const int already = model.count(IntakeState::already); already > 0)
        parts << QObject::tr("%1 were here already").arg(already);
    if (const int refused = model.count(IntakeState::refused); refused > 0)
        parts << QObject::tr("%1 refused").arg(refused);
    QString text = parts.join(QStringLiteral(", ")) + u'.';
    if (was_cancelled) text += u' ' + QObject::tr("Cancelled; what was taken in before stays.");
    if (const QString why = refusals(model); !why.isEmpty()) text += u'\n' + why;
    if (const QString said = remarks(model); !said.isEmpty()) text += u'\n' + said;
    return text;
}

}  // namespace tedge::desk
