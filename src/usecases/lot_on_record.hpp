// What a case says of its lot: the records that count, and the terms of the sale as money reckons with them.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/money/sale_terms.hpp"
#include "tedge/usecases/lot_results.hpp"

namespace tedge::usecases {

// The newest lot's terms over those of the limit fixed last, whose increments count where the lot has none. Errors:
// lot.no-terms (no premium is said), those of parse_sale_terms().
[[nodiscard]] Expected<money::SaleTerms> terms_of_sale(const casebook::CaseSnapshot& snapshot,
                                                       const Currency& currency);

// Of a sale as a plan holds it. Errors: as above.
[[nodiscard]] Expected<money::SaleTerms> terms_in_sale(nlohmann::json sale, const Currency& currency);

// A lot in words: "lot 12", or "the lot" where it has no number.
[[nodiscard]] std::string lot_words(const casebook::Record& lot);

// "GBP 8,500": without the decimals where they are nothing.
[[nodiscard]] std::string round_text(const Money& money);

// "5 March 2026, 14:30 Europe/London (GMT)"; in UTC where the zone is not recorded or not known here.
[[nodiscard]] std::string moment_words(Instant at, std::string_view zone);

// Where the purchase that counts for the lot names none and others may be meant: that it is taken for this one, in a
// sentence.
[[nodiscard]] std::optional<std::string> nameless_purchase_remark(const casebook::CaseSnapshot& snapshot,
                                                                  const casebook::Record& lot);

}  // namespace tedge::usecases
