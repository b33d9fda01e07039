#include "projection.hpp"

#include <fmt/format.h>

#include "canonical_json.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;
using sqlite::Connection;
using sqlite::Statement;

constexpr std::string_view select_record =
    "SELECT id, case_id, kind, schema, deleted, public_body, personal_body, newest, first_written, last_written FROM "
    "record ";

FoldedRecord record_at(const Statement& row) {
    FoldedRecord record;
    record.id = row.id(0);
    record.case_id = row.id(1);
    record.kind = row.text(2);
    record.schema = static_cast<int>(row.integer(3));
    record.deleted = row.integer(4) != 0;
    record.public_body = parse_json(row.text(5)).value_or(json::object());
    record.personal_body = parse_json(row.text(6)).value_or(json::object());
    record.newest = unpacked_ids(row.bytes(7));
    record.first_written = parse_instant(row.text(8)).value_or(Instant{});
    record.last_written = parse_instant(row.text(9)).value_or(Instant{});
    return record;
}

std::vector<FoldedRecord> collect(Statement& row) {
    std::vector<FoldedRecord> records;
    while (row.step()) records.push_back(record_at(row));
    return records;
}

std::string select(std::string_view rest) {
    return std::string(select_record) + std::string(rest);
}

void store_conflicts(const Connection& db, const FoldedRecord& record) {
    db.run("DELETE FROM conflict WHERE record = $1", record.id);
    for (const Conflict& conflict : record.conflicts) {
        db.run("INSERT INTO conflict (record, path, earlier, later) VALUES ($1, $2, $3, $4)", record.id, conflict.path,
               conflict.earlier, conflict.later);
    }
}

std::vector<Conflict> load_conflicts(const Connection& db, const FoldedRecord& record) {
    Statement row = db.prepare("SELECT path, earlier, later FROM conflict WHERE record = $1");
    row.bind(record.id);
    std::vector<Conflict> conflicts;
    while (row.step()) conflicts.push_back({record.case_id, record.id, row.text(0), row.id(1), row.id(2)});
    std::ranges::sort(conflicts);
    return conflicts;
}

void add_words(const json& value, std::string& words) {
    if (value.is_string()) words += (words.empty() ? "" : " ") + value.get<std::string>();
    if (value.is_structured()) {
        for (const auto& [key, item] : value.items()) add_words(item, words);
    }
}

}  // namespace

void store_record(const Connection& db, const FoldedRecord& record) {
    const std::string newest = packed(record.newest);
    db.run(
        "INSERT INTO record (id, case_id, kind, schema, deleted, public_body, personal_body, newest, first_written, "
        "last_written) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) ON CONFLICT (id) DO UPDATE SET "
        "case_id = excluded.case_id, kind = excluded.kind, schema = excluded.schema, deleted = excluded.deleted, "
        "public_body = excluded.public_body, personal_body = excluded.personal_body, newest = excluded.newest, "
        "first_written = excluded.first_written, last_written = excluded.last_written",
        record.id, record.case_id, record.kind, record.schema, record.deleted ? 1 : 0, canonical(record.public_body),
        canonical(record.personal_body),
        sqlite::Bytes(reinterpret_cast<const std::uint8_t*>(newest.data()), newest.size()),
        to_text(record.first_written), to_text(record.last_written));
    store_conflicts(db, record);
    index_text(db, record.id, searched_words(record));
    const IndexedPlace place = indexed_place(record);
    index_place(db, record.id, place.face_frame, place.box);
}

IndexedPlace indexed_place(const FoldedRecord& record) {
    const Body body{record.public_body};
    const auto region = record.deleted ? std::nullopt : body.region("region");
    const auto face_frame = body.record("face_frame");
    if (!region || !face_frame || region->empty()) return {};
    return {face_frame, region->bounds()};
}

FoldedRecord refold(const Connection& db, const Uuid& record) {
    const std::vector<Change> changes = changes_of_record(db, record);
    // Only an index that was altered names such a record.
    if (changes.empty()) throw sqlite::SqlError(sqlite::corrupt, "a record without changes is named");
    FoldedRecord folded = fold(changes);
    store_record(db, folded);
    return folded;
}

std::optional<FoldedRecord> load_record(const Connection& db, const Uuid& id) {
    Statement row = db.prepare(select("WHERE id = $1"));
    row.bind(id);
    if (!row.step()) return std::nullopt;
    FoldedRecord record = record_at(row);
    record.conflicts = load_conflicts(db, record);
    return record;
}

std::string kind_of_record(const Connection& db, const Uuid& id) {
    Statement row = db.prepare("SELECT kind FROM record WHERE id = $1");
    row.bind(id);
    return row.step() ? row.text(0) : std::string();
}

std::vector<FoldedRecord> load_records(const Connection& db, const Uuid& case_id, std::string_view kind) {
    Statement row = db.prepare(select("WHERE case_id = $1 AND ($2 = '' OR kind = $2) ORDER BY first_written, id"));
    row.bind(case_id, kind);
    return collect(row);
}

std::vector<FoldedRecord> load_records_of_kind(const Connection& db, std::string_view kind) {
    Statement row = db.prepare(select("WHERE kind = $1 ORDER BY first_written, id"));
    row.bind(kind);
    return collect(row);
}

void for_each_living(const Connection& db, const std::vector<std::string>& kinds, const IsWanted& is_wanted,
                     const std::function<void(FoldedRecord)>& take) {
    std::string places;
    for (std::size_t i = 1; i <= kinds.size(); ++i) places += fmt::format("{}${}", i == 1 ? "" : ", ", i);
    Statement row = db.prepare(select("WHERE deleted = 0 AND kind IN (" + places + ")"));
    row.bind_all(kinds);
    while (row.step()) {
        if (is_wanted(row.id(1), row.text(2))) take(record_at(row));
    }
}

Record to_record(FoldedRecord folded) {
    json all = std::move(folded.public_body);
    if (!folded.personal_body.empty()) all.update(folded.personal_body);
    const Kind* kind = find_kind(folded.kind);
    return {folded.id,
            folded.case_id,
            folded.kind,
            folded.schema,
            folded.deleted,
            kind == nullptr || folded.schema > kind->schema,
            Body(std::move(all)),
            std::move(folded.newest),
            folded.first_written,
            folded.last_written};
}

std::string searched_words(const FoldedRecord& record) {
    std::string words;
    const Kind* kind = find_kind(record.kind);
    if (kind == nullptr || record.deleted) return words;
    for (const Field& field : kind->fields) {
        const json& body = field.personal ? record.personal_body : record.public_body;
        if (field.searched && body.contains(field.name)) add_words(body[std::string(field.name)], words);
    }
    return words;
}

std::string dump_record(const FoldedRecord& record) {
    std::string text =
        fmt::format("{} {} {} {} {} {} {} {} {} ", to_text(record.id), to_text(record.case_id), record.kind,
                    record.schema, record.deleted, canonical(record.public_body), canonical(record.personal_body),
                    to_text(record.first_written), to_text(record.last_written));
    for (const Uuid& id : record.newest) text += to_text(id) + ",";
    for (const Conflict& c : record.conflicts) {
        text += fmt::format(" [{} {} {}]", c.path, to_text(c.earlier), to_text(c.later));
    }
    return text;
}

std::string dump_projection(const Connection& db) {
    Statement row = db.prepare(select("ORDER BY id"));
    std::string text;
    while (row.step()) {
        FoldedRecord record = record_at(row);
        record.conflicts = load_conflicts(db, record);
        text += dump_record(record) + "\n";
    }
    return text;
}

std::optional<Body> frame_body(const sqlite::Connection& db, const Uuid& id) {
    auto frame = load_record(db, id);
    if (!frame || frame->kind != "face_frame") return std::nullopt;
    return to_record(*std::move(frame)).body;
}

}  // namespace tedge::casebook
