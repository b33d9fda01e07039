// All that is SQLite's own and PostgreSQL would do otherwise: full-text search (FTS5), the region index (R*Tree), JSON
// functions in views, and the pragmas of care.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// FTS5 and R*Tree tables where there are none, and one view per kind of record, made anew from the field tables.
void create_indexes_and_views(const sqlite::Connection& db);

void index_text(const sqlite::Connection& db, const Uuid& record, std::string_view words);
void index_place(const sqlite::Connection& db, const Uuid& record, const std::optional<Uuid>& face_frame,
                 const BoxMm& box);
[[nodiscard]] std::string indexed_text(const sqlite::Connection& db, const Uuid& record);
[[nodiscard]] std::vector<SearchHit> search_text(const sqlite::Connection& db, std::string_view words,
                                                 std::size_t limit);
[[nodiscard]] std::vector<Uuid> search_place(const sqlite::Connection& db, const Uuid& face_frame, const BoxMm& box);

// Empties the full-text table so that no word of before stays in its pages; fill it again afterwards.
void clear_text_index(const sqlite::Connection& db);
// Moves the log into the database and cuts it to nothing; false while another program still reads the old pages.
[[nodiscard]] bool truncate_log(const sqlite::Connection& db);
// What sqlite3 itself finds wrong with the file; empty when it is sound.
[[nodiscard]] std::vector<std::string> file_faults(const sqlite::Connection& db);
[[nodiscard]] std::int64_t data_version(const sqlite::Connection& db);

}  // namespace tedge::casebook
