// Findings, surveys, faces, facings, photographs, registrations, measurements, pictures made from photographs.
#include "sheets/lines/record_line.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::desk {

namespace {

RecordLine finding(const Telling& told) {
    const bool loose = told.is_open_danger();
    const QString state = loose ? QObject::tr("⊘ unstable: ") : QString();
    return {state + line({told("term"),
                          line({told("layer"), told("severity"), told.where(), told.size()}, QStringLiteral(", ")),
                          told.consolidated(), told("text")}),
            loose ? Tone::closed : Tone::plain};
}

RecordLine survey(const Telling& told) {
    const bool loose = told.is("condition", "unstable");
    return {line({line({told("face"), told("condition")}, QStringLiteral(": ")), told("surveyed_on"),
                  told.after(QObject::tr("loose paint"), "loose_paint"), told("summary")}),
            loose ? Tone::warning : Tone::plain};
}

QString facing(const Telling& told) {
    return line({line({told.where(), told.size()}, QStringLiteral(", ")),
                 line({told("tissue"), told("adhesive")}, QStringLiteral(", ")),
                 told.after(QObject::tr("laid"), "laid_on"), told.after(QObject::tr("removed"), "removed_on"),
                 told.after(QObject::tr("comes off with"), "comes_off_with")});
}

QString photograph(const Telling& told) {
    QString light = QObject::tr("%1 light").arg(told("light"));
    const QString angle =
        told.has("raking_angle_degrees") ? QObject::tr("at %1").arg(told.with_unit("raking_angle_degrees")) : QString();
    if (told.has("raking_side")) light += QObject::tr(" from the %1").arg(told("raking_side"));
    return line({told("face"), light, angle, told("stage"),
                 told.is("guessed", "yes") ? QObject::tr("guessed, not confirmed") : QString(), told("caption"),
                 told.has("face_from_photo") ? QObject::tr("placed") : QObject::tr("not placed yet")});
}

RecordLine registration(const Telling& told) {
    if (told.is("usable", "yes"))
        return {line({told("moving"), QObject::tr("laid over the reference"),
                      told.has("error_mm") ? QObject::tr("within %1").arg(told.with_unit("error_mm")) : QString()}),
                Tone::done};
    return {line({QObject::tr("△ not to be trusted"), told("moving"), told("reason")}), Tone::warning};
}

QString measurement(const Telling& told) {
    const QString spread = told.has("uncertainty") ? QStringLiteral(" ± ") + told("uncertainty") : QString();
    return line({told("what") + QStringLiteral(": ") + told("value") + spread + QLatin1Char(' ') + told("unit"),
                 told.where(), told("note")});
}

}  // namespace

bool survey_line(const std::string& kind, const Telling& told, RecordLine& made) {
    if (kind == "finding") {
        made = finding(told);
    } else if (kind == "survey") {
        made = survey(told);
    } else if (kind == "face_frame") {
        made.text = line({told("face"),
                          told.with_unit("height_mm") + QStringLiteral(" high, ") + told.with_unit("width_mm") +
                              QStringLiteral(" wide"),
                          told("epoch_why")});
    } else if (kind == "facing") {
        made.text = facing(told);
    } else if (kind == "photograph") {
        made = {photograph(told), told.has("damaged") ? Tone::warning : Tone::plain};
    } else if (kind == "registration") {
        made = registration(told);
    } else if (kind == "measurement") {
        made.text = measurement(told);
    } else if (casebook::is_made_picture(kind)) {
        made.text = line({told("what"), told("caption"), told.where()});
    } else {
        return false;
    }
    return true;
}

}  // namespace tedge::desk
