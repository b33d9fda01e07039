// Changes to rows and back.
#pragma once

#include <functional>
#include <set>
#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

void insert_change(const sqlite::Connection& db, const Change& change);

[[nodiscard]] std::optional<Change> load_change(const sqlite::Connection& db, const Uuid& id);
[[nodiscard]] std::vector<Change> changes_of_record(const sqlite::Connection& db, const Uuid& record);
// In the order of (replica, case, number, id).
void for_each_change(const sqlite::Connection& db, const std::function<void(const Change&)>& visit);
// Those that changes name.
[[nodiscard]] std::set<Uuid> changed_records(const sqlite::Connection& db);
// Those that an erase change names, admitted or not.
[[nodiscard]] std::set<Uuid> erased_records(const sqlite::Connection& db);
// In the order in which they lie in the table and without asking its indexes, from behind that place on. Throws at the
// first that cannot be read.
void visit_changes_behind(const sqlite::Connection& db, std::int64_t place,
                          const std::function<void(std::int64_t place, const Change&)>& visit);

[[nodiscard]] bool has_erasure(const sqlite::Connection& db, const Uuid& record);
// Marks a change as kept but not folded (Change::admitted).
void hold_change(const sqlite::Connection& db, const Uuid& change);
void release_change(const sqlite::Connection& db, const Uuid& change);
// Takes out a row that was altered, with its marks, so that its sound form can be put in its place.
void remove_damaged(const sqlite::Connection& db, const Uuid& change);
// The hash as it stands in the row, whether it fits or not; nothing where there is no such row.
[[nodiscard]] std::optional<Sha256Digest> stored_hash(const sqlite::Connection& db, const Uuid& change);
// The row of this change where it goes by another id than it should: same place in the chain, same hash, and altered.
[[nodiscard]] std::optional<Change> row_with_altered_id(const sqlite::Connection& db, const Change& sound);

// The newest number and hash of our chain in a case; number 0 where it is empty.
[[nodiscard]] ChainHead head_of_chain(const sqlite::Connection& db, const Uuid& replica, const Uuid& case_id);

// Takes the personal payload and its salt out of a row; the digest stays.
void drop_personal_payload(const sqlite::Connection& db, const Uuid& change);
// Puts payloads into a row that lacks them (they came from a reader who was given more).
void fill_payloads(const sqlite::Connection& db, const Change& change);

[[nodiscard]] std::string packed(const std::vector<Uuid>& ids);  // 16 bytes each
[[nodiscard]] std::vector<Uuid> unpacked_ids(std::string_view bytes);

}  // namespace tedge::casebook
