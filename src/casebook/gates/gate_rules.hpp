// What a gate is made of: a number, the act it stands before, and one function that asks. One file per gate.
#pragma once

#include "tedge/casebook/gates.hpp"

namespace tedge::casebook {

// How a requirement may be answered otherwise.
enum class Answered {
    each_time,         // an override counts for the act it names
    once_for_picture,  // an override may count for the whole picture
};

// Takes what a gate asks, in the order in which a person would be told.
class Asking {
public:
    Asking(int gate, const CaseSnapshot& snapshot, const Act& act) : gate_(gate), snapshot_(snapshot), act_(act) {}

    [[nodiscard]] const CaseSnapshot& snapshot() const { return snapshot_; }
    [[nodiscard]] const Act& act() const { return act_; }

    // What is asked for, and where it is found: `name` goes into the code ("4.tissue").
    struct Wanted {
        std::string_view name;
        std::string message;
        std::string opened_by;
        std::string_view sheet;
        Answered answered = Answered::each_time;
        std::optional<Uuid> record{};  // that it is about
    };
    void closed_unless(bool satisfied, const Wanted& wanted) { note(satisfied, wanted, true); }
    void warns_unless(bool satisfied, const Wanted& wanted) { note(satisfied, wanted, false); }

    [[nodiscard]] std::vector<Requirement> missing() && { return std::move(missing_); }

private:
    void note(bool satisfied, const Wanted& wanted, bool closes);

    int gate_;
    const CaseSnapshot& snapshot_;
    const Act& act_;
    std::vector<Requirement> missing_;
};

struct GateRule {
    int number;
    std::string_view before;
    bool (*applies)(const Act& act);
    void (*ask)(Asking& asking);
    std::string_view looks_at;  // fields of the record that tells of the act, blanks between them
    bool law = false;
};

extern const GateRule gate_facing;          // 4
extern const GateRule gate_cleaning_trial;  // 7
extern const GateRule gate_trial_place;     // 8
extern const GateRule gate_lining;          // 16
extern const GateRule gate_leaving;         // 22

}  // namespace tedge::casebook
