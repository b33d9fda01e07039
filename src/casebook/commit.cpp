// Writing: edits become changes, changes become records, all in one transaction.
#include <algorithm>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "edit_checks.hpp"
#include "field_paths.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "validation.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

struct Payloads {
    std::string public_text;
    std::string personal_text;
};

// Personal fields travel in a payload of their own, so that they alone can be taken out again.
Payloads split_payloads(const Kind& kind, const Edit& edit) {
    json public_part = json::object();
    json personal_part = json::object();
    const auto part_of = [&](std::string_view path) -> json& {
        const Field* field = kind.field(top_field(path));
        return field != nullptr && field->personal ? personal_part : public_part;
    };
    for (const auto& [path, value] : edit.values.set_values().items()) part_of(path)["set"][path] = value;
    for (const std::string& path : edit.values.unset_paths()) part_of(path)["unset"].push_back(path);
    for (const Uuid& id : edit.names) public_part["names"].push_back(to_text(id));
    return {canonical(public_part), canonical(personal_part)};
}

std::unexpected<Error> no_such_record() {
    return fail("casebook.no-such-record", "There is no such record in the casebook.", "Choose one from the list.");
}

class Committer {
public:
    Committer(const sqlite::Connection& db, const Sources& sources, const std::filesystem::path& folder,
              const Uuid& author)
        : db_(db), sources_(sources), author_(author), checks_(db, sources, folder) {}

    Expected<Uuid> apply(const Edit& edit) {
        const bool creates = edit.operation == Operation::create;
        std::optional<FoldedRecord> before;
        if (!edit.record.is_nil()) before = load_record(db_, edit.record);
        if (!creates && !before) return no_such_record();
        if (creates && before) {
            return fail("casebook.bad-field", "A record with this id is there already.", "Leave the id to the program.",
                        {{"field", "id"}});
        }
        const Kind* kind = find_kind(creates ? edit.kind : before->kind);
        if (kind == nullptr) {
            return fail("casebook.unknown-kind", fmt::format("There is no kind of record \"{}\".", edit.kind),
                        "Bring this program up to date.");
        }
        if (auto checked = checks_.before_writing(edit, *kind, before); !checked) return pass_on(checked);

        const NewChange made = header(edit, *kind, before);
        if (auto placed = check_case(made, *kind); !placed) return pass_on(placed);
        const Change change = append_change(db_, sources_, made);
        FoldedRecord after = before ? *before : fold({change});
        if (before && before->newest.size() == 1 && made.seen == before->newest &&
            edit.operation != Operation::resolve) {
            apply_next(after, change);
            store_record(db_, after);
        } else {
            after = refold(db_, change.record);
        }
        if (!after.deleted) {
            const auto stood =
                before ? std::optional(Bodies{before->public_body, before->personal_body}) : std::nullopt;
            auto whole = check_required(*kind, {after.public_body, after.personal_body}, stood);
            if (!whole) return pass_on(whole);
        }
        return change.record;
    }

    // When all of an act is written: a face and what lies on it may change together.
    [[nodiscard]] Expected<void> check_written(const Edit& edit, const Uuid& record) const {
        const auto after = load_record(db_, record);
        if (!after || after->deleted) return {};
        return checks_.after_writing(edit, *find_kind(after->kind), *after);
    }

private:
    // Whatever belongs to a picture belongs to one that is here.
    [[nodiscard]] Expected<void> check_case(const NewChange& made, const Kind& kind) const {
        if (kind.book_wide || made.case_id == made.record || kind_of_record(db_, made.case_id) == "case") return {};
        return fail("casebook.no-such-record",
                    fmt::format("This {} is to belong to a case that is not here.", kind.label),
                    "List the cases and choose one.", {{"id", to_text(made.case_id)}});
    }

    [[nodiscard]] NewChange header(const Edit& edit, const Kind& kind,
                                   const std::optional<FoldedRecord>& before) const {
        NewChange made;
        made.author = author_;
        made.case_id = before ? before->case_id : kind.book_wide ? Uuid{} : edit.case_id;
        made.record = edit.record.is_nil() ? sources_.ids->next() : edit.record;
        // A case is its own case: its record's id is the id that everything in it names.
        if (!before && kind.name == "case") made.case_id = made.record;
        made.kind = std::string(kind.name);
        made.schema = kind.schema;
        made.operation = edit.operation;
        if (before) made.seen = edit.seen.empty() ? before->newest : edit.seen;
        std::ranges::sort(made.seen);
        Payloads payloads = split_payloads(kind, edit);
        made.public_text = std::move(payloads.public_text);
        made.personal_text = std::move(payloads.personal_text);
        made.reason = edit.reason;
        return made;
    }

    const sqlite::Connection& db_;
    const Sources& sources_;
    const Uuid& author_;
    EditChecks checks_;
};

}  // namespace

Expected<std::vector<Uuid>> Casebook::commit(const Uuid& author, const std::vector<Edit>& edits) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<std::vector<Uuid>> {
        sqlite::ImmediateTransaction transaction(state_->db);
        Committer committer(state_->db, state_->sources, folder(), author);
        std::vector<Uuid> ids;
        for (const Edit& edit : edits) {
            if (edit.operation == Operation::erase) throw std::logic_error("erasing goes through Casebook::erase");
            const auto id = committer.apply(edit);
            if (!id) return pass_on(id);
            ids.push_back(*id);
        }
        for (std::size_t i = 0; i < edits.size(); ++i) {
            if (auto fits = committer.check_written(edits[i], ids[i]); !fits) return pass_on(fits);
        }
        transaction.commit();
        return ids;
    });
}

Expected<void> Casebook::act(const std::function<Expected<void>()>& steps) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<void> {
        sqlite::ImmediateTransaction transaction(state_->db);
        auto done = steps();
        if (done) transaction.commit();
        return done;
    });
}

Uuid Casebook::new_id() {
    return state_->sources.ids->next();
}

Expected<Uuid> Casebook::person_named(std::string_view said) {
    const std::string_view name = trimmed(said);
    if (name.empty()) {
        return fail("casebook.missing-field", "A person needs a name.", "Give one.", {{"field", "name"}});
    }
    return guarded(folder(), [&]() -> Expected<Uuid> {
        const auto find = [&]() -> std::optional<Uuid> {
            for (const FoldedRecord& person : load_records_of_kind(state_->db, "person")) {
                const auto known = person.personal_body.find("name");
                if (!person.deleted && known != person.personal_body.end() && *known == name) return person.id;
            }
            return std::nullopt;
        };
        if (const auto found = find()) return *found;
        if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
        sqlite::ImmediateTransaction transaction(state_->db);
        if (const auto found = find()) return *found;  // another process may have been quicker
        Edit edit;
        edit.kind = "person";
        edit.record = state_->sources.ids->next();
        edit.values.text("name", name);
        // The first thing written about a person is written by that person.
        Committer committer(state_->db, state_->sources, folder(), edit.record);
        const auto id = committer.apply(edit);
        if (id) transaction.commit();
        return id;
    });
}

}  // namespace tedge::casebook
