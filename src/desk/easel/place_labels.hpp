// What a place is called on the easel and in the lists beside it: one name for one record, the same on every face.
#pragma once

#include <QString>
#include <map>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

// Findings bear the number they have in the dossier's list of findings, over all faces in the order in which they were
// recorded: "3". Others are counted by themselves and told apart by a letter, trials with the number of the dossier's
// table of trials: "T2" a trial, "F1" a facing, "insc. 1" an inscription, "M1" a measurement, "W1" work on the picture.
[[nodiscard]] std::map<Uuid, QString> place_labels(const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
