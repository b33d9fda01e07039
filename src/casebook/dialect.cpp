#include "dialect.hpp"

#include <fmt/format.h>

#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

using sqlite::Connection;
using sqlite::Statement;

std::string view_of(const Kind& kind) {
    std::string columns;
    for (const Field& field : kind.fields) {
        columns += fmt::format(", json_extract({}, '$.{}') AS \"{}\"", field.personal ? "personal_body" : "public_body",
                               field.name, field.name);
    }
    return fmt::format(
        "DROP VIEW IF EXISTS \"{0}_view\";\n"
        "CREATE VIEW \"{0}_view\" AS SELECT id AS record_id, case_id{1} FROM record WHERE kind = '{0}' AND deleted = "
        "0;\n",
        kind.name, columns);
}

// FTS5's own syntax is kept away from people: each word quoted, the last one as a beginning.
std::string match_expression(std::string_view words) {
    std::string expression;
    for (const std::string_view word : split(words, ' ')) {
        if (trimmed(word).empty()) continue;
        std::string quoted;
        for (const char c : trimmed(word)) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
        expression += (expression.empty() ? "\"" : " \"") + quoted + "\"";
    }
    return expression.empty() ? expression : expression + "*";
}

// The row number of a record in the index tables, which know integers only.
std::int64_t row_of(const Connection& db, const Uuid& record) {
    Statement row = db.prepare("SELECT row FROM indexed_record WHERE record = $1");
    row.bind(record);
    if (row.step()) return row.integer(0);
    db.run("INSERT INTO indexed_record (record) VALUES ($1)", record);
    return row_of(db, record);
}

}  // namespace

void create_indexes(const Connection& db) {
    db.execute(R"sql(
CREATE TABLE IF NOT EXISTS indexed_record (row INTEGER PRIMARY KEY, record BLOB NOT NULL UNIQUE, face_frame BLOB);
CREATE VIRTUAL TABLE IF NOT EXISTS text_index USING fts5 (words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
CREATE VIRTUAL TABLE IF NOT EXISTS place_index USING rtree (row, min_x, max_x, min_y, max_y);
)sql");
}

std::string views_text() {
    std::string text;
    for (const Kind* kind : all_kinds()) text += view_of(*kind);
    return text;
}

void create_views(const Connection& db) {
    db.execute(views_text());
}

void index_text(const Connection& db, const Uuid& record, std::string_view words) {
    const std::int64_t row = row_of(db, record);
    db.run("DELETE FROM text_index WHERE rowid = $1", row);
    if (!words.empty()) db.run("INSERT INTO text_index (rowid, words) VALUES ($1, $2)", row, words);
}

void index_place(const Connection& db, const Uuid& record, const std::optional<Uuid>& face_frame, const BoxMm& box) {
    const std::int64_t row = row_of(db, record);
    db.run("DELETE FROM place_index WHERE row = $1", row);
    db.run("UPDATE indexed_record SET face_frame = $2 WHERE row = $1", row, face_frame);
    if (!face_frame || box.empty()) return;
    db.run("INSERT INTO place_index VALUES ($1, $2, $3, $4, $5)", row, box.min.x_mm, box.max.x_mm, box.min.y_mm,
           box.max.y_mm);
}

std::string indexed_text(const Connection& db, const Uuid& record) {
    Statement row =
        db.prepare("SELECT t.words FROM text_index t JOIN indexed_record i ON i.row = t.rowid WHERE i.record = $1");
    row.bind(record);
    return row.step() ? row.text(0) : std::string();
}

bool is_indexed_at(const Connection& db, const Uuid& record, const std::optional<Uuid>& face_frame, const BoxMm& box) {
    Statement row = db.prepare(
        "SELECT i.face_frame, p.row, COALESCE(p.min_x <= $2 AND p.max_x >= $3 AND p.min_y <= $4 AND p.max_y >= $5, 0) "
        "FROM indexed_record i LEFT JOIN place_index p ON p.row = i.row WHERE i.record = $1");
    row.bind(record, box.min.x_mm, box.max.x_mm, box.min.y_mm, box.max.y_mm);
    const bool placed = face_frame && !box.empty();
    if (!row.step()) return !placed;
    if (face_frame ? row.is_null(0) || row.id(0) != *face_frame : !row.is_null(0)) return false;
    return placed ? row.integer(2) != 0 : row.is_null(1);
}

std::vector<SearchHit> search_text(const Connection& db, std::string_view words, std::size_t limit) {
    std::vector<SearchHit> hits;
    const std::string expression = match_expression(words);
    if (expression.empty()) return hits;
    // Ranked by FTS5 alone first; the record and the excerpt are asked for the few that are shown. The plus keeps
    // sqlite3 from looking for each of them by itself, which would collect the hits of an unfinished word every time.
    // What begins with one letter is in every other record: the newest say as much as the best of them, and need not be
    // weighed against all the others.
    const bool is_one_letter = trimmed(words).size() == 1;
    Statement row = db.prepare(
        fmt::format("SELECT r.case_id, r.id, r.kind, snippet(text_index, 0, '', '', '…', 12) FROM text_index "
                    "JOIN indexed_record i ON i.row = text_index.rowid JOIN record r ON r.id = i.record "
                    "WHERE text_index MATCH $1 AND +text_index.rowid IN "
                    "(SELECT rowid FROM text_index WHERE text_index MATCH $1 ORDER BY {0} LIMIT $2) ORDER BY {0}, r.id",
                    is_one_letter ? "text_index.rowid DESC" : "rank"));
    row.bind(expression, static_cast<std::int64_t>(limit));
    while (row.step()) hits.push_back({row.id(0), row.id(1), row.text(2), row.text(3)});
    return hits;
}

std::vector<Uuid> search_place(const Connection& db, const Uuid& face_frame, const BoxMm& box) {
    Statement row = db.prepare(
        "SELECT i.record FROM place_index p JOIN indexed_record i ON i.row = p.row WHERE i.face_frame = $1 "
        "AND p.max_x >= $2 AND p.min_x <= $3 AND p.max_y >= $4 AND p.min_y <= $5 ORDER BY i.record");
    row.bind(face_frame, box.min.x_mm, box.max.x_mm, box.min.y_mm, box.max.y_mm);
    std::vector<Uuid> found;
    while (row.step()) found.push_back(row.id(0));
    return found;
}

void clear_text_index(const Connection& db) {
    // Dropped and not emptied: FTS5 keeps deleted words in its segments until they are merged.
    db.execute("DROP TABLE text_index");
    create_indexes(db);
}

void clear_indexes(const Connection& db) {
    clear_text_index(db);
    db.execute("DELETE FROM place_index; DELETE FROM indexed_record;");
}

void copy_what_no_change_holds(const Connection& db, std::string_view other) {
    // With an order, so that sqlite3 takes rows and not pages, with whatever is wrong in those.
    const auto copy = [&](std::string_view table, std::string_view condition) {
        db.execute(fmt::format("INSERT INTO main.{0} SELECT * FROM {1}.{0} NOT INDEXED {2} ORDER BY rowid", table,
                               other, condition));
    };
    for (const std::string_view table : {"book", "change", "erased_file", "damaged_file", "backup"}) copy(table, "");
    for (const std::string_view mark : {"clock_mark", "held_change"}) {
        copy(mark, "WHERE change IN (SELECT id FROM main.change)");
    }
}

void allow_damage(const Connection& db) {
    db.execute("PRAGMA writable_schema = ON");
}

bool truncate_log(const Connection& db) {
    Statement row = db.prepare("PRAGMA wal_checkpoint(TRUNCATE)");
    return row.step() && row.integer(0) == 0;
}

std::vector<std::string> file_faults(const Connection& db) {
    std::vector<std::string> faults;
    for (const std::string_view pragma : {"PRAGMA integrity_check(10)", "PRAGMA foreign_key_check"}) {
        Statement row = db.prepare(pragma);
        while (row.step()) {
            if (row.text(0) != "ok") faults.push_back(row.text(0));
        }
    }
    return faults;
}

std::vector<std::string> index_faults(const Connection& db, bool may_write) {
    std::vector<std::string> faults;
    Statement places = db.prepare("SELECT rtreecheck('place_index')");
    if (places.step() && places.text(0) != "ok") faults.push_back("the index of places: " + places.text(0));
    if (!may_write) return faults;
    try {
        db.execute("INSERT INTO text_index (text_index) VALUES ('integrity-check')");
    } catch (const sqlite::SqlError& problem) {
        if (problem.is_busy()) throw;
        faults.push_back(std::string("the index of words: ") + problem.what());
    }
    return faults;
}

std::int64_t data_version(const Connection& db) {
    return db.integer("PRAGMA data_version");
}

}  // namespace tedge::casebook
