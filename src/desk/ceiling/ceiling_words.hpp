// What a plan comes to, in words: the three ceilings, plans beside one another, and the courses left after the
// purchase.
#pragma once

#include <QString>

#include "tedge/money/courses.hpp"

namespace tedge::desk {

[[nodiscard]] QString report_words(const money::CeilingReport& report);

// A table for a label (rich text): bid, expected profit and chance of loss of each plan at one hammer price.
[[nodiscard]] QString plans_table(const money::PlansBeside& plans);

// Go on, sell as it stands, sell as found; and what may still be spent.
[[nodiscard]] QString courses_table(const money::CoursesReport& report);

}  // namespace tedge::desk
