#include "tedge/dossier/extract.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "tedge/casebook/findings.hpp"

namespace tedge::dossier {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Reader;
using casebook::Record;
using nlohmann::json;

namespace {

Record reduced(const Record& record, Reader reader) {
    json kept = json::object();
    if (const Kind* kind = casebook::find_kind(record.kind)) {
        const json& fields = record.body.as_json();
        for (const Field& field : kind->fields) {
            const std::string name(field.name);
            if (field.readers.contains(reader) && fields.contains(name)) kept[name] = fields[name];
        }
    }
    Record out;
    out.id = record.id;
    out.case_id = record.case_id;
    out.kind = record.kind;
    out.schema = record.schema;
    // When it was written decides what of it to believe; no section tells it.
    out.first_written = record.first_written;
    out.last_written = record.last_written;
    out.body = Body(std::move(kept));
    return out;
}

bool says_nothing(const Record& record) {
    return record.body.keys().empty();
}

void collect_references(const Record& record, std::set<Uuid>& named) {
    const Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return;
    for (const Field& field : kind->fields)
        if (field.type == FieldType::record)
            if (const auto id = record.body.record(field.name)) named.insert(*id);
}

}  // namespace

Extract Extract::of(const CaseSnapshot& snapshot, Reader reader) {
    Extract extract;
    extract.reader_ = reader;
    extract.kept_.picture = reduced(snapshot.picture, reader);
    std::set<Uuid> named;
    collect_references(extract.kept_.picture, named);
    for (const Record& record : snapshot.records) {
        if (record.deleted) continue;
        Record kept = reduced(record, reader);
        if (says_nothing(kept)) continue;
        collect_references(kept, named);
        if (record.kind == "finding") extract.consolidated_on_[record.id] = casebook::consolidated_on(snapshot, record);
        extract.kept_.records.push_back(std::move(kept));
    }
    for (const Record& person : snapshot.people) {
        if (person.deleted || !named.contains(person.id)) continue;
        Record kept = reduced(person, reader);
        if (!says_nothing(kept)) extract.kept_.people.push_back(std::move(kept));
    }
    return extract;
}

std::string Extract::consolidated_on(const Record& finding) const {
    const auto found = consolidated_on_.find(finding.id);
    return found != consolidated_on_.end() ? found->second : std::string();
}

bool Extract::is_open_danger(const Record& finding) const {
    return casebook::is_unstable(finding.body) && consolidated_on(finding).empty();
}

}  // namespace tedge::dossier
