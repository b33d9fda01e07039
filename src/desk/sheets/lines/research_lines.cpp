// Owners, attributions, inscriptions, documents.
#include "sheets/lines/record_line.hpp"

namespace tedge::desk {

namespace {

QString owner(const Telling& told) {
    const QString doubt = told.is("doubt", "none") ? QString() : told("doubt");
    const QString role = told.is("role", "owner") ? QString() : told("role");
    return line(
        {line({doubt, told("owner")}, QStringLiteral(" ")), role, told("place"),
         line({told.after(QObject::tr("from"), "from"), told.after(QObject::tr("to"), "to")}, QStringLiteral(" ")),
         told("source")});
}

QString claim(const Telling& told) {
    return line({line({told("qualifier"), told("artist")}, QStringLiteral(" ")),
                 told.is("ours", "yes") ? QObject::tr("our own wording") : told("claimed_by"), told("claimed_on"),
                 told("source")});
}

QString inscription(const Telling& told) {
    const QString words = told("transcription");
    const QString read = words.isEmpty() ? QString() : QStringLiteral("“") + words + QStringLiteral("”");
    return line({told("kind"), read, told.where(), told("reading")});
}

}  // namespace

bool research_line(const std::string& kind, const Telling& told, RecordLine& made) {
    if (kind == "provenance_link") {
        made.text = owner(told);
    } else if (kind == "attribution_claim") {
        made = {claim(told), told.is("ours", "yes") ? Tone::done : Tone::plain};
    } else if (kind == "inscription") {
        made.text = inscription(told);
    } else if (kind == "document") {
        made.text = line({told("title"), told("sort"), told("dated"),
                          told.after(QObject::tr("to be destroyed after"), "destroy_after")});
    } else {
        return false;
    }
    return true;
}

}  // namespace tedge::desk
