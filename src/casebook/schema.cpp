#include "schema.hpp"

#include <array>

#include "dialect.hpp"

namespace tedge::casebook {

namespace {

// SQL that PostgreSQL takes too; what it does not is in dialect.cpp.
constexpr std::string_view first_tables = R"sql(
CREATE TABLE book (
  replica BLOB NOT NULL,
  folder_mark TEXT NOT NULL,
  clock_ms BIGINT NOT NULL,
  clock_count BIGINT NOT NULL,
  purge_pending INTEGER NOT NULL,
  views TEXT NOT NULL
);
CREATE TABLE change (
  id BLOB PRIMARY KEY NOT NULL,
  replica BLOB NOT NULL,
  case_id BLOB NOT NULL,
  number BIGINT NOT NULL,
  author BLOB NOT NULL,
  clock_ms BIGINT NOT NULL,
  clock_count BIGINT NOT NULL,
  made_at TEXT NOT NULL,
  record BLOB NOT NULL,
  kind TEXT NOT NULL,
  schema INTEGER NOT NULL,
  operation TEXT NOT NULL,
  seen BLOB NOT NULL,
  public_payload TEXT,
  public_salt BLOB,
  public_digest BLOB NOT NULL,
  personal_payload TEXT,
  personal_salt BLOB,
  personal_digest BLOB NOT NULL,
  reason TEXT NOT NULL,
  previous BLOB NOT NULL,
  hash BLOB NOT NULL
);
CREATE INDEX change_by_chain ON change (replica, case_id, number);
CREATE INDEX change_by_record ON change (record);
CREATE TABLE record (
  id BLOB PRIMARY KEY NOT NULL,
  case_id BLOB NOT NULL,
  kind TEXT NOT NULL,
  schema INTEGER NOT NULL,
  deleted INTEGER NOT NULL,
  public_body TEXT NOT NULL,
  personal_body TEXT NOT NULL,
  newest BLOB NOT NULL,
  first_written TEXT NOT NULL,
  last_written TEXT NOT NULL
);
CREATE INDEX record_by_case ON record (case_id, kind);
CREATE INDEX record_by_kind ON record (kind);
CREATE TABLE conflict (
  record BLOB NOT NULL REFERENCES record (id),
  path TEXT NOT NULL,
  earlier BLOB NOT NULL,
  later BLOB NOT NULL,
  PRIMARY KEY (record, path, earlier, later)
);
CREATE TABLE clock_mark (
  change BLOB PRIMARY KEY NOT NULL REFERENCES change (id)
);
CREATE TABLE held_change (
  change BLOB PRIMARY KEY NOT NULL REFERENCES change (id)
);
CREATE TABLE erased_file (
  sha256 TEXT PRIMARY KEY NOT NULL
);
CREATE TABLE damaged_file (
  sha256 TEXT PRIMARY KEY NOT NULL
);
CREATE TABLE backup (
  folder TEXT PRIMARY KEY NOT NULL,
  purge_pending INTEGER NOT NULL
);
)sql";

struct Migration {
    std::int64_t to_version;
    std::string_view sql;
};

constexpr std::array migrations{Migration{1, first_tables}};

}  // namespace

std::int64_t current_version() {
    return migrations.back().to_version;
}

SchemaState schema_state(const sqlite::Connection& db) {
    const std::int64_t version = db.integer("PRAGMA user_version");
    const std::int64_t application = db.integer("PRAGMA application_id");
    if (application == 0 && version == 0 && db.integer("SELECT count(*) FROM sqlite_schema") == 0) {
        return SchemaState::empty;
    }
    if (application != application_id) return SchemaState::foreign;
    if (version == current_version()) return SchemaState::current;
    return version < current_version() ? SchemaState::older : SchemaState::newer;
}

void migrate(const sqlite::Connection& db) {
    for (const Migration& migration : migrations) {
        // Asked first without a lock: whoever only reads does not wait for a writer.
        if (db.integer("PRAGMA user_version") >= migration.to_version) continue;
        sqlite::ImmediateTransaction transaction(db);
        // Asked again inside: another process may have been quicker.
        if (db.integer("PRAGMA user_version") >= migration.to_version) continue;
        db.execute(migration.sql);
        create_indexes(db);
        db.execute("PRAGMA application_id = " + std::to_string(application_id));
        db.execute("PRAGMA user_version = " + std::to_string(migration.to_version));
        transaction.commit();
    }
}

}  // namespace tedge::casebook
