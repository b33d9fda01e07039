// All that is SQLite's own and PostgreSQL would do otherwise: full-text search (FTS5), the region index (R*Tree), JSON
// functions in views, and the pragmas of care.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// FTS5 and R*Tree tables where there are none.
void create_indexes(const sqlite::Connection& db);
// One view per kind of record ("finding_view"), made anew from the field tables; `views_text` tells whether they
// changed.
void create_views(const sqlite::Connection& db);
[[nodiscard]] std::string views_text();

void index_text(const sqlite::Connection& db, const Uuid& record, std::string_view words);
void index_place(const sqlite::Connection& db, const Uuid& record, const std::optional<Uuid>& face_frame,
                 const BoxMm& box);
[[nodiscard]] std::string indexed_text(const sqlite::Connection& db, const Uuid& record);
// Whether the place index holds just this of the record, as far as its 32-bit numbers can.
[[nodiscard]] bool is_indexed_at(const sqlite::Connection& db, const Uuid& record,
                                 const std::optional<Uuid>& face_frame, const BoxMm& box);
[[nodiscard]] std::vector<SearchHit> search_text(const sqlite::Connection& db, std::string_view words,
                                                 std::size_t limit);
[[nodiscard]] std::vector<Uuid> search_place(const sqlite::Connection& db, const Uuid& face_frame, const BoxMm& box);

// Empties the full-text table so that no word of before stays in its pages; fill it again afterwards.
void clear_text_index(const sqlite::Connection& db);
void clear_indexes(const sqlite::Connection& db);  // of words and of places
// Where a row lies in its table, and what asks for all rows behind $1 in that order without a look at an index.
inline constexpr std::string_view without_index = "NOT INDEXED";
inline constexpr std::string_view place_in_table = "rowid";
inline constexpr std::string_view behind_that_place = "NOT INDEXED WHERE rowid > $1 ORDER BY rowid";
// Into empty tables, from those of the database attached as `other`: the changes, and what stands beside them and could
// not be made from them.
void copy_what_no_change_holds(const sqlite::Connection& db, std::string_view other);
// Reads also what is left of a file that was cut short. For a connection that only reads.
void allow_damage(const sqlite::Connection& db);

// Moves the log into the database and cuts it to nothing; false while another program still reads the old pages.
[[nodiscard]] bool truncate_log(const sqlite::Connection& db);
// What sqlite3 itself finds wrong with the file; empty when it is sound.
[[nodiscard]] std::vector<std::string> file_faults(const sqlite::Connection& db);
// What the full-text and place indexes find wrong with themselves. The former asks by writing: nothing of a book that
// is open for reading only.
[[nodiscard]] std::vector<std::string> index_faults(const sqlite::Connection& db, bool may_write);
[[nodiscard]] std::int64_t data_version(const sqlite::Connection& db);

}  // namespace tedge::casebook
