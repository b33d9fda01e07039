// Trials, treatments, works on the structure, frames, overrides.
#include "sheets/lines/record_line.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

RecordLine trial(const Telling& told) {
    const QString swab =
        told("swab_colour").isEmpty() && told("swab_answer").isEmpty()
            ? QString()
            : QObject::tr("swab ") + line({told("swab_colour"), told("swab_answer")}, QStringLiteral(", "));
    const bool stop =
        told.is("verdict", "stop") || told.is("swab_answer", "original-paint") || told.is("swab_answer", "undecided");
    const bool cleared = told.is("verdict", "cleared");
    const QString head = capital(line({told("passage"), told("agent")}, QStringLiteral(": ")));
    return {(stop ? QStringLiteral("⊘ ") : QString()) +
                line({head, told("verdict"), swab, told.with_unit("seconds"), told("done_on")}),
            stop      ? Tone::closed
            : cleared ? Tone::done
                      : Tone::plain};
}

RecordLine step(const Telling& told) {
    const bool planned = told.is("planned", "yes");
    return {line({told("act"), planned ? QObject::tr("planned") : QString(), told("done_on"), told.where(),
                  told("materials"), told("text")}),
            planned ? Tone::plain : Tone::done};
}

}  // namespace

bool work_line(const std::string& kind, const Telling& told, RecordLine& made) {
    if (kind == "trial") {
        made = trial(told);
    } else if (kind == "treatment_step" || kind == "structure_step") {
        made = step(told);
    } else if (kind == "picture_frame") {
        made.text = line({told("description"),
                          told.after(QObject::tr("rebate"), "rebate_depth_mm") +
                              (told.has("rebate_depth_mm") ? QStringLiteral(" mm") : QString()),
                          told.after(QObject::tr("glazing"), "glazing")});
    } else if (kind == "gate_override") {
        made = {line({QObject::tr("△ passed out of order"), told("on"), told.after(QObject::tr("by"), "by"),
                      told("reason")}),
                Tone::warning};
    } else {
        return false;
    }
    return true;
}

}  // namespace tedge::desk
