// The VAT in the sale of a picture by the way it is sold, and what of the VAT paid on its purchase comes back.
//
//   margin    max(0, price − purchase price for the margin)·r/(100 + r); nothing recovered on the purchase
//   ordinary  price·r/(100 + r); the input VAT of the purchase recovered
//   exported  zero-rated with proof of export; the input VAT of the purchase recovered, where there was any
//   untaxed   no VAT at all
//
// The purchase price for the margin is what was paid for the lot itself (hammer, premium, VAT on them); treatment,
// framing and fees billed apart never enter it. Sources: gov.uk VAT margin schemes, HMRC Notice 718/2 (see
// margin_scheme.hpp). What scheme a sale may go by is for an accountant to say.
#pragma once

#include <optional>
#include <string_view>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

enum class SaleScheme { margin, ordinary, exported, untaxed };

// "margin", "ordinary", "export", "none": as records have it. Errors: sale.unknown-scheme.
[[nodiscard]] Expected<SaleScheme> parse_sale_scheme(std::string_view word);

struct SoldPicture {
    SaleScheme scheme = SaleScheme::untaxed;
    Money price;                          // what the buyer pays, VAT in it
    std::optional<Money> margin_price{};  // purchase price for the margin; needed under the margin scheme alone
    std::optional<Money> input_vat{};     // on the purchase invoice and reclaimable
    Decimal vat_percent{};
};

struct SaleVat {
    Money vat;                      // owed on the sale
    Money recovered;                // of the purchase
    std::optional<Money> margin{};  // price − purchase price, negative on a loss; under the margin scheme alone
};

// Errors: sale.no-margin-price, sale.vat-was-shown (margin scheme and a purchase with reclaimable VAT on its invoice),
// and those of margin_scheme().
[[nodiscard]] Expected<SaleVat> sale_vat(const SoldPicture& sold);

}  // namespace tedge::money
