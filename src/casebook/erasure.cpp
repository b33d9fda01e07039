// Erasing by law or term: what an erase change asks for in this book, wherever it was made.
#include <algorithm>
#include <set>
#include <stdexcept>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "field_paths.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;
using sqlite::Connection;

std::set<std::string> files_named_by(const Change& erase) {
    std::set<std::string> names;
    if (!erase.public_payload) return names;
    const auto payload = parse_json(erase.public_payload->text);
    if (!payload || !payload->is_object() || !payload->contains("files")) return names;
    for (const json& name : (*payload)["files"]) {
        if (name.is_string() && is_digest_name(name.get<std::string>())) names.insert(name.get<std::string>());
    }
    return names;
}

std::optional<Uuid> other_user_of(const std::map<std::string, std::vector<Uuid>>& named, const std::string& file,
                                  const Uuid& record) {
    const auto users = named.find(file);
    if (users == named.end()) return std::nullopt;
    const auto other = std::ranges::find_if(users->second, [&](const Uuid& user) { return user != record; });
    return other != users->second.end() ? std::optional(*other) : std::nullopt;
}

// A paper about a person goes with its record; a photograph of the picture is no such paper and stays.
constexpr std::string_view kind_erased_with_file = "document";

// Of the files that the changes put into a document, those that no other record needs.
std::set<std::string> files_of_its_own(const Connection& db, const Uuid& record, const std::vector<Change>& changes) {
    std::set<std::string> files;
    for (const Change& change : changes) {
        if (change.kind == kind_erased_with_file) files.merge(files_put_in(change));
    }
    if (files.empty()) return files;
    const auto named = named_files(db);
    std::erase_if(files, [&](const std::string& file) { return other_user_of(named, file, record).has_value(); });
    return files;
}

// The files to erase with the record. Its present one must be its alone; an earlier one that another record needs by
// now stays with that.
Expected<std::set<std::string>> files_to_erase(const Connection& db, const FoldedRecord& record) {
    const auto present = record.kind == kind_erased_with_file ? file_of(record) : std::nullopt;
    if (const auto other = present ? other_user_of(named_files(db), *present, record.id) : std::nullopt) {
        return fail("casebook.file-shared", "Another record still needs the file of this document.",
                    "Erase or change that record first.", {{"record", to_text(*other)}});
    }
    return files_of_its_own(db, record.id, changes_of_record(db, record.id));
}

NewChange erasing_change(const Uuid& author, const FoldedRecord& record, const std::set<std::string>& files,
                         std::string_view reason) {
    json payload = json::object();
    if (!files.empty()) payload["files"] = files;
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

// Personal fields that any change of the record says something of, by name.
std::vector<std::string> personal_fields_of(const std::vector<Change>& changes) {
    std::set<std::string> fields;
    for (Change change : changes) {
        change.public_payload.reset();
        for (const std::string& path : paths_written(change)) fields.emplace(top_field(path));
    }
    return {fields.begin(), fields.end()};
}

std::vector<std::string> names_in(const json& body) {
    std::vector<std::string> names;
    for (const auto& [name, value] : body.items()) names.push_back(name);
    return names;
}

// Removed ones too: what they said is still in the book.
std::vector<Uuid> others_about_persons(const Connection& db, const FoldedRecord& erased) {
    std::vector<Uuid> others;
    if (erased.kind != "case") return others;
    for (const FoldedRecord& record : load_records(db, erased.case_id, "")) {
        if (record.id != erased.id && !record.personal_body.empty()) others.push_back(record.id);
    }
    return others;
}

}  // namespace

std::set<std::string> files_put_in(const Change& change) {
    std::set<std::string> names;
    const Kind* kind = find_kind(change.kind);
    for (const auto& [path, value] : values_written(change)) {
        const Field* field = kind != nullptr ? kind->field(path) : nullptr;
        if (field == nullptr || field->type != FieldType::sha256 || !value.is_string()) continue;
        if (is_digest_name(value.get<std::string>())) names.insert(value.get<std::string>());
    }
    return names;
}

std::set<std::string> files_of_erasures(const std::vector<Change>& changes) {
    std::set<std::string> names;
    for (const Change& change : changes) {
        if (is_erasure(change)) names.merge(files_named_by(change));
    }
    return names;
}

bool apply_erasures(const Connection& db, const Uuid& record) {
    if (!has_erasure(db, record)) return false;
    const std::vector<Change> changes = changes_of_record(db, record);
    const std::set<Uuid> erased = changes_erased(changes);
    bool any = false;
    for (const Change& change : changes) {
        if (!change.personal_payload || !erased.contains(change.id)) continue;
        if (!says_something(*change.personal_payload)) continue;  // so that it is known later what lost something
        drop_personal_payload(db, change.id);
        any = true;
    }
    return any;
}

void note_erased_files(const Connection& db, const Uuid& record) {
    if (!has_erasure(db, record)) return;
    const std::vector<Change> changes = changes_of_record(db, record);
    std::set<std::string> names = files_of_erasures(changes);
    // What another replica put into the document without knowing of the erasure goes with it.
    const std::set<Uuid> erased = changes_erased(changes);
    std::vector<Change> unaware;
    std::ranges::copy_if(changes, std::back_inserter(unaware), [&](const Change& c) { return erased.contains(c.id); });
    names.merge(files_of_its_own(db, record, unaware));
    for (const std::string& name : names) {
        db.run("INSERT INTO erased_file (sha256) VALUES ($1) ON CONFLICT (sha256) DO NOTHING", name);
    }
}

bool is_erased_file(const Connection& db, std::string_view sha256) {
    auto row = db.prepare("SELECT 1 FROM erased_file WHERE sha256 = $1");
    row.bind(sha256);
    return row.step();
}

Expected<Erasure> Casebook::erase(const Uuid& author, const Uuid& record, std::string_view reason) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<Erasure> {
        const Connection& db = state_->db;
        if (db.in_transaction()) throw std::logic_error("files cannot be erased inside an act that may be taken back");
        sqlite::ImmediateTransaction transaction(db);
        const auto folded = load_record(db, record);
        if (!folded) {
            return fail("casebook.no-such-record", "There is no such record.", "Choose one from the list.");
        }
        const auto files = files_to_erase(db, *folded);
        if (!files) return pass_on(files);
        if (!is_valid_utf8(reason)) return std::unexpected(reason_not_text());
        Erasure done;
        done.fields = personal_fields_of(changes_of_record(db, record));
        done.files = files->size();
        append_change(db, state_->sources, erasing_change(author, *folded, *files, reason));
        apply_erasures(db, record);
        done.stays = names_in(refold(db, record).public_body);
        done.others = others_about_persons(db, *folded);
        note_erased_files(db, record);
        ask_for_purge(db);
        transaction.commit();
        purge_if_due();
        done.held_up = pending_purges(db);
        return done;
    });
}

}  // namespace tedge::casebook
