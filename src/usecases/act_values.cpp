#include "act_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::usecases {

using casebook::Body;
using casebook::FieldValues;
using nlohmann::json;

namespace {

void take_out(json& fields, const std::string& path) {
    const auto steps = split(path, '/');
    json* here = &fields;
    for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
        if (!here->is_object() || !here->contains(steps[i])) return;
        here = &(*here)[std::string(steps[i])];
    }
    if (here->is_object()) here->erase(std::string(steps.back()));
}

}  // namespace

casebook::Body body_with(const casebook::Body& before, const casebook::FieldValues& values) {
    json fields = before.as_json();
    for (const auto& [path, value] : values.set_values().items()) {
        json* here = &fields;
        for (const std::string_view step : split(path, '/')) {
            if (!here->is_object()) *here = json::object();
            here = &(*here)[std::string(step)];
        }
        *here = value;
    }
    for (const std::string& path : values.unset_paths()) take_out(fields, path);
    return casebook::Body(std::move(fields));
}

casebook::Act act_of(std::string_view kind, casebook::Body fields, const Uuid& record) {
    casebook::Act act;
    act.kind = kind;
    act.fields = std::move(fields);
    act.record = record;
    return act;
}

std::unexpected<Error> closed_by(const casebook::GateAnswer& answer) {
    const auto found = std::ranges::find_if(
        answer.missing, [](const casebook::Requirement& r) { return r.closes && !r.overridden_by; });
    return fail("gate.closed", found->message, found->opened_by,
                {{"gate", fmt::format("{}", answer.gate)}, {"requirement", found->code}, {"sheet", found->sheet}});
}

Expected<void> pass_gates_of_change(casebook::Casebook& book, const casebook::Record& before,
                                    const casebook::Act& act) {
    const auto gates = before.deleted ? casebook::gates_before(act) : casebook::gates_before_change(before.body, act);
    if (gates.empty()) return {};
    const auto snapshot = book.snapshot(before.case_id);
    if (!snapshot) return pass_on(snapshot);
    for (const int gate : gates) {
        const casebook::GateAnswer answer = casebook::ask_gate(gate, *snapshot, act);
        if (answer.state() == casebook::GateState::closed) return closed_by(answer);
    }
    return {};
}

FieldValues with_whole_place(const Body& before, FieldValues values) {
    const auto is_said = [&](const char* field) { return values.set_values().contains(field); };
    const auto frame = before.record("face_frame");
    const auto region = before.region("region");
    if (is_said("region") && frame && !is_said("face_frame")) values.record("face_frame", *frame);
    if (is_said("face_frame") && region && !is_said("region")) values.region("region", *region);
    return values;
}

FieldValues with_guess_settled(const casebook::Record& before, FieldValues values) {
    constexpr std::array guessed{"face", "light", "stage", "raking_side", "raking_angle_degrees"};
    const json& said = values.set_values();
    if (before.kind != "photograph" || !before.body.flag("guessed")) return values;
    const bool is_settled = said.contains("guessed")
                                ? said["guessed"] == false
                                : std::ranges::any_of(guessed, [&](const char* field) { return said.contains(field); });
    if (!is_settled) return values;
    values.flag("guessed", false);  // why it had been guessed so stays, as what the file gave to go by
    return values;
}

Expected<void> check_typed_by_hand(std::string_view kind, const FieldValues& values) {
    if (kind == "gate_override") {
        return fail("gate.through-the-gate", "An override is given where the gate asks for it, along with the act.",
                    "Do the act, and pass the gate by name and reason there.");
    }
    const casebook::Kind* known = casebook::find_kind(kind);
    if (known == nullptr) return {};
    const auto said = std::ranges::find_if(known->fields, [&](const casebook::Field& field) {
        return field.from_file && values.set_values().contains(field.name);
    });
    if (said == known->fields.end()) return {};
    return fail("photograph.facts-of-the-file", "What a photograph's file says of itself is read, not written.",
                "Take the file in with tedge photograph add, or by dropping it on the desk.",
                {{"field", std::string(said->name)}});
}

Expected<void> check_stays_fixed(const casebook::Record& before, const FieldValues& values) {
    if (before.kind != "ceiling") return {};
    std::vector<std::string> paths = values.unset_paths();
    for (const auto& [path, value] : values.set_values().items()) paths.push_back(path);
    const auto said = std::ranges::find_if(paths, [](const std::string& path) { return path != "note"; });
    if (said == paths.end()) return {};
    return fail("ceiling.fixed", "A limit that was fixed stays as it was, with its plan.",
                "Fix another; the newest counts.", {{"field", *said}});
}

namespace {

bool names(const casebook::Record& record, const Uuid& other) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    return kind != nullptr && std::ranges::any_of(kind->fields, [&](const casebook::Field& field) {
               return field.type == casebook::FieldType::record && record.body.record(field.name) == other;
           });
}

}  // namespace

Expected<void> check_frame_stands(const Acting& acting, const casebook::Record& frame,
                                  const std::optional<FieldValues>& values) {
    const auto becomes = [&](const char* field) {
        const auto said = values->set_values().find(field);
        return said != values->set_values().end() && *said != frame.body.as_json().value(field, json());
    };
    if (frame.kind != "face_frame" || (values && !becomes("face"))) return {};
    const auto snapshot = acting.book.snapshot(frame.case_id);
    if (!snapshot) return pass_on(snapshot);
    const auto on_it =
        std::ranges::find_if(snapshot->records, [&](const auto& other) { return names(other, frame.id); });
    if (on_it == snapshot->records.end()) return {};
    const casebook::Kind* kind = casebook::find_kind(on_it->kind);
    return fail("face.stood-on",
                fmt::format("The millimetres of this face carry what was recorded on it, first a {}.", kind->label),
                "Remove or move that first, or open a new frame of the face.", {{"record", to_text(on_it->id)}});
}

FieldValues inverse_values(const Body& now, const FieldValues& values) {
    FieldValues inverse;
    const auto put_back = [&](const std::string& path) {
        const json* here = &now.as_json();
        for (const std::string_view step : split(path, '/')) {
            const auto next = here->is_object() ? here->find(step) : here->end();
            if (!here->is_object() || next == here->end()) {
                inverse.unset(path);
                return;
            }
            here = &*next;
        }
        inverse.value(path, *here);
    };
    for (const auto& [path, value] : values.set_values().items()) put_back(path);
    for (const std::string& path : values.unset_paths()) put_back(path);
    return inverse;
}

casebook::Edit removal_of(const Uuid& record) {
    casebook::Edit inverse;
    inverse.operation = casebook::Operation::remove;
    inverse.record = record;
    return inverse;
}

}  // namespace tedge::usecases
