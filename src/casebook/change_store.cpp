#include "change_store.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "dialect.hpp"

namespace tedge::casebook {

namespace {

using sqlite::Bytes;
using sqlite::Connection;
using sqlite::Statement;

constexpr std::string_view columns =
    "id, replica, case_id, number, author, clock_ms, clock_count, made_at, record, kind, schema, operation, seen, "
    "public_payload, public_salt, public_digest, personal_payload, personal_salt, personal_digest, reason, previous, "
    "hash";
// A mark beside the change, not a part of it.
constexpr std::string_view admitted_column = ", NOT EXISTS (SELECT 1 FROM held_change h WHERE h.change = change.id)";

constexpr int place_column = 23;  // behind the columns and the mark

Bytes as_bytes(std::string_view raw) {
    return {reinterpret_cast<const std::uint8_t*>(raw.data()), raw.size()};
}

template <std::size_t N>
std::array<std::uint8_t, N> fixed_bytes(const std::string& raw) {
    std::array<std::uint8_t, N> out{};
    const std::size_t count = std::min(N, raw.size());
    std::transform(raw.begin(), raw.begin() + static_cast<std::ptrdiff_t>(count), out.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
    return out;
}

std::optional<Payload> payload_at(const Statement& row, int text_column) {
    if (row.is_null(text_column)) return std::nullopt;
    return Payload{row.text(text_column), fixed_bytes<16>(row.bytes(text_column + 1))};
}

Uuid id_at(const Statement& row, int column) {
    Uuid id;
    id.bytes = fixed_bytes<16>(row.bytes(column));
    return id;
}

// What each column holds, as it was written: bytes of one length (0: any), text or a whole number.
struct Stored {
    Statement::Type type;
    std::size_t size = 0;
    bool may_be_absent = false;
};
constexpr auto whole = Stored{Statement::Type::integer};
constexpr auto words = Stored{Statement::Type::text};
constexpr auto id_bytes = Stored{Statement::Type::blob, 16};
constexpr auto digest_bytes = Stored{Statement::Type::blob, 32};
constexpr auto payload_words = Stored{Statement::Type::text, 0, true};
constexpr auto salt_bytes = Stored{Statement::Type::blob, 16, true};
constexpr std::array stored_as{id_bytes,
                               id_bytes,
                               id_bytes,
                               whole,
                               id_bytes,
                               whole,
                               whole,
                               words,
                               id_bytes,
                               words,
                               whole,
                               words,
                               Stored{Statement::Type::blob},
                               payload_words,
                               salt_bytes,
                               digest_bytes,
                               payload_words,
                               salt_bytes,
                               digest_bytes,
                               words,
                               digest_bytes,
                               digest_bytes};

bool is_stored_as(const Statement& row, int column, const Stored& wanted) {
    if (row.is_null(column)) return wanted.may_be_absent;
    return row.type(column) == wanted.type && (wanted.size == 0 || row.bytes(column).size() == wanted.size);
}

// Nothing is lost or added on the way from the row: what would be is taken for altered.
bool reads_back(const Statement& row, const Change& change, const std::optional<Operation>& operation) {
    for (std::size_t i = 0; i < stored_as.size(); ++i) {
        if (!is_stored_as(row, static_cast<int>(i), stored_as[i])) return false;
    }
    const bool salts_with_payloads = row.is_null(13) == row.is_null(14) && row.is_null(16) == row.is_null(17);
    return operation.has_value() && salts_with_payloads && row.text(7) == to_text(change.time) &&
           row.integer(10) == change.schema && row.bytes(12).size() % 16 == 0;
}

// A change that cannot be read as it was written is still shown to check, as a change whose hash does not fit.
Change change_at(const Statement& row) {
    Change change;
    change.id = id_at(row, 0);
    change.replica = id_at(row, 1);
    change.case_id = id_at(row, 2);
    change.number = row.integer(3);
    change.author = id_at(row, 4);
    change.clock = {row.integer(5), row.integer(6)};
    change.time = parse_instant(row.text(7)).value_or(Instant{});
    change.record = id_at(row, 8);
    change.kind = row.text(9);
    change.schema = static_cast<int>(row.integer(10));
    const auto operation = parse_operation(row.text(11));
    change.operation = operation.value_or(Operation::patch);
    change.seen = unpacked_ids(row.bytes(12));
    change.public_payload = payload_at(row, 13);
    change.public_digest = fixed_bytes<32>(row.bytes(15));
    change.personal_payload = payload_at(row, 16);
    change.personal_digest = fixed_bytes<32>(row.bytes(18));
    change.reason = row.text(19);
    change.previous = fixed_bytes<32>(row.bytes(20));
    change.hash = fixed_bytes<32>(row.bytes(21));
    change.admitted = row.integer(22) != 0;
    if (!reads_back(row, change, operation)) change.hash = {};
    return change;
}

std::optional<std::string> text_of(const std::optional<Payload>& payload) {
    return payload ? std::optional(payload->text) : std::nullopt;
}
std::optional<Bytes> salt_of(const std::optional<Payload>& payload) {
    return payload ? std::optional(Bytes(payload->salt)) : std::nullopt;
}

std::string select(std::string_view rest) {
    std::string sql = "SELECT ";
    sql += columns;
    sql += admitted_column;
    sql += " FROM change ";
    return sql += rest;
}

}  // namespace

std::string packed(const std::vector<Uuid>& ids) {
    std::string bytes;
    for (const Uuid& id : ids) bytes.append(id.bytes.begin(), id.bytes.end());
    return bytes;
}

std::vector<Uuid> unpacked_ids(std::string_view bytes) {
    std::vector<Uuid> ids(bytes.size() / 16);
    for (std::size_t i = 0; i < ids.size(); ++i) ids[i].bytes = fixed_bytes<16>(std::string(bytes.substr(i * 16, 16)));
    return ids;
}

void insert_change(const Connection& db, const Change& change) {
    const std::string seen = packed(change.seen);
    std::string sql = "INSERT INTO change (";
    sql += columns;
    sql += ") VALUES ($1,$2,$3,$4,$5,$6,$7,$8,$9,$10,$11,$12,$13,$14,$15,$16,$17,$18,$19,$20,$21,$22)";
    db.run(sql, change.id, change.replica, change.case_id, change.number, change.author, change.clock.ms,
           change.clock.count, to_text(change.time), change.record, change.kind, change.schema,
           to_text(change.operation), as_bytes(seen), text_of(change.public_payload), salt_of(change.public_payload),
           Bytes(change.public_digest), text_of(change.personal_payload), salt_of(change.personal_payload),
           Bytes(change.personal_digest), change.reason, Bytes(change.previous), Bytes(change.hash));
    if (!change.admitted) hold_change(db, change.id);
}

void hold_change(const Connection& db, const Uuid& change) {
    db.run("INSERT INTO held_change (change) VALUES ($1) ON CONFLICT (change) DO NOTHING", change);
}

void release_change(const Connection& db, const Uuid& change) {
    db.run("DELETE FROM held_change WHERE change = $1", change);
}

void remove_damaged(const Connection& db, const Uuid& change) {
    release_change(db, change);
    db.run("DELETE FROM clock_mark WHERE change = $1", change);
    db.run("DELETE FROM change WHERE id = $1", change);
}

std::optional<Sha256Digest> stored_hash(const Connection& db, const Uuid& change) {
    Statement row = db.prepare("SELECT hash FROM change WHERE id = $1");
    row.bind(change);
    return row.step() ? std::optional(fixed_bytes<32>(row.bytes(0))) : std::nullopt;
}

std::optional<Change> row_with_altered_id(const Connection& db, const Change& sound) {
    Statement row = db.prepare(
        select("WHERE replica = $1 AND case_id = $2 AND number = $3 AND hash = $4 AND id <> $5 AND length(id) = 16"));
    row.bind(sound.replica, sound.case_id, sound.number, Bytes(sound.hash), sound.id);
    while (row.step()) {
        Change found = change_at(row);
        if (change_hash(found) != found.hash) return found;
    }
    return std::nullopt;
}

std::optional<Change> load_change(const Connection& db, const Uuid& id) {
    Statement row = db.prepare(select("WHERE id = $1"));
    row.bind(id);
    if (!row.step()) return std::nullopt;
    return change_at(row);
}

std::vector<Change> changes_of_record(const Connection& db, const Uuid& record) {
    Statement row = db.prepare(select("WHERE record = $1 ORDER BY id"));
    row.bind(record);
    std::vector<Change> changes;
    while (row.step()) changes.push_back(change_at(row));
    return changes;
}

void for_each_change(const Connection& db, const std::function<void(const Change&)>& visit) {
    Statement row = db.prepare(select("ORDER BY replica, case_id, number, id"));
    while (row.step()) visit(change_at(row));
}

namespace {

std::set<Uuid> records_named(Statement row) {
    std::set<Uuid> records;
    while (row.step()) {
        // An id of another length is an altered change, which the chains tell of.
        if (row.bytes(0).size() == 16) records.insert(row.id(0));
    }
    return records;
}

}  // namespace

std::set<Uuid> changed_records(const Connection& db) {
    return records_named(db.prepare("SELECT DISTINCT record FROM change"));
}

std::set<Uuid> erased_records(const Connection& db) {
    return records_named(db.prepare("SELECT DISTINCT record FROM change WHERE operation = 'erase'"));
}

void visit_changes_behind(const Connection& db, std::int64_t place,
                          const std::function<void(std::int64_t place, const Change&)>& visit) {
    const std::string sql = fmt::format(
        "SELECT {}, NOT EXISTS (SELECT 1 FROM held_change h {} WHERE h.change = change.id), {} FROM change {}", columns,
        without_index, place_in_table, behind_that_place);
    Statement row = db.prepare(sql);
    row.bind(place);
    while (row.step()) visit(row.integer(place_column), change_at(row));
}

bool has_erasure(const Connection& db, const Uuid& record) {
    Statement row = db.prepare("SELECT 1 FROM change WHERE record = $1 AND operation = 'erase'");
    row.bind(record);
    return row.step();
}

ChainHead head_of_chain(const Connection& db, const Uuid& replica, const Uuid& case_id) {
    Statement row = db.prepare(
        "SELECT number, hash FROM change WHERE replica = $1 AND case_id = $2 ORDER BY number DESC, id DESC LIMIT 1");
    row.bind(replica, case_id);
    if (!row.step()) return {replica, case_id, 0, {}};
    return {replica, case_id, row.integer(0), fixed_bytes<32>(row.bytes(1))};
}

void drop_personal_payload(const Connection& db, const Uuid& change) {
    db.run("UPDATE change SET personal_payload = NULL, personal_salt = NULL WHERE id = $1", change);
}

void fill_payloads(const Connection& db, const Change& change) {
    db.run(
        "UPDATE change SET public_payload = COALESCE(public_payload, $2), public_salt = COALESCE(public_salt, $3), "
        "personal_payload = COALESCE(personal_payload, $4), personal_salt = COALESCE(personal_salt, $5) WHERE id = $1",
        change.id, text_of(change.public_payload), salt_of(change.public_payload), text_of(change.personal_payload),
        salt_of(change.personal_payload));
}

}  // namespace tedge::casebook
