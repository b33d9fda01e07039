// Questions of law in words.
#pragma once

#include <QString>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/usecases/duties.hpp"

namespace tedge::desk {

// "✓ Resale right: answered 3 May 2026", "○ Export: open", "– Joint purchase: not applicable".
[[nodiscard]] QString duty_line(const usecases::Duty& duty);
// The question, why it is asked or not, the answer with its day and document, remarks, and each source with how sure it
// is. Rich text.
[[nodiscard]] QString duty_told(const usecases::Duty& duty, const casebook::CaseSnapshot& snapshot);
// "2 of 11 answered, 6 open (the facts ask for 4 of them), 3 not applicable."
[[nodiscard]] QString duties_summary(const usecases::DutiesOfCase& duties);
// Identity papers with the day after which they are destroyed; "" where there are none and no deal.
[[nodiscard]] QString papers_told(const usecases::DutiesOfCase& duties);

}  // namespace tedge::desk
