// Amounts where room is short: without the currency where it is the one of the accounts, without decimals that are
// nothing.
#pragma once

#include <QString>
#include <optional>

#include "tedge/base/money.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::desk {

// "1,250", "1,250.50", "EUR 300" among accounts in pounds.
[[nodiscard]] QString short_amount(const Money& amount, const Currency& accounts);
// "–" where nothing is known.
[[nodiscard]] QString short_amount(const std::optional<Money>& amount, const Currency& accounts);
// "600–1,800"; one figure where it is certain.
[[nodiscard]] QString short_estimate(const casebook::Body::MoneyEstimate& estimate, const Currency& accounts);

}  // namespace tedge::desk
