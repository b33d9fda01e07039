// What people wrote differently without knowing of each other, as a person settles it: a record, what of it is
// contested, and who said what.
#pragma once

#include <string>
#include <vector>

#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// One of those who wrote. Where somebody wrote a field several times, his last word alone.
struct Side {
    Uuid change;
    Uuid author;  // a person's record
    Instant at;
    std::string reason;
    bool removes = false;  // the record was taken away
    bool erased = false;   // something of it was erased: an absent value may be an erased one
    Body wrote;            // what was set, by its paths; a contested field that was taken away is absent
};

struct Contested {
    std::string path;         // "" where one took the record away and the other went on with it
    std::vector<Side> sides;  // earliest first
};

struct Disagreement {
    Uuid case_id;
    Uuid record;
    std::string kind;
    std::vector<Contested> contested;  // by path
    std::vector<Uuid> changes;         // all that a resolution of this has to name, sorted
};

// `conflicts` and `history` of one record. A resolution settles two changes altogether, wherever they clash: so what is
// contested between them is to be decided at once.
[[nodiscard]] Disagreement disagreement_of(const std::vector<Conflict>& conflicts, const std::vector<Change>& history);

// Says what the side said on that path: sets it, or takes it away.
void put_side(FieldValues& values, const Side& side, const std::string& path);

// Whether the record says now what the side said.
[[nodiscard]] bool shows(const Record& now, const Side& side, const std::string& path);

}  // namespace tedge::casebook
