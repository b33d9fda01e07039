// A ceiling plan as JSON, put together from the records of a case.
#pragma once

#include <nlohmann/json.hpp>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::usecases {

// The amount as a decimal number in major units, as plans hold it.
[[nodiscard]] nlohmann::json decimal_amount(const Money& money);

// The last of its kind that was written; nullptr where there is none.
[[nodiscard]] const casebook::Record* newest_of_kind(const casebook::CaseSnapshot& snapshot, std::string_view kind);

// The plan of the limit fixed last, else an empty object.
[[nodiscard]] nlohmann::json plan_fixed_last(const casebook::CaseSnapshot& snapshot);

// The terms in a lot as a plan holds them, in the currency of the lot's amounts where it has any. May be empty.
[[nodiscard]] nlohmann::json terms_in_lot(const casebook::Body& lot);

// The sale as a plan holds it: the newest lot's terms over those of the plan fixed last, in the currency of the lot's
// amounts where it has any. May be empty.
[[nodiscard]] nlohmann::json sale_of_case(const casebook::CaseSnapshot& snapshot);

enum class CostsWanted {
    all,      // what was paid counts for certain
    to_come,  // what was paid is left out
};
// The plan's costs with those recorded in their place (by name) and beside them. Errors: money.mixed-currencies.
[[nodiscard]] Expected<nlohmann::json> costs_of_case(const casebook::CaseSnapshot& snapshot, const nlohmann::json& plan,
                                                     const Currency& currency, CostsWanted wanted);

}  // namespace tedge::usecases
