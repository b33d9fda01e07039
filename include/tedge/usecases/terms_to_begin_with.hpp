// Terms of a sale while they are written down: a preset put into a lot, and what they come to before they are recorded.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "tedge/casebook/record.hpp"
#include "tedge/money/sale_presets.hpp"

namespace tedge::usecases {

// As a lot's "terms" and a plan's "sale" hold them: {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, …}.
[[nodiscard]] nlohmann::json terms_of_preset(const money::SalePreset& preset);

// The "terms" in the body of a lot, recorded or not yet. Errors: lot.no-terms (no premium is said), those of
// parse_sale_terms().
[[nodiscard]] Expected<money::SaleTerms> sale_terms_in(const casebook::Body& lot, const Currency& currency);

}  // namespace tedge::usecases
