// Erasing by law or term: what an erase change asks for in this book, wherever it was made.
#include <stdexcept>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;
using sqlite::Connection;

std::vector<std::string> files_named_by(const Change& erase) {
    std::vector<std::string> names;
    if (!erase.public_payload) return names;
    const auto payload = parse_json(erase.public_payload->text);
    if (!payload || !payload->is_object() || !payload->contains("files")) return names;
    for (const json& name : (*payload)["files"]) {
        if (name.is_string() && is_digest_name(name.get<std::string>())) names.push_back(name.get<std::string>());
    }
    return names;
}

bool is_erasure(const Change& change) {
    return change.operation == Operation::erase && change.admitted;
}

// The file that goes with the record: nothing where it holds none. A photograph of the picture is no paper about a
// person and stays.
Expected<std::optional<std::string>> file_to_erase(const Connection& db, const FoldedRecord& record) {
    const auto file = record.kind == "document" ? file_of(record) : std::nullopt;
    if (!file) return std::optional<std::string>();
    const auto named = named_files(db);
    const auto users = named.find(*file);
    for (const Uuid& other : users != named.end() ? users->second : std::vector<Uuid>()) {
        if (other == record.id) continue;
        return fail("casebook.file-shared", "Another record still needs the file of this document.",
                    "Erase or change that record first.", {{"record", to_text(other)}});
    }
    return file;
}

NewChange erasing_change(const Uuid& author, const FoldedRecord& record, const std::optional<std::string>& file,
                         std::string_view reason) {
    json payload = json::object();
    if (file) payload["files"] = json::array({*file});
    NewChange made;
    made.author = author;
    made.case_id = record.case_id;
    made.record = record.id;
    made.kind = record.kind;
    made.schema = record.schema;
    made.operation = Operation::erase;
    made.seen = record.newest;
    made.public_text = canonical(payload);
    made.reason = std::string(reason);
    return made;
}

}  // namespace

bool apply_erasures(const Connection& db, const Uuid& record) {
    if (!has_erasure(db, record)) return false;
    const std::vector<Change> changes = changes_of_record(db, record);
    const std::set<Uuid> erased = changes_erased(changes);
    bool any = false;
    for (const Change& change : changes) {
        if (!change.personal_payload || !erased.contains(change.id)) continue;
        drop_personal_payload(db, change.id);
        any = true;
    }
    return any;
}

void note_erased_files(const Connection& db, const Uuid& record) {
    if (!has_erasure(db, record)) return;
    for (const Change& change : changes_of_record(db, record)) {
        if (!is_erasure(change)) continue;
        for (const std::string& name : files_named_by(change)) {
            db.run("INSERT INTO erased_file (sha256) VALUES ($1) ON CONFLICT (sha256) DO NOTHING", name);
        }
    }
}

bool is_erased_file(const Connection& db, std::string_view sha256) {
    auto row = db.prepare("SELECT 1 FROM erased_file WHERE sha256 = $1");
    row.bind(sha256);
    return row.step();
}

Expected<void> Casebook::erase(const Uuid& author, const Uuid& record, std::string_view reason) {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    return guarded(folder(), [&]() -> Expected<void> {
        const Connection& db = state_->db;
        if (db.in_transaction()) throw std::logic_error("files cannot be erased inside an act that may be taken back");
        sqlite::ImmediateTransaction transaction(db);
        const auto folded = load_record(db, record);
        if (!folded) {
            return fail("casebook.no-such-record", "There is no such record.", "Choose one from the list.");
        }
        const auto file = file_to_erase(db, *folded);
        if (!file) return pass_on(file);
        append_change(db, state_->replica, state_->sources, erasing_change(author, *folded, *file, reason));
        apply_erasures(db, record);
        note_erased_files(db, record);
        refold(db, record);
        ask_for_purge(db);
        transaction.commit();
        return purge_if_due();
    });
}

}  // namespace tedge::casebook
