// What a named person takes upon himself, with his reason: part of the record, never a silent passing.
#include <algorithm>

#include "act_values.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

namespace {

using casebook::Edit;
using casebook::FieldValues;
using casebook::GateAnswer;
using casebook::GateState;
using casebook::Operation;
using casebook::Requirement;

Expected<void> check(const Override& wanted, const std::vector<Requirement>& missing) {
    if (trimmed(wanted.reason).empty() || trimmed(wanted.name).empty()) {
        return fail("gate.no-reason", "An override needs a name and a reason.", "Write who decides this, and why.");
    }
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
    if (!wanted.act.is_nil() || (wanted.whole_picture && found != missing.end() && found->once)) return {};
    return fail("gate.each-time", "This is asked anew for each act; it cannot be answered for the whole picture.",
                "Let the one act pass: give the override along with it.");
}

Expected<Edit> edit_of(const Acting& acting, const Override& wanted) {
    const auto person = acting.book.person_named(trimmed(wanted.name));
    if (!person) return pass_on(person);
    Edit edit;
    edit.case_id = wanted.case_id;
    edit.kind = "gate_override";
    edit.values.integer("gate", wanted.gate).record("by", *person).text("reason", trimmed(wanted.reason));
    edit.values.text("requirement", wanted.requirement).text("on", to_text(acting.clock.now()).substr(0, 10));
    if (wanted.whole_picture) edit.values.flag("whole_picture", true);
    if (!wanted.act.is_nil()) edit.values.record("act", wanted.act);
    return edit;
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

Edit removal_of(const Uuid& record) {
    Edit edit;
    edit.operation = Operation::remove;
    edit.record = record;
    return edit;
}

}  // namespace

Expected<Done> override_gate(const Acting& acting, const Override& wanted, const GateAnswer& answer) {
    if (auto checked = check(wanted, answer.missing); !checked) return pass_on(checked);
    if (auto counts = check_counts(wanted, answer.missing); !counts) return pass_on(counts);
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto edit = edit_of(acting, wanted);
        if (!edit) return pass_on(edit);
        const auto made = acting.book.commit(acting.author, {*edit});
        if (!made) return pass_on(made);
        return Done{made->front(), removal_of(made->front())};
    });
}

Expected<Done> add_record_overriding(const Acting& acting, const Uuid& case_id, std::string_view kind,
                                     const FieldValues& values, const std::vector<Override>& overrides) {
    Edit act;
    act.case_id = case_id;
    act.record = acting.book.new_id();
    act.kind = kind;
    act.values = values;
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        const casebook::Body body = body_with(casebook::Body(), values);
        auto answers = casebook::ask_gates(*snapshot, act_of(kind, body, act.record));
        if (auto passed = check_all_answered(std::move(answers), overrides); !passed) return pass_on(passed);
        auto following = with_frames(acting, act, body);
        if (!following) return pass_on(following);
        std::vector<Edit> edits = *std::move(following);
        for (Override wanted : overrides) {
            wanted.act = act.record;
            auto edit = edit_of(acting, wanted);
            if (!edit) return pass_on(edit);
            edits.push_back(*std::move(edit));
        }
        const auto made = acting.book.commit(acting.author, edits);
        if (!made) return pass_on(made);
        return Done{act.record, removal_of(act.record)};
    });
}

}  // namespace tedge::usecases
