// The shot list of a case: which faces in which light are wanted at the stages the work has come to, and which of them
// are still missing.
//
// The list everybody starts from is a table (resources/reference/shot_list.csv, common practice, the facts of light by
// their sources). A case changes it by records of kind shot_wanted: one more that is wanted, or a reason why one is not
// needed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/geometry/face_frame.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct Shot {
    std::string face;  // words of the field table
    std::string light;
    std::string stage;
    friend bool operator==(const Shot&, const Shot&) = default;
};

enum class ShotState {
    there,
    guessed,  // by a photograph of which nobody has confirmed what it shows
    missing,
    not_needed  // somebody said why
};
[[nodiscard]] std::string_view to_text(ShotState state);  // "there", "guessed", "missing", "not-needed"

struct ListedShot {
    Shot shot;
    ShotState state = ShotState::missing;
    std::string how;         // what to do, a sentence
    std::string source;      // of that; "" for one a person wanted
    std::string status;      // how sure it is: "confirmed", "common practice"
    std::string note;        // of the case
    std::string not_needed;  // why
    bool is_past = false;    // the work has gone on since: it may be too late
    std::vector<Uuid> photographs;
    std::optional<Uuid> wanted;  // the record of the case
};

struct ShotList {
    std::string stage;                  // where the work stands
    std::vector<ListedShot> shots;      // in the order of the work, then faces and lights as the table has them
    std::vector<std::string> cautions;  // stands wherever the list is shown; empty without an ultraviolet shot in it

    [[nodiscard]] std::vector<const ListedShot*> in_state(ShotState state) const;
};

[[nodiscard]] ShotList shot_list(const casebook::CaseSnapshot& snapshot);

// The stage at which a photograph taken now would be: the furthest that is recorded as done or photographed (a guess
// counts for nothing); "as-received" before anything is.
[[nodiscard]] std::string stage_of_work(const casebook::CaseSnapshot& snapshot);

// The first shot that is missing at the stage where the work stands, for whoever goes on photographing; else nothing.
[[nodiscard]] std::optional<Shot> next_shot(const ShotList& list);

// What stands wherever an ultraviolet photograph is asked for; common practice, no limit is named.
[[nodiscard]] std::string ultraviolet_caution();

// Wants one more, or says why one is not needed (`not_needed` empty: it is wanted after all). One record a shot: said
// again, it is changed. Errors: those of add_record.
struct ShotWish {
    Shot shot;
    std::string note;
    std::string not_needed;
};
[[nodiscard]] Expected<Done> wish_shot(const Acting& acting, const Uuid& case_id, const ShotWish& wish);

}  // namespace tedge::usecases
