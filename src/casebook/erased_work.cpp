// What is written in a record that was, or is being, erased: by somebody who does not know of it, and by somebody who
// does.
#include <algorithm>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "field_paths.hpp"
#include "seen_past.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;
using sqlite::Connection;

// What somebody meant to erase, for it stood there when he did.
std::set<Uuid> erased_knowingly(const std::vector<Change>& changes) {
    const SeenPast past(changes);
    std::set<Uuid> known;
    for (const Change& change : changes) {
        if (is_erasure(change)) known.merge(past.of(change.id));
    }
    return known;
}

bool writes_fields(const Change& change) {
    return change.operation != Operation::remove && change.operation != Operation::erase;
}

bool has_lost_something(const Connection& db, const Change& change, const std::set<std::string>& files_of_erasures) {
    if (!change.personal_payload || says_something(*change.personal_payload)) return true;
    return std::ranges::any_of(files_put_in(change), [&](const std::string& file) {
        return is_erased_file(db, file) && !files_of_erasures.contains(file);
    });
}

std::string name_of_author(const Connection& db, const Uuid& author) {
    const auto person = load_record(db, author);
    const json name = person ? person->personal_body.value("name", json()) : json();
    return name.is_string() ? name.get<std::string>() : "somebody";
}

std::string sentence(const Connection& db, const Change& change) {
    const Kind* kind = find_kind(change.kind);
    return fmt::format(
        "What {} wrote in the {} {} on {}, not knowing that it had been erased, went with it; what of it may be kept "
        "is "
        "to be written anew, with the reason.",
        name_of_author(db, change.author), kind != nullptr ? kind->label : std::string_view(change.kind),
        to_text(change.record), to_text(change.time));
}

Expected<void> check_field(const Kind& kind, const Field& field, const Edit& edit) {
    if (field.required) {
        return fail(
            "casebook.erased-record",
            fmt::format("\"{}\" of this {} was erased for good and does not come back.", field.label, kind.label),
            fmt::format("Enter another {} if it may be kept.", kind.label),
            {{"field", std::string(field.name)}, {"id", to_text(edit.record)}});
    }
    if (!trimmed(edit.reason).empty()) return {};
    return fail(
        "casebook.erased-record",
        fmt::format("This {} was erased; \"{}\" is written in it anew only with a reason.", kind.label, field.label),
        "Say why it may be kept (tedge record change … --reason), or leave that field out.",
        {{"field", std::string(field.name)}, {"id", to_text(edit.record)}});
}

}  // namespace

bool erased_since(const std::vector<Change>& history, const std::vector<Uuid>& seen) {
    const SeenPast past(history);
    std::set<Uuid> known;
    for (const Uuid& id : seen) known.merge(past.of(id));
    return std::ranges::any_of(history, [&](const Change& c) { return is_erasure(c) && !known.contains(c.id); });
}

bool says_something(const Payload& payload) {
    return payload.text != "{}";
}

std::map<Uuid, std::string> written_unaware(const Connection& db, const Uuid& record) {
    std::map<Uuid, std::string> sentences;
    if (!has_erasure(db, record)) return sentences;
    const std::vector<Change> changes = changes_of_record(db, record);
    const std::set<Uuid> known = erased_knowingly(changes);
    const std::set<Uuid> erased = changes_erased(changes);
    const std::set<std::string> files = files_of_erasures(changes);
    for (const Change& change : changes) {
        if (!erased.contains(change.id) || known.contains(change.id) || !change.admitted) continue;
        if (writes_fields(change) && has_lost_something(db, change, files)) {
            sentences.emplace(change.id, sentence(db, change));
        }
    }
    return sentences;
}

Expected<void> check_writing_erased(const Connection& db, const Kind& kind, const Edit& edit,
                                    const FoldedRecord& before) {
    std::vector<const Field*> written;
    for (const auto& [path, value] : edit.values.set_values().items()) {
        const Field* field = kind.field(top_field(path));
        const json* stands = value_at(before.personal_body, path);
        if (field != nullptr && field->personal && (stands == nullptr || *stands != value)) written.push_back(field);
    }
    if (written.empty() || !has_erasure(db, before.id)) return {};
    const std::vector<Change> history = changes_of_record(db, before.id);
    if (std::ranges::none_of(history, is_erasure)) return {};
    if (!edit.seen.empty() && erased_since(history, edit.seen)) {
        return fail("casebook.erased-record", fmt::format("This {} was erased while you wrote in it.", kind.label),
                    "Open it again; what may be kept is written anew, with the reason.",
                    {{"field", std::string(written.front()->name)}, {"id", to_text(before.id)}});
    }
    for (const Field* field : written) {
        if (auto checked = check_field(kind, *field, edit); !checked) return checked;
    }
    return {};
}

}  // namespace tedge::casebook
