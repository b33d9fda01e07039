// The keys of the intake's table: a letter says a face or a light of all rows that are chosen, a capital a stage.
#pragma once

#include <QString>
#include <functional>
#include <optional>

#include "photographs/intake_row.hpp"

class QKeyEvent;

namespace tedge::desk {

// What a key says of each chosen row, by what the row before it shows: edges and stages of one initial take turns.
// Nothing for a key that says nothing. Ctrl with an arrow says on which side the raking lamp stood.
using IntakeAct = std::function<void(IntakeRow&)>;
[[nodiscard]] std::optional<IntakeAct> act_of_key(const QKeyEvent& key);

// The keys in a few lines, for the hint below the table.
[[nodiscard]] QString keys_in_words();

}  // namespace tedge::desk
