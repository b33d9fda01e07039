#include "tedge/usecases/records.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "act_values.hpp"
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
using nlohmann::json;

// One transaction with what has to follow; the first edit is the person's own.
Expected<Done> commit(const Acting& acting, const std::vector<Edit>& edits, Edit inverse) {
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

}  // namespace

Expected<Done> add_record(const Acting& acting, const Uuid& case_id, std::string_view kind, const FieldValues& values) {
    Edit edit;
    edit.case_id = case_id;
    edit.kind = kind;
    edit.values = values;
    if (kind == "structure_step") edit.record = acting.book.new_id();  // frames may name it
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const Act act = act_of(kind, body_with(Body(), values), Uuid{});
        if (auto passed = pass_gates(acting.book, case_id, act); !passed) return pass_on(passed);
        const auto edits = with_frames(acting, edit, act.fields);
        if (!edits) return pass_on(edits);
        return commit(acting, *edits, bare(Operation::remove));
    });
}

Expected<Done> change_record(const Acting& acting, const Uuid& record, const FieldValues& values,
                             std::string_view reason, const std::vector<Uuid>& seen) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto before = acting.book.record(record);
        if (!before) return pass_on(before);
        const Act act = act_of(before->kind, body_with(before->body, values), record);
        if (auto passed = pass_gates_of_change(acting.book, *before, act); !passed) return pass_on(passed);
        Edit edit = bare(Operation::patch);
        edit.record = record;
        edit.values = values;
        edit.reason = reason;
        edit.seen = seen;
        Edit inverse = bare(Operation::patch);
        inverse.values = inverse_values(before->body, values);
        edit.case_id = before->case_id;
        edit.kind = before->kind;
        const auto edits = with_frames(acting, edit, act.fields);
        if (!edits) return pass_on(edits);
        return commit(acting, *edits, std::move(inverse));
    });
}

Expected<Done> remove_record(const Acting& acting, const Uuid& record, std::string_view reason,
                             const std::vector<Uuid>& seen) {
    Edit edit = bare(Operation::remove);
    edit.record = record;
    edit.reason = reason;
    edit.seen = seen;
    return commit(acting, {edit}, bare(Operation::restore));
}

namespace {

// What was erased since does not come back by taking an act back.
Expected<void> check_not_erased(casebook::Casebook& book, const Edit& inverse) {
    const auto record = book.record(inverse.record);
    const auto history = book.history(inverse.record);
    if (!record) return pass_on(record);
    if (!history) return pass_on(history);
    const casebook::Kind* kind = casebook::find_kind(record->kind);
    const bool is_erased =
        std::ranges::find(*history, Operation::erase, &casebook::Change::operation) != history->end();
    if (!is_erased || kind == nullptr) return {};
    for (const auto& [path, value] : inverse.values.set_values().items()) {
        const casebook::Field* field = kind->field(path.substr(0, path.find('/')));
        if (field == nullptr || !field->personal) continue;
        return fail("casebook.erased-record",
                    fmt::format("\"{}\" was erased since and does not come back.", field->label), "Leave it as it is.",
                    {{"field", path}});
    }
    return {};
}

}  // namespace

Expected<Done> take_back(const Acting& acting, const Edit& inverse) {
    if (inverse.operation == Operation::patch) {
        if (auto checked = check_not_erased(acting.book, inverse); !checked) return pass_on(checked);
    }
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

Expected<std::vector<GateAnswer>> gates_before_change(casebook::Casebook& book, const Uuid& record,
                                                      const FieldValues& values) {
    const auto before = book.record(record);
    if (!before) return pass_on(before);
    const auto snapshot = book.snapshot(before->case_id);
    if (!snapshot) return pass_on(snapshot);
    const Act act = act_of(before->kind, body_with(before->body, values), record);
    std::vector<GateAnswer> answers;
    for (const int gate : casebook::gates_before_change(before->body, act)) {
        answers.push_back(casebook::ask_gate(gate, *snapshot, act));
    }
    std::erase_if(answers, [](const GateAnswer& answer) { return answer.state() == GateState::open; });
    return answers;
}

}  // namespace tedge::usecases
