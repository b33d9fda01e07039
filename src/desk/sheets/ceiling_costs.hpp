// The costs of a case as a ceiling plan takes them.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "tedge/base/error.hpp"
#include "tedge/base/money.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

// [{"name": …, "amount": [low, likely, high]}] in major units. Errors: money.mixed-currencies for a cost in another
// currency: nobody here knows the rate of the day.
[[nodiscard]] Expected<nlohmann::json> costs_in(const casebook::CaseSnapshot& snapshot, const Currency& currency);

// A number where the text is one, else the text: the plan's own reader says what is wrong with it.
[[nodiscard]] nlohmann::json number_or_text(const std::string& typed);

}  // namespace tedge::desk
