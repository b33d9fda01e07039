// Reading records, history, indexes and heads.
#include "book_state.hpp"
#include "change_store.hpp"
#include "dialect.hpp"

namespace tedge::casebook {

namespace {

std::vector<Record> living(const std::vector<FoldedRecord>& folded) {
    std::vector<Record> records;
    for (const FoldedRecord& record : folded) {
        if (!record.deleted) records.push_back(to_record(record));
    }
    return records;
}

}  // namespace

Expected<Record> Casebook::record(const Uuid& id) {
    return guarded(folder(), [&]() -> Expected<Record> {
        const auto folded = load_record(state_->db, id);
        if (!folded) {
            return fail("casebook.no-such-record", fmt::format("There is no record {} in the casebook.", to_text(id)),
                        "Choose one from the list.", {{"id", to_text(id)}});
        }
        return to_record(*folded);
    });
}

Expected<std::vector<Record>> Casebook::records(const Uuid& case_id, std::string_view kind) {
    return guarded(folder(),
                   [&]() -> Expected<std::vector<Record>> { return living(load_records(state_->db, case_id, kind)); });
}

Expected<std::vector<Record>> Casebook::cases() {
    return guarded(folder(),
                   [&]() -> Expected<std::vector<Record>> { return living(load_records_of_kind(state_->db, "case")); });
}

Expected<std::vector<Record>> Casebook::people() {
    return guarded(folder(), [&]() -> Expected<std::vector<Record>> {
        return living(load_records_of_kind(state_->db, "person"));
    });
}

Expected<CaseSnapshot> Casebook::snapshot(const Uuid& case_id) {
    return guarded(folder(), [&]() -> Expected<CaseSnapshot> {
        const sqlite::ReadTransaction one_moment(state_->db);
        CaseSnapshot snapshot;
        bool found = false;
        for (Record& record : living(load_records(state_->db, case_id, ""))) {
            if (record.id == case_id) {
                snapshot.picture = std::move(record);
                found = true;
            } else {
                snapshot.records.push_back(std::move(record));
            }
        }
        if (!found) {
            return fail("casebook.no-such-record",
                        fmt::format("There is no case {} in the casebook.", to_text(case_id)),
                        "List the cases and choose one.", {{"id", to_text(case_id)}});
        }
        snapshot.people = living(load_records_of_kind(state_->db, "person"));
        return snapshot;
    });
}

Expected<std::vector<Change>> Casebook::history(const Uuid& record) {
    return guarded(folder(), [&]() -> Expected<std::vector<Change>> { return changes_of_record(state_->db, record); });
}

Expected<std::vector<Change>> Casebook::all_changes() {
    return guarded(folder(), [&]() -> Expected<std::vector<Change>> {
        std::vector<Change> changes;
        for_each_change(state_->db, [&](const Change& change) { changes.push_back(change); });
        return changes;
    });
}

Expected<std::vector<Conflict>> Casebook::conflicts() {
    return guarded(folder(), [&]() -> Expected<std::vector<Conflict>> {
        auto row = state_->db.prepare(
            "SELECT r.case_id, c.record, c.path, c.earlier, c.later FROM conflict c JOIN record r ON r.id = c.record "
            "ORDER BY r.case_id, c.record, c.path, c.earlier, c.later");
        std::vector<Conflict> conflicts;
        while (row.step()) conflicts.push_back({row.id(0), row.id(1), row.text(2), row.id(3), row.id(4)});
        return conflicts;
    });
}

Expected<std::vector<SearchHit>> Casebook::search(std::string_view words, std::size_t limit) {
    return guarded(folder(), [&]() -> Expected<std::vector<SearchHit>> {
        const sqlite::ReadTransaction one_moment(state_->db);
        return search_text(state_->db, words, limit);
    });
}

Expected<std::vector<Uuid>> Casebook::placed_in(const Uuid& face_frame, const BoxMm& box) {
    return guarded(folder(),
                   [&]() -> Expected<std::vector<Uuid>> { return search_place(state_->db, face_frame, box); });
}

Expected<std::vector<ChainHead>> Casebook::heads() {
    return guarded(folder(), [&]() -> Expected<std::vector<ChainHead>> {
        auto row = state_->db.prepare("SELECT DISTINCT replica, case_id FROM change ORDER BY replica, case_id");
        std::vector<ChainHead> heads;
        while (row.step()) heads.push_back(head_of_chain(state_->db, row.id(0), row.id(1)));
        return heads;
    });
}

Expected<std::int64_t> Casebook::data_version() {
    return guarded(folder(), [&]() -> Expected<std::int64_t> { return casebook::data_version(state_->db); });
}

}  // namespace tedge::casebook
