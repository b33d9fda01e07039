#include "act_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tedge/base/text.hpp"

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

namespace {

Expected<void> pass(casebook::Casebook& book, const Uuid& case_id, const casebook::Act& act,
                    const std::vector<int>& gates) {
    if (gates.empty()) return {};
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    for (const int gate : gates) {
        const casebook::GateAnswer answer = casebook::ask_gate(gate, *snapshot, act);
        if (answer.state() == casebook::GateState::closed) return closed_by(answer);
    }
    return {};
}

}  // namespace

Expected<void> pass_gates(casebook::Casebook& book, const Uuid& case_id, const casebook::Act& act) {
    return pass(book, case_id, act, casebook::gates_before(act));
}

Expected<void> pass_gates_of_change(casebook::Casebook& book, const casebook::Record& before,
                                    const casebook::Act& act) {
    return pass(book, before.case_id, act,
                before.deleted ? casebook::gates_before(act) : casebook::gates_before_change(before.body, act));
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

}  // namespace tedge::usecases
