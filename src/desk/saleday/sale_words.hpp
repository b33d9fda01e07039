// What a sale came to, in sentences.
#pragma once

#include <QString>
#include <QStringList>

#include "tedge/usecases/deadlines.hpp"
#include "tedge/usecases/lot_results.hpp"

namespace tedge::desk {

// "Lot 212, Quay Rooms, Old Pictures; 5 March 2026, 14:30 Europe/London"
[[nodiscard]] QString lot_head(const casebook::Record& lot);
// "bought-in" is bought in.
[[nodiscard]] QString result_words(const std::string& result);
// "hammer GBP 1,700.00 + premium GBP 442.00 + … = all-in GBP 2,281.40; …": the invoice to expect, line by line.
[[nodiscard]] QString expected_words(const money::Invoice& bill);
// Who insures it since the risk is ours; is_covered: somebody does, or the risk is not ours yet.
struct RiskWords {
    QString said;
    bool is_covered = true;
};
[[nodiscard]] RiskWords risk_words(const casebook::CaseSnapshot& snapshot, const usecases::RiskStanding& risk);
// "△ overdue by 2 days", "today", "in 3 days", "● done 6 March 2026"
[[nodiscard]] QString standing_words(const usecases::StandingDeadline& due);
// "10 March 2026, 14:30 Europe/London (GMT)"
[[nodiscard]] QString when_words(const usecases::StandingDeadline& due);

}  // namespace tedge::desk
