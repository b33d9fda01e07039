#include "tedge/usecases/records.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tedge/base/text.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::usecases {

namespace {

using casebook::Act;
using casebook::Body;
using casebook::Edit;
using casebook::FieldValues;
using casebook::GateAnswer;
using casebook::GateState;
using casebook::Operation;
using casebook::Record;
using nlohmann::json;

void take_out(json& fields, std::string_view path) {
    const auto steps = split(path, '/');
    json* here = &fields;
    for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
        const auto next = here->find(std::string(steps[i]));
        if (next == here->end() || !next->is_object()) return;
        here = &*next;
    }
    here->erase(std::string(steps.back()));
}

// The record as it would stand with the values written into it.
Body body_with(const Body& before, const FieldValues& values) {
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
    return Body(std::move(fields));
}

Act act_of(std::string_view kind, Body fields, const Uuid& record) {
    Act act;
    act.kind = kind;
    act.fields = std::move(fields);
    act.record = record;
    return act;
}

std::unexpected<Error> closed(const GateAnswer& answer) {
    const auto found = std::ranges::find_if(
        answer.missing, [](const casebook::Requirement& r) { return r.closes && !r.overridden_by; });
    return fail("gate.closed", found->message, found->opened_by,
                {{"gate", fmt::format("{}", answer.gate)}, {"requirement", found->code}, {"sheet", found->sheet}});
}

Expected<void> pass_gates(casebook::Casebook& book, const Uuid& case_id, const Act& act) {
    if (casebook::gates_before(act).empty()) return {};
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    for (const GateAnswer& answer : casebook::ask_gates(*snapshot, act)) {
        if (answer.state() == GateState::closed) return closed(answer);
    }
    return {};
}

// Values that put the record back to what it says now.
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

// One transaction with what has to follow; the first edit is the person's own.
Expected<Done> commit(const Acting& acting, std::vector<Edit> edits, Edit inverse) {
    const auto made = acting.book.commit(acting.author, edits);
    if (!made) return pass_on(made);
    inverse.record = made->front();
    return Done{made->front(), std::move(inverse)};
}

Edit bare(Operation operation) {
    Edit edit;
    edit.operation = operation;
    return edit;
}

// Work on the structure that moves canvas opens new frames in the same act.
Expected<std::vector<Edit>> with_frames(const Acting& acting, const Uuid& case_id, const Edit& step, const Body& body) {
    const auto snapshot = acting.book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    std::vector<Edit> edits{step};
    const std::string today = to_text(acting.clock.now()).substr(0, 10);
    std::ranges::move(frames_that_follow(*snapshot, step.record, body, today), std::back_inserter(edits));
    return edits;
}

}  // namespace

Expected<Done> add_record(const Acting& acting, const Uuid& case_id, std::string_view kind, const FieldValues& values) {
    if (auto passed = pass_gates(acting.book, case_id, act_of(kind, body_with(Body(), values), Uuid{})); !passed) {
        return pass_on(passed);
    }
    Edit edit;
    edit.case_id = case_id;
    edit.kind = kind;
    edit.values = values;
    if (kind != "structure_step") return commit(acting, {edit}, bare(Operation::remove));
    edit.record = acting.book.new_id();
    auto edits = with_frames(acting, case_id, edit, body_with(Body(), values));
    if (!edits) return pass_on(edits);
    return commit(acting, *std::move(edits), bare(Operation::remove));
}

Expected<Done> change_record(const Acting& acting, const Uuid& record, const FieldValues& values,
                             std::string_view reason) {
    const auto before = acting.book.record(record);
    if (!before) return pass_on(before);
    const Act act = act_of(before->kind, body_with(before->body, values), record);
    if (auto passed = pass_gates(acting.book, before->case_id, act); !passed) return pass_on(passed);
    Edit edit = bare(Operation::patch);
    edit.record = record;
    edit.values = values;
    edit.reason = reason;
    Edit inverse = bare(Operation::patch);
    inverse.values = inverse_values(before->body, values);
    if (before->kind != "structure_step") return commit(acting, {edit}, std::move(inverse));
    auto edits = with_frames(acting, before->case_id, edit, act.fields);
    if (!edits) return pass_on(edits);
    return commit(acting, *std::move(edits), std::move(inverse));
}

Expected<Done> remove_record(const Acting& acting, const Uuid& record, std::string_view reason) {
    Edit edit = bare(Operation::remove);
    edit.record = record;
    edit.reason = reason;
    return commit(acting, {edit}, bare(Operation::restore));
}

Expected<Done> take_back(const Acting& acting, const Edit& inverse) {
    switch (inverse.operation) {
        case Operation::patch:
            return change_record(acting, inverse.record, inverse.values, "taken back");
        case Operation::remove:
            return remove_record(acting, inverse.record, "taken back");
        default: {
            Edit edit = bare(Operation::restore);
            edit.record = inverse.record;
            return commit(acting, {edit}, bare(Operation::remove));
        }
    }
}

Expected<std::vector<GateAnswer>> gates_before_act(casebook::Casebook& book, const Uuid& case_id, std::string_view kind,
                                                   const FieldValues& values) {
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    std::vector<GateAnswer> answers = casebook::ask_gates(*snapshot, act_of(kind, body_with(Body(), values), Uuid{}));
    std::erase_if(answers, [](const GateAnswer& answer) { return answer.state() == GateState::open; });
    return answers;
}

Expected<Done> override_gate(const Acting& acting, const Override& wanted, const GateAnswer& answer) {
    if (trimmed(wanted.reason).empty() || trimmed(wanted.name).empty()) {
        return fail("gate.no-reason", "An override needs a name and a reason.", "Write who decides this, and why.");
    }
    const auto found = std::ranges::find(answer.missing, wanted.requirement, &casebook::Requirement::code);
    if (found == answer.missing.end()) {
        return fail("gate.nothing-to-override", "The gate does not ask for that.", "Ask the gate again.");
    }
    if (found->law) {
        return fail("gate.law", "A gate of the law has no override.", "Add the document that opens it.");
    }
    const auto person = acting.book.person_named(trimmed(wanted.name));
    if (!person) return pass_on(person);
    FieldValues values;
    values.integer("gate", wanted.gate).record("by", *person).text("reason", trimmed(wanted.reason));
    values.text("requirement", wanted.requirement).text("on", to_text(acting.clock.now()).substr(0, 10));
    if (wanted.whole_picture) values.flag("whole_picture", true);
    Edit edit;
    edit.case_id = wanted.case_id;
    edit.kind = "gate_override";
    edit.values = std::move(values);
    return commit(acting, {edit}, bare(Operation::remove));
}

}  // namespace tedge::usecases
