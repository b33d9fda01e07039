// The projection: what stands in the tables `record` and `conflict` and in the indexes, all of it made from changes.
#pragma once

#include <functional>

#include "fold.hpp"
#include "sqlite/connection.hpp"

namespace tedge::casebook {

// Writes the record as folded, with its conflicts, words and place.
void store_record(const sqlite::Connection& db, const FoldedRecord& record);
// Folds the record's changes anew and stores it; returns what it has become.
FoldedRecord refold(const sqlite::Connection& db, const Uuid& record);

[[nodiscard]] std::optional<FoldedRecord> load_record(const sqlite::Connection& db, const Uuid& id);
[[nodiscard]] std::string kind_of_record(const sqlite::Connection& db, const Uuid& id);  // "" where there is none
// Without conflicts, which stand in a table of their own.
[[nodiscard]] std::vector<FoldedRecord> load_records(const sqlite::Connection& db, const Uuid& case_id,
                                                     std::string_view kind);  // kind "": all
[[nodiscard]] std::vector<FoldedRecord> load_records_of_kind(const sqlite::Connection& db, std::string_view kind);
// Hands on every living record of these kinds, as they lie in the table. What `is_wanted` (case, kind) refuses is not
// even read from its row.
using IsWanted = std::function<bool(const Uuid& case_id, std::string_view kind)>;
void for_each_living(const sqlite::Connection& db, const std::vector<std::string>& kinds, const IsWanted& is_wanted,
                     const std::function<void(FoldedRecord)>& take);
[[nodiscard]] Record to_record(FoldedRecord folded);
// The fields of a face's frame; nothing where the id names no frame.
[[nodiscard]] std::optional<Body> frame_body(const sqlite::Connection& db, const Uuid& id);

// Where the record lies, as the index of places is to hold it.
struct IndexedPlace {
    std::optional<Uuid> face_frame;
    BoxMm box;
};
[[nodiscard]] IndexedPlace indexed_place(const FoldedRecord& record);
// The text of the searched fields.
[[nodiscard]] std::string searched_words(const FoldedRecord& record);
// Everything the projection says, as one text: equal texts, equal projections.
[[nodiscard]] std::string dump_projection(const sqlite::Connection& db);
[[nodiscard]] std::string dump_record(const FoldedRecord& record);

}  // namespace tedge::casebook
