// What a plan comes to, in words: the three ceilings, plans beside one another, and the courses left after the
// purchase.
#pragma once

#include <QString>

#include "tedge/money/courses.hpp"
#include "tedge/usecases/viewing.hpp"

namespace tedge::desk {

// The answer in one sentence, for the head of the sheet: bid up to what, all-in, and what limits it.
[[nodiscard]] QString report_headline(const money::CeilingReport& report);

// What was reckoned dearer or less likely because nobody saw it; a line for each cause. Amounts are in `currency`.
[[nodiscard]] QString unseen_words(const std::vector<usecases::Widening>& widened, const Currency& currency);

[[nodiscard]] QString report_words(const money::CeilingReport& report);

// A table for a label (rich text): bid, expected profit and chance of loss of each plan at one hammer price.
[[nodiscard]] QString plans_table(const money::PlansBeside& plans);

// Go on, sell as it stands, sell as found; and what may still be spent.
[[nodiscard]] QString courses_table(const money::CoursesReport& report);

}  // namespace tedge::desk
