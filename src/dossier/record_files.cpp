#include "record_files.hpp"

#include <nlohmann/json.hpp>

#include "tedge/base/digest.hpp"
#include "tedge/base/table.hpp"

namespace tedge::dossier {

using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Record;
using nlohmann::json;

namespace {

std::vector<const Field*> told_fields(const Kind& kind, casebook::Reader reader) {
    std::vector<const Field*> fields;
    for (const Field& field : kind.fields)
        if (field.readers.contains(reader)) fields.push_back(&field);
    return fields;
}

std::string cell_of(const Record& record, const Field& field) {
    const std::string name(field.name);
    if (!record.body.has(name)) return {};
    if (const auto money = field.type == FieldType::money ? record.body.money(name) : std::nullopt)
        return to_decimal_text(*money) + " " + std::string(money->currency.code());
    const json& value = record.body.as_json()[name];
    return value.is_string() ? value.get<std::string>() : value.dump();
}

std::string json_file(const Kind& kind, casebook::Reader reader, const std::vector<const Record*>& records) {
    json fields = json::array();
    for (const Field* field : told_fields(kind, reader)) {
        json item{{"name", field->name}, {"label", field->label}};
        if (!field->unit.empty()) item["unit"] = field->unit;
        fields.push_back(std::move(item));
    }
    json list = json::array();
    for (const Record* record : records)
        list.push_back({{"id", to_text(record->id)}, {"body", record->body.as_json()}});
    const json file{{"kind", kind.name},
                    {"label", kind.label},
                    {"reader", casebook::to_text(reader)},
                    {"fields", std::move(fields)},
                    {"records", std::move(list)}};
    return file.dump(1) + "\n";
}

std::string csv_file(const Kind& kind, casebook::Reader reader, const std::vector<const Record*>& records) {
    const auto fields = told_fields(kind, reader);
    std::vector<std::string> header{"id"};
    for (const Field* field : fields) header.emplace_back(field->name);
    std::string text = to_csv_line(header);
    for (const Record* record : records) {
        std::vector<std::string> cells{to_text(record->id)};
        for (const Field* field : fields) cells.push_back(cell_of(*record, *field));
        text += to_csv_line(cells);
    }
    return text;
}

std::vector<const Record*> records_of(const Extract& extract, std::string_view kind) {
    if (kind == "case") return {&extract.picture()};
    if (kind != "person") return extract.of_kind(kind);
    std::vector<const Record*> people;
    for (const Record& person : extract.people()) people.push_back(&person);
    return people;
}

}  // namespace

std::vector<NamedFile> record_files(const Extract& extract) {
    std::vector<NamedFile> files;
    for (const Kind* kind : casebook::all_kinds()) {
        const auto records = records_of(extract, kind->name);
        if (records.empty()) continue;
        const std::string stem = "records/" + std::string(kind->name);
        files.emplace_back(stem + ".json", json_file(*kind, extract.reader(), records));
        files.emplace_back(stem + ".csv", csv_file(*kind, extract.reader(), records));
    }
    return files;
}

std::string heads_file(const std::vector<casebook::ChainHead>& heads, const Uuid& case_id) {
    json list = json::array();
    for (const auto& head : heads)
        if (head.case_id == case_id)
            list.push_back({{"replica", to_text(head.replica)}, {"number", head.number}, {"hash", to_hex(head.hash)}});
    return json{{"heads", std::move(list)}}.dump(1) + "\n";
}

}  // namespace tedge::dossier
