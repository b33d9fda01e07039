// The order of work: what the record must hold before an act that cannot be taken back.
//
// A gate is a pure function over a snapshot of the case and the act that is meant. It answers open, warn or closed, and
// says for everything it misses what would open it. A warning never asks for words; a closed gate can be overridden by
// a named person with a written reason (a record of kind gate_override), except where the law closes it. The order
// itself is common practice in the trade. A gate never says that something is safe or lawful.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

// What somebody is about to do. For an act on the picture: the record that will tell of it, as far as it is filled in.
struct Act {
    std::string kind;  // "facing", "trial", "structure_step"; "dossier" for what leaves the house
    Body fields;       // of that record
    Uuid record;       // its id, nil as long as it has none: overrides "for this act" name it

    // Around a trial, kept clear of unstable paint.
    double margin_mm = 5.0;

    // For a dossier or a sale text.
    Reader reader = Reader::buyer;
    std::string leaving_text;           // everything a reader could find in it, metadata included
    std::vector<Uuid> leaving_records;  // photographs and documents whose pictures go with it
    std::string attribution;            // the authorship as worded there, as beside the title
    bool says_unfinished = false;       // it names the work as unfinished
};

enum class GateState { open, warn, closed };

// One thing a gate asks for and does not find.
struct Requirement {
    std::string code;            // "4.photographed-first": what an override names
    std::string message;         // one sentence
    std::string opened_by;       // what would open it, as advice
    std::string sheet;           // where that is done: lot, ceiling, transit, survey, photographs, trials, treatment, …
    bool closes = false;         // otherwise it only warns
    bool once = false;           // may be answered once for the whole picture ("no ultraviolet lamp here")
    bool law = false;            // no override opens it
    std::optional<Uuid> record;  // the record it is about, where it is one
    std::optional<Uuid> overridden_by;  // the record of the override that answers it
};

struct GateAnswer {
    int gate = 0;
    std::string_view before;           // "facing"
    std::vector<Requirement> missing;  // overridden ones among them, so that a report can name them
    [[nodiscard]] GateState state() const;
    // The sentence to show: the first closing requirement, else the first warning, else "".
    [[nodiscard]] std::string sentence() const;
};

// "open", "warn", "closed"
[[nodiscard]] std::string_view to_text(GateState state);

// Numbers of the gates that stand before acts of this kind with these fields; empty for an act that none guards.
[[nodiscard]] std::vector<int> gates_before(const Act& act);

// Of these, the ones that a change of the record from `before` to act.fields is asked by: it touches what the gate
// looks at. An act that was done is done: what came of it is written down, also where paint was found loose there
// since.
[[nodiscard]] std::vector<int> gates_before_change(const Body& before, const Act& act);

// What makes an act this act and no other: its sort and its place, as a digest. An override of a gate counts for an act
// only while that stands ("act_as" of the override).
[[nodiscard]] std::string what_and_where(const Body& fields);

// Throws std::out_of_range for a number that no gate has (a programming error).
[[nodiscard]] GateAnswer ask_gate(int gate, const CaseSnapshot& snapshot, const Act& act);

// The kinds of record that the gates before work on the picture look at (all but gate 22, which reads everything): a
// snapshot of these alone gets the same answers from them.
[[nodiscard]] std::span<const std::string_view> kinds_asked_by_gates();

// The code by which gate 22 names a field that stands in what would leave: "22.internal:purchase.all_in". Each field
// has a code of its own, so that whoever lets one pass has not let pass another.
struct InternalField {
    std::string kind;
    std::string field;
    friend auto operator<=>(const InternalField&, const InternalField&) = default;
};
[[nodiscard]] std::string leaving_code(const InternalField& field);
[[nodiscard]] std::optional<InternalField> field_of_leaving_code(std::string_view code);

// All gates before the act.
[[nodiscard]] std::vector<GateAnswer> ask_gates(const CaseSnapshot& snapshot, const Act& act);

}  // namespace tedge::casebook
