// Which purchase and which sale of a picture stand, after what went back.
#pragma once

#include <optional>
#include <vector>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/money/result_shares.hpp"

namespace tedge::usecases {

struct StandingSale {
    const casebook::Record* record = nullptr;
    Money price;  // after refunds, in the currency of the sale
};

[[nodiscard]] std::vector<const casebook::Record*> returns_of(const casebook::CaseSnapshot& snapshot,
                                                              const Uuid& record);
// The sale of which not all was refunded; none where it is unsold. Errors: accounts.two-sales, money.mixed-currencies.
[[nodiscard]] Expected<std::optional<StandingSale>> standing_sale(const casebook::CaseSnapshot& snapshot);
// The first purchase that did not go back; nullptr where there is none.
[[nodiscard]] const casebook::Record* standing_purchase(const casebook::CaseSnapshot& snapshot);
// In the order in which they were written.
[[nodiscard]] std::vector<money::ResultShare> shares_recorded(const casebook::CaseSnapshot& snapshot);
// The day on which it is to be paid, "" where none is recorded: of a purchase else that of the lot's terms.
[[nodiscard]] std::string due_day(const casebook::CaseSnapshot& snapshot, const casebook::Record& owed);
// The same refusal among all pictures: its title before the sentence, its id as `case`.
[[nodiscard]] std::unexpected<Error> refused_for(const casebook::CaseSnapshot& snapshot, Error error);
// The name of a person, "" where nobody is named or the name was erased.
[[nodiscard]] std::string name_in(const casebook::CaseSnapshot& snapshot, const std::optional<Uuid>& person);

}  // namespace tedge::usecases
