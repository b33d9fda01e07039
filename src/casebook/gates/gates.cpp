// The table of gates, and how their answers are put together.
#include "tedge/casebook/gates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "canonical_json.hpp"
#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

constexpr std::array gate_table{&gate_facing, &gate_cleaning_trial, &gate_trial_place, &gate_lining, &gate_leaving};

// An override is a named person's written reason; without both it opens nothing.
bool answers(const Body& override_fields, int gate, const Requirement& requirement, const Act& act) {
    if (override_fields.integer("gate") != gate) return false;
    if (override_fields.text("requirement") != requirement.code) return false;
    if (!override_fields.record("by") || trimmed(override_fields.text_or("reason")).empty()) return false;
    const bool for_this_act = !act.record.is_nil() && override_fields.record("act") == act.record &&
                              override_fields.text("act_as") == what_and_where(act.fields);
    return for_this_act || (requirement.once && override_fields.flag("whole_picture"));
}

std::optional<Uuid> override_of(const CaseSnapshot& snapshot, int gate, const Requirement& requirement,
                                const Act& act) {
    if (requirement.law) return std::nullopt;
    for (const Record* record : snapshot.of_kind("gate_override")) {
        if (answers(record->body, gate, requirement, act)) return record->id;
    }
    return std::nullopt;
}

const Requirement* first_open(const std::vector<Requirement>& missing, bool closes) {
    const auto found = std::ranges::find_if(missing, [&](const Requirement& requirement) {
        return requirement.closes == closes && !requirement.overridden_by;
    });
    return found == missing.end() ? nullptr : &*found;
}

bool same(const Body& before, const Body& after, std::string_view field) {
    if (!before.has(field) || !after.has(field)) return before.has(field) == after.has(field);
    return before.as_json().at(field) == after.as_json().at(field);
}

const GateRule& rule_of(int gate) {
    const auto found = std::ranges::find(gate_table, gate, &GateRule::number);
    if (found == gate_table.end()) throw std::out_of_range(fmt::format("there is no gate {}", gate));
    return **found;
}

}  // namespace

void Asking::note(bool satisfied, const Wanted& wanted, bool closes) {
    if (satisfied) return;
    Requirement requirement;
    requirement.code = fmt::format("{}.{}", gate_, wanted.name);
    requirement.message = wanted.message;
    requirement.opened_by = wanted.opened_by;
    if (wanted.sheet == "photographs" && has_guessed_photograph(snapshot_))
        requirement.opened_by += " Or confirm what was guessed of photographs that are here.";
    requirement.sheet = std::string(wanted.sheet);
    requirement.closes = closes;
    requirement.once = wanted.answered == Answered::once_for_picture;
    requirement.record = wanted.record;
    requirement.law = rule_of(gate_).law;
    requirement.overridden_by = override_of(snapshot_, gate_, requirement, act_);
    missing_.push_back(std::move(requirement));
}

GateState GateAnswer::state() const {
    if (first_open(missing, true) != nullptr) return GateState::closed;
    return first_open(missing, false) != nullptr ? GateState::warn : GateState::open;
}

std::string GateAnswer::sentence() const {
    for (const bool closes : {true, false}) {
        if (const Requirement* first = first_open(missing, closes)) return first->message;
    }
    return {};
}

std::string_view to_text(GateState state) {
    switch (state) {
        case GateState::open:
            return "open";
        case GateState::warn:
            return "warn";
        case GateState::closed:
            return "closed";
    }
    return "closed";
}

std::vector<int> gates_before(const Act& act) {
    std::vector<int> numbers;
    for (const GateRule* rule : gate_table) {
        if (rule->applies(act)) numbers.push_back(rule->number);
    }
    return numbers;
}

std::span<const std::string_view> kinds_asked_by_gates() {
    static constexpr std::array<std::string_view, 8> kinds{"face_frame",  "finding",       "gate_override",
                                                           "inscription", "measurement",   "photograph",
                                                           "survey",      "treatment_step"};
    return kinds;
}

std::string what_and_where(const Body& fields) {
    nlohmann::json said = nlohmann::json::object();
    for (const char* field : {"act", "face_frame", "region"}) {
        if (fields.has(field)) said[field] = fields.as_json().at(field);
    }
    return to_hex(sha256(canonical(said)));
}

GateAnswer ask_gate(int gate, const CaseSnapshot& snapshot, const Act& act) {
    const GateRule& rule = rule_of(gate);
    Asking asking(gate, snapshot, act);
    rule.ask(asking);
    return {gate, rule.before, std::move(asking).missing()};
}

std::vector<GateAnswer> ask_gates(const CaseSnapshot& snapshot, const Act& act) {
    std::vector<GateAnswer> answers;
    for (const int gate : gates_before(act)) answers.push_back(ask_gate(gate, snapshot, act));
    return answers;
}

std::vector<int> gates_before_change(const Body& before, const Act& act) {
    std::vector<int> numbers = gates_before(act);
    std::erase_if(numbers, [&](int gate) {
        const auto fields = split(rule_of(gate).looks_at, ' ');
        return std::ranges::all_of(fields, [&](std::string_view field) { return same(before, act.fields, field); });
    });
    return numbers;
}

}  // namespace tedge::casebook
