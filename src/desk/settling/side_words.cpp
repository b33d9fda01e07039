#include "settling/side_words.hpp"

#include <QObject>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "forms/place_row.hpp"
#include "rack/rack_model.hpp"
#include "sheets/lines/record_line.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Contested;
using casebook::Field;
using casebook::FieldType;
using casebook::Record;
using casebook::Side;

const Field* field_at(const std::string& path, const casebook::Kind* kind) {
    return kind != nullptr && !path.empty() ? kind->field(path.substr(0, path.find('/'))) : nullptr;
}

// One item of a map: plain words, numbers and flags, as they stand.
QString item_text(const Body& wrote, const std::string& path) {
    if (const auto text = wrote.text(path)) return spoken(*text);
    const nlohmann::json* here = &wrote.as_json();
    std::string_view rest = path;
    while (!rest.empty() && here->is_object()) {
        const std::string step(rest.substr(0, rest.find('/')));
        rest.remove_prefix(std::min(rest.size(), step.size() + 1));
        if (!here->contains(step)) return {};
        here = &(*here)[step];
    }
    if (here->is_boolean()) return here->get<bool>() ? QObject::tr("yes") : QObject::tr("no");
    if (here->is_number()) return QString::number(here->get<double>());
    return QObject::tr("%1 entries").arg(here->size());
}

QString value_words(const Side& side, const std::string& path, const Field* field, const Record& now,
                    const CaseSnapshot& snapshot) {
    if (field == nullptr || field->type == FieldType::values) return item_text(side.wrote, path);
    switch (field->type) {
        case FieldType::long_text:
            return shown(side.wrote.text_or(path));
        case FieldType::flag:
            return side.wrote.flag(path) ? QObject::tr("yes") : QObject::tr("no");
        case FieldType::region: {
            const auto region = side.wrote.region(path);
            return region && !region->empty() ? QObject::tr("a place of %1").arg(size_text(*region))
                                              : QObject::tr("a place");
        }
        case FieldType::placement:
            return QObject::tr("a placement of its own");
        case FieldType::sha256:
            return QObject::tr("a file of its own");
        default: {
            Record told = now;
            told.body = side.wrote;
            const Telling telling(told, snapshot, false);
            const QString text = telling(path);
            return field->unit.empty() || text.isEmpty() ? text : text + QLatin1Char(' ') + shown(field->unit);
        }
    }
}

QString said_words(const Side& side, const std::string& path, const Record& now, const CaseSnapshot& snapshot) {
    if (path.empty()) return side.removes ? QObject::tr("took the record away") : QObject::tr("went on with it");
    if (!side.wrote.has(path)) return side.erased ? QObject::tr("was erased") : QObject::tr("left it empty");
    const QString words = value_words(side, path, field_at(path, casebook::find_kind(now.kind)), now, snapshot);
    return words.isEmpty() ? QObject::tr("something this program cannot show") : words;
}

QString who_words(const Side& side, const CaseSnapshot& snapshot) {
    const Record* person = snapshot.find(side.author);
    const QString name = person != nullptr ? shown(person->body.text_or("name")) : QString();
    return (name.isEmpty() ? QObject::tr("somebody who is not named any more") : name) + QStringLiteral(", ") +
           instant_text(to_text(side.at));
}

// The record as it would stand if that side were taken; gone where the side took it away.
std::optional<Record> as_said(const Side& side, const std::string& path, const Record& now) {
    Record made = now;
    made.deleted = path.empty() && side.removes;
    if (made.deleted) return std::nullopt;
    if (path.empty()) return made;
    nlohmann::json fields = now.body.as_json();
    const std::string top = path.substr(0, path.find('/'));
    const auto& wrote = side.wrote.as_json();
    if (wrote.contains(top)) {
        fields[top] = wrote[top];
    } else {
        fields.erase(top);
    }
    made.body = Body(std::move(fields));
    return made;
}

CaseSnapshot with(const CaseSnapshot& snapshot, const std::optional<Record>& record, const Uuid& id) {
    CaseSnapshot changed = snapshot;
    if (id == snapshot.picture.id) {
        if (record) changed.picture = *record;
        return changed;
    }
    std::erase_if(changed.records, [&](const Record& each) { return each.id == id; });
    if (record) changed.records.push_back(*record);
    return changed;
}

// Stages that stand closed as this side has it, and not as all have it.
QStringList closed_by(const std::vector<ClosedStages>& closed, std::size_t side) {
    QStringList names;
    for (std::size_t i = 0; i < usecases::all_stages.size(); ++i) {
        const bool by_all = std::ranges::all_of(closed, [&](const ClosedStages& each) { return each[i]; });
        if (closed[side][i] && !by_all) names << shown(to_text(usecases::all_stages[i]));
    }
    return names;
}

}  // namespace

QString contested_label(const std::string& path, const casebook::Kind* kind) {
    if (path.empty()) return QObject::tr("Whether it stays");
    const Field* field = field_at(path, kind);
    const QString label = field != nullptr ? shown(field->label) : capital(spoken(path));
    const std::size_t slash = path.find('/');
    return slash == std::string::npos ? label : label + QStringLiteral(": ") + spoken(path.substr(slash + 1));
}

QList<SideWords> words_of_sides(const Contested& contested, const Record& now, const CaseSnapshot& snapshot) {
    std::vector<CaseSnapshot> as;
    std::vector<ClosedStages> closed;
    for (const Side& side : contested.sides) {
        as.push_back(with(snapshot, as_said(side, contested.path, now), now.id));
        closed.push_back(closed_stages(as.back()));
    }
    QList<SideWords> words;
    for (std::size_t i = 0; i < contested.sides.size(); ++i) {
        const Side& side = contested.sides[i];
        const auto record = as_said(side, contested.path, now);
        QStringList makes;
        if (record && now.kind != "case")
            makes << QObject::tr("It then reads: %1").arg(line_of(*record, as[i], false).text);
        if (!record) makes << QObject::tr("It is then not in the list any more; it can be restored.");
        const QStringList barred = closed_by(closed, i);
        if (!barred.isEmpty()) makes << QObject::tr("⊘ Keeps closed: %1").arg(barred.join(QStringLiteral(", ")));
        words.append({who_words(side, snapshot), said_words(side, contested.path, now, snapshot),
                      makes.join(QStringLiteral("\n")), shown(side.reason)});
    }
    return words;
}

}  // namespace tedge::desk
