// Which currency an amount most likely is in, before anybody says so.
#pragma once

#include "tedge/base/money.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::usecases {

// The currency of the money written last in this case; else of the money written last in one of the book's twenty cases
// that were changed last (looking further would take longer than typing it); else GBP, because the first users trade
// in it. A proposal: whoever enters an amount may choose another.
[[nodiscard]] Currency usual_currency(casebook::Casebook& book, const Uuid& case_id);

// The currency of a lot's sale: of its estimate, else of its hammer price, else of the limit fixed last, else the usual
// one of the case.
[[nodiscard]] Currency currency_of_sale(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::usecases
