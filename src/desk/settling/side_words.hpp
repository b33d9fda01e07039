// What somebody said of a contested field, in words, and what it would make of the record.
#pragma once

#include <QString>

#include "tedge/casebook/disagreement.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

struct SideWords {
    QString who;     // "Ute Hain, 5 March 2026, 14:30 UTC"
    QString said;    // the value with its unit; "left empty"; "took the record away"
    QString makes;   // how the record then reads in the list, and what stands closed that otherwise would not
    QString reason;  // as it was written down with the change, or ""
};

// In the order of the contested field's sides. `now` may be a record that was taken away.
[[nodiscard]] QList<SideWords> words_of_sides(const casebook::Contested& contested, const casebook::Record& now,
                                              const casebook::CaseSnapshot& snapshot);

// "Width", "Answers: support", "whether it stays".
[[nodiscard]] QString contested_label(const std::string& path, const casebook::Kind* kind);

}  // namespace tedge::desk
