#include "edit_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "field_paths.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/raking.hpp"
#include "validation.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

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

// A path leads through maps alone: what else stands in the way is not swept aside.
Expected<void> check_ways(const FieldValues& values, const FoldedRecord& before) {
    const Body body = to_record(before).body;
    for (const auto& [path, value] : values.set_values().items()) {
        for (std::size_t end = path.find('/'); end != std::string::npos; end = path.find('/', end + 1)) {
            const json* here = value_at(body.as_json(), path.substr(0, end));
            if (here == nullptr || here->is_object()) continue;
            return fail("casebook.bad-field", fmt::format("\"{}\" has no parts that are named.", path.substr(0, end)),
                        "Write it as a whole.", {{"field", path}});
        }
    }
    return {};
}

Expected<void> check_raking_of(const Edit& edit, const Kind& kind, const FoldedRecord& after) {
    constexpr std::array said{"light", "raking_side", "raking_angle_degrees"};
    const auto is_said = [&](const char* field) { return edit.values.set_values().contains(field); };
    if (kind.name != "photograph" || std::ranges::none_of(said, is_said)) return {};
    return check_raking(to_record(after).body);
}

}  // namespace

Expected<void> EditChecks::before_writing(const Edit& edit, const Kind& kind,
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

Expected<void> EditChecks::after_writing(const Edit& edit, const Kind& kind, const FoldedRecord& after) const {
    if (auto placed = check_place_of(edit, kind, after); !placed) return placed;
    if (auto lit = check_raking_of(edit, kind, after); !lit) return lit;
    return check_happened(edit, kind, after);
}

// A file is stored before it is named, and may be erased between the two. Settling chooses among what was named
// already, by somebody whose files may not all have come over.
Expected<void> EditChecks::check_files(const Kind& kind, const Edit& edit) const {
    for (const auto& [path, value] : edit.values.set_values().items()) {
        if (kind.field(top_field(path))->type != FieldType::sha256) continue;
        const std::string digest = value.get<std::string>();
        if (is_erased_file(db_, digest)) {
            return fail("casebook.file-erased", "That file was erased from this casebook for good.",
                        "Keep it outside the casebook if you may keep it at all.", {{"field", path}});
        }
        std::error_code unknown;
        if (edit.operation == Operation::resolve || std::filesystem::exists(original_in(folder_, digest), unknown)) {
            continue;
        }
        return fail("casebook.no-such-file", "The file of that digest is not in this casebook.",
                    "Take the file in first.", {{"field", path}});
    }
    return {};
}

// Where an edit says a place or a size; what stood before holds up nothing else.
Expected<void> EditChecks::check_place_of(const Edit& edit, const Kind& kind, const FoldedRecord& after) const {
    constexpr std::array said{"face_frame", "region", "width_mm", "height_mm", "face"};
    const auto is_said = [&](const char* field) { return edit.values.set_values().contains(field); };
    if (std::ranges::none_of(said, is_said)) return {};
    const Body body = to_record(after).body;
    if (auto placed = check_place(kind, body, [this](const Uuid& id) { return frame_body(db_, id); }); !placed)
        return placed;
    return kind.name == "face_frame" ? check_still_on(after.id, after.case_id, body) : Expected<void>();
}

// A face that is measured anew leaves nothing of what was placed on it outside.
Expected<void> EditChecks::check_still_on(const Uuid& frame, const Uuid& case_id, const Body& size) const {
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

// One day on is today somewhere else.
Expected<void> EditChecks::check_happened(const Edit& edit, const Kind& kind, const FoldedRecord& after) const {
    const std::string tomorrow = to_text(sources_.clock->now() + std::chrono::days(1)).substr(0, 10);
    const Body body = to_record(after).body;
    if (body.flag("planned")) return {};
    for (const auto& [path, value] : edit.values.set_values().items()) {
        const Field* field = kind.field(top_field(path));
        const auto day = field->happened ? body.text(field->name) : std::nullopt;
        if (!day || *day <= tomorrow) continue;
        return fail("casebook.bad-field",
                    fmt::format("\"{}\" is a day that is still to come; what is not done opens nothing.", field->label),
                    "Write the day when it is done.", {{"field", std::string(field->name)}});
    }
    return {};
}

}  // namespace tedge::casebook
