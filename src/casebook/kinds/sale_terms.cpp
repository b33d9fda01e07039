// The terms of a sale by the names that a ceiling plan knows them by (its "sale"), so that they are copied as they
// stand. Percentages as printed; amounts in the currency of the sale.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr Field percent(std::string_view path, std::string_view label) {
    return {.name = path, .label = label, .type = number, .unit = "%"};
}

constexpr Field amount(std::string_view path, std::string_view label) {
    return {.name = path, .label = label, .type = number, .unit = "in its currency"};
}

constexpr std::array terms{
    // [{"up_to": 50000, "percent": 25}, {"percent": 20}]: of the hammer price, slice by slice.
    Field{.name = "terms/premium", .label = "Premium", .type = values, .unit = "bands"},
    Field{.name = "terms/premium_includes_vat", .label = "VAT is in the premium already", .type = flag},
    amount("terms/minimum_premium", "Least premium"),
    percent("terms/vat_on_premium_percent", "VAT on the premium"),
    percent("terms/vat_on_hammer_percent", "VAT, or import VAT, on the hammer price"),
    percent("terms/surcharge_percent", "Surcharge on the hammer price, as for bidding online"),
    percent("terms/surcharge_vat_percent", "VAT on the surcharge, where it is printed without"),
    amount("terms/fixed_fees", "Fixed fees"),
    Field{.name = "terms/royalty", .label = "Resale royalty passed on to the buyer", .type = flag},
};

}  // namespace

const std::span<const Field> sale_terms = terms;

}  // namespace tedge::casebook::kinds
