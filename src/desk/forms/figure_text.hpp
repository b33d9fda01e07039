// Figures as catalogues print them.
#pragma once

#include <QString>

namespace tedge::desk {

// "12,500.50", "12 500" and "12'500" without the marks between thousands. What is not grouped in threes stays as it is:
// its reader says what is wrong with it.
[[nodiscard]] QString ungrouped(const QString& figure);

}  // namespace tedge::desk
