// What a named person takes upon himself, with his reason: part of the record, never a silent passing.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "act_values.hpp"
#include "override_edit.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/records.hpp"
#include "tedge/usecases/resized_face.hpp"

namespace tedge::usecases {

namespace {

using casebook::Edit;
using casebook::FieldValues;
using casebook::GateAnswer;
using casebook::GateState;
using casebook::Operation;
using casebook::Requirement;

Expected<void> check(const Override& wanted, const std::vector<Requirement>& missing) {
    if (auto said = check_is_said(wanted); !said) return said;
    const auto found = std::ranges::find(missing, wanted.requirement, &Requirement::code);
    if (found == missing.end()) {
        return fail("gate.nothing-to-override", "The gate does not ask for that.", "Ask the gate again.");
    }
    if (found->law) {
        return fail("gate.law", "A gate of the law has no override.", "Add the document that opens it.");
    }
    return {};
}

// An override that no act will ever be let pass by is not written: it would only look like a decision.
Expected<void> check_counts(const Override& wanted, const std::vector<Requirement>& missing) {
    const auto found = std::ranges::find(missing, wanted.requirement, &Requirement::code);
    if (wanted.whole_picture && found != missing.end() && found->once) return {};
    return fail("gate.each-time", "This is asked anew for each act; it cannot be answered for the whole picture.",
                "Let the one act pass: give the override along with it.");
}

// A gate that stays closed although what is overridden counts as answered.
Expected<void> check_all_answered(std::vector<GateAnswer> answers, const std::vector<Override>& overrides) {
    std::vector<Requirement> missing;
    for (GateAnswer& answer : answers) {
        missing.insert(missing.end(), answer.missing.begin(), answer.missing.end());
        for (Requirement& requirement : answer.missing) {
            const bool taken =
                std::ranges::find(overrides, requirement.code, &Override::requirement) != overrides.end();
            if (taken && !requirement.law) requirement.overridden_by = Uuid{};
        }
    }
    for (const Override& wanted : overrides) {
        if (auto checked = check(wanted, missing); !checked) return checked;
    }
    for (const GateAnswer& answer : answers) {
        if (answer.state() == GateState::closed) return closed_by(answer);
    }
    return {};
}

}  // namespace

Expected<Done> override_gate(const Acting& acting, const Override& wanted, const GateAnswer& answer) {
    if (auto checked = check(wanted, answer.missing); !checked) return pass_on(checked);
    if (auto counts = check_counts(wanted, answer.missing); !counts) return pass_on(counts);
    return acting.book.in_one_act([&]() -> Expected<Done> {
        auto edit = override_edit(acting, wanted);
        if (!edit) return pass_on(edit);
        edit->values.flag("whole_picture", true);  // check_counts has seen to it
        const auto made = acting.book.commit(acting.author, {*edit});
        if (!made) return pass_on(made);
        return Done{made->front(), removal_of(made->front())};
    });
}

namespace {

// Asks the gates before the act, and writes it with its overrides; `edits` begin with the person's own.
Expected<void> write_passing(const Acting& acting, const Uuid& case_id, const casebook::Act& act,
                             const std::vector<int>& gates, const std::vector<Override>& overrides,
                             std::vector<Edit> edits) {
    if (!gates.empty() || !overrides.empty()) {
        const auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        std::vector<GateAnswer> answers;
        answers.reserve(gates.size());
        for (const int gate : gates) answers.push_back(casebook::ask_gate(gate, *snapshot, act));
        if (auto passed = check_all_answered(std::move(answers), overrides); !passed) return passed;
    }
    for (const Override& wanted : overrides) {
        auto edit = override_edit(acting, wanted);
        if (!edit) return pass_on(edit);
        if (wanted.whole_picture) edit->values.flag("whole_picture", true);
        edit->values.record("act", act.record).text("act_as", casebook::what_and_where(act.fields));
        edits.push_back(*std::move(edit));
    }
    const auto made = acting.book.commit(acting.author, edits);
    return made ? Expected<void>() : pass_on(made);
}

}  // namespace

Expected<Done> add_record_overriding(const Acting& acting, const Uuid& case_id, std::string_view kind,
                                     const FieldValues& values, const std::vector<Override>& overrides) {
    Edit edit;
    edit.case_id = case_id;
    edit.record = acting.book.new_id();  // frames and overrides may name it
    edit.kind = kind;
    edit.values = values;
    if (auto typed = check_typed_by_hand(kind, values); !typed) return pass_on(typed);
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const casebook::Act act = act_of(kind, body_with(casebook::Body(), values), edit.record);
        auto edits = with_frames(acting, edit, act.fields);
        if (!edits) return pass_on(edits);
        auto written = write_passing(acting, case_id, act, casebook::gates_before(act), overrides, *std::move(edits));
        if (!written) return pass_on(written);
        return Done{edit.record, removal_of(edit.record)};
    });
}

Expected<Done> change_record_overriding(const Acting& acting, const Uuid& record, const FieldValues& values,
                                        const std::vector<Override>& overrides, std::string_view reason,
                                        const std::vector<Uuid>& seen) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto before = acting.book.record(record);
        if (!before) return pass_on(before);
        if (auto typed = check_typed_by_hand(before->kind, values); !typed) return pass_on(typed);
        if (auto stays = check_stays_fixed(*before, values); !stays) return pass_on(stays);
        const FieldValues whole = with_guess_settled(*before, with_whole_place(before->body, values));
        if (auto stands = check_frame_stands(acting, *before, whole); !stands) return pass_on(stands);
        const casebook::Act act = act_of(before->kind, body_with(before->body, whole), record);
        Edit edit;
        edit.operation = Operation::patch;
        edit.record = record;
        edit.case_id = before->case_id;
        edit.kind = before->kind;
        edit.values = whole;
        edit.reason = reason;
        edit.seen = seen;
        auto edits = with_what_follows(acting, edit, *before, act.fields);
        if (!edits) return pass_on(edits);
        auto written = write_passing(acting, before->case_id, act, casebook::gates_before_change(before->body, act),
                                     overrides, *std::move(edits));
        if (!written) return pass_on(written);
        Edit inverse;
        inverse.operation = Operation::patch;
        inverse.record = record;
        inverse.values = inverse_values(before->body, whole);
        return Done{record, std::move(inverse)};
    });
}

}  // namespace tedge::usecases
