// Writing: edits become changes, changes become records, all in one transaction.
#include <algorithm>
#include <array>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "field_paths.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/raking.hpp"
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

std::unexpected<Error> nothing_to_do() {
    return fail("casebook.nothing-to-do", "Nothing was changed.", "Change a field first.");
}

// Whether the act makes sense on the record as it stands.
Expected<void> check_state(const Edit& edit, const Kind& kind, const FoldedRecord& before) {
    if (before.schema > kind.schema) {
        return fail("casebook.newer-record", fmt::format("This {} was written by a newer program.", kind.label),
                    "Edit it there, or bring this program up to date.");
    }
    switch (edit.operation) {
        case Operation::patch:
            if (edit.values.empty()) return nothing_to_do();
            if (!before.deleted) return {};
            return fail("casebook.deleted-record", fmt::format("This {} was deleted.", kind.label), "Restore it first.",
                        {{"id", to_text(before.id)}});
        case Operation::remove:
            return before.deleted ? nothing_to_do() : Expected<void>();
        case Operation::restore:
            if (before.deleted) return {};
            return fail("casebook.nothing-to-do", fmt::format("This {} is not removed.", kind.label),
                        "There is nothing to restore.");
        case Operation::resolve:
            return edit.names.empty() ? nothing_to_do() : Expected<void>();
        default:
            return {};
    }
}

class Committer {
public:
    Committer(const sqlite::Connection& db, const Sources& sources, const std::filesystem::path& folder,
              const Uuid& author)
        : db_(db), sources_(sources), folder_(folder), author_(author) {}

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
        if (auto checked = check_edit(edit, *kind, before); !checked) return pass_on(checked);

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
            if (auto placed = check_place_of(edit, *kind, after); !placed) return pass_on(placed);
            if (auto lit = check_raking_of(edit, *kind, after); !lit) return pass_on(lit);
            if (auto done = check_happened(edit, *kind, after); !done) return pass_on(done);
        }
        return change.record;
    }

private:
    [[nodiscard]] Expected<void> check_edit(const Edit& edit, const Kind& kind,
                                            const std::optional<FoldedRecord>& before) const {
        if (before) {
            if (auto checked = check_state(edit, kind, *before); !checked) return checked;
            if (auto checked = check_writing_erased(db_, kind, edit, *before); !checked) return checked;
        }
        if (!is_valid_utf8(edit.reason)) return std::unexpected(reason_not_text());
        if (auto checked = check_values(kind, edit.values); !checked) return checked;
        if (auto checked = check_files(kind, edit); !checked) return checked;
        if (before) {
            if (auto checked = check_ways(edit.values, *before); !checked) return checked;
        }
        return check_references(kind, edit.values, [this](const Uuid& id) { return kind_of_record(db_, id); });
    }

    // Where an edit says a place or a size; what stood before holds up nothing else.
    [[nodiscard]] Expected<void> check_place_of(const Edit& edit, const Kind& kind, const FoldedRecord& after) const {
        constexpr std::array said{"face_frame", "region", "width_mm", "height_mm", "face"};
        const auto is_said = [&](const char* field) { return edit.values.set_values().contains(field); };
        if (std::ranges::none_of(said, is_said)) return {};
        const Body body = to_record(after).body;
        if (auto placed = check_place(kind, body, [this](const Uuid& id) { return frame_body(db_, id); }); !placed)
            return placed;
        return kind.name == "face_frame" ? check_still_on(after.id, after.case_id, body) : Expected<void>();
    }

    // A face that is measured anew leaves nothing of what was placed on it outside.
    [[nodiscard]] Expected<void> check_still_on(const Uuid& frame, const Uuid& case_id, const Body& size) const {
        for (const FoldedRecord& folded : load_records(db_, case_id, "")) {
            const Record record = to_record(folded);
            const Kind* kind = find_kind(record.kind);
            if (record.deleted || kind == nullptr || record.body.record("face_frame") != frame ||
                !record.body.region("region")) {
                continue;
            }
            if (check_place(*kind, record.body, [&](const Uuid&) { return std::optional(size); })) continue;
            return fail("face.stood-on",
                        fmt::format("At that size a {} would lie off the face on which it was placed.", kind->label),
                        "Measure again; or move that first, or open a new frame of the face.",
                        {{"record", to_text(record.id)}});
        }
        return {};
    }

    [[nodiscard]] static Expected<void> check_raking_of(const Edit& edit, const Kind& kind, const FoldedRecord& after) {
        constexpr std::array said{"light", "raking_side", "raking_angle_degrees"};
        const auto is_said = [&](const char* field) { return edit.values.set_values().contains(field); };
        if (kind.name != "photograph" || std::ranges::none_of(said, is_said)) return {};
        return check_raking(to_record(after).body);
    }

    // One day on is today somewhere else.
    [[nodiscard]] Expected<void> check_happened(const Edit& edit, const Kind& kind, const FoldedRecord& after) const {
        const std::string tomorrow = to_text(sources_.clock->now() + std::chrono::days(1)).substr(0, 10);
        const Body body = to_record(after).body;
        if (body.flag("planned")) return {};
        for (const auto& [path, value] : edit.values.set_values().items()) {
            const Field* field = kind.field(top_field(path));
            const auto day = field->happened ? body.text(field->name) : std::nullopt;
            if (!day || *day <= tomorrow) continue;
            return fail(
                "casebook.bad-field",
                fmt::format("\"{}\" is a day that is still to come; what is not done opens nothing.", field->label),
                "Write the day when it is done.", {{"field", std::string(field->name)}});
        }
        return {};
    }

    // A path leads through maps alone: what else stands in the way is not swept aside.
    [[nodiscard]] static Expected<void> check_ways(const FieldValues& values, const FoldedRecord& before) {
        const Body body = to_record(before).body;
        for (const auto& [path, value] : values.set_values().items()) {
            for (std::size_t end = path.find('/'); end != std::string::npos; end = path.find('/', end + 1)) {
                const json* here = value_at(body.as_json(), path.substr(0, end));
                if (here == nullptr || here->is_object()) continue;
                return fail("casebook.bad-field",
                            fmt::format("\"{}\" has no parts that are named.", path.substr(0, end)),
                            "Write it as a whole.", {{"field", path}});
            }
        }
        return {};
    }

    // A file is stored before it is named, and may be erased between the two. Settling chooses among what was named
    // already, by somebody whose files may not all have come over.
    [[nodiscard]] Expected<void> check_files(const Kind& kind, const Edit& edit) const {
        for (const auto& [path, value] : edit.values.set_values().items()) {
            if (kind.field(top_field(path))->type != FieldType::sha256) continue;
            const std::string digest = value.get<std::string>();
            if (is_erased_file(db_, digest)) {
                return fail("casebook.file-erased", "That file was erased from this casebook for good.",
                            "Keep it outside the casebook if you may keep it at all.", {{"field", path}});
            }
            std::error_code unknown;
            if (edit.operation == Operation::resolve ||
                std::filesystem::exists(original_in(folder_, digest), unknown)) {
                continue;
            }
            return fail("casebook.no-such-file", "The file of that digest is not in this casebook.",
                        "Take the file in first.", {{"field", path}});
        }
        return {};
    }

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
    const std::filesystem::path& folder_;
    const Uuid& author_;
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
