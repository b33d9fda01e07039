#include "easel/place_labels.hpp"

#include "tedge/casebook/field_table.hpp"

namespace tedge::desk {

namespace {

QString sign_of(std::string_view kind) {
    if (kind == "finding") return {};
    if (kind == "trial") return QStringLiteral("T");
    if (kind == "facing") return QStringLiteral("F");
    if (kind == "measurement") return QStringLiteral("M");
    // As catalogues shorten it; a lone I would be read as a one.
    if (kind == "inscription") return QStringLiteral("insc. ");
    return QStringLiteral("W");
}

}  // namespace

std::map<Uuid, QString> place_labels(const casebook::CaseSnapshot& snapshot) {
    std::map<Uuid, QString> labels;
    std::map<QString, int> counted;
    for (const casebook::Record& record : snapshot.records) {
        const casebook::Kind* kind = casebook::find_kind(record.kind);
        if (kind == nullptr || kind->field("region") == nullptr) continue;
        const QString sign = sign_of(record.kind);
        // Counted also where it has no place: the dossier numbers its lists, not its maps.
        const int number = ++counted[sign];
        if (record.body.has("region")) labels.emplace(record.id, sign + QString::number(number));
    }
    return labels;
}

}  // namespace tedge::desk
