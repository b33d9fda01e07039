// The terms of a sale by the names that a ceiling plan knows them by (its "sale"), so that they are copied as they
// stand. Percentages as printed; amounts in the currency of the sale. What no price hangs on is kept with them.
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

constexpr Field days(std::string_view path, std::string_view label) {
    return {.name = path, .label = label, .type = integer, .unit = "days"};
}

constexpr std::string_view passing_words = "fall-of-hammer payment collection";

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
    amount("terms/deposit", "Deposit to bid"),
    Field{.name = "terms/register_by", .label = "Register by", .type = date},
    Field{.name = "terms/approval_by", .label = "Approval by", .type = date},
    days("terms/pay_within_days", "Pay within"),
    days("terms/collect_within_days", "Collect within"),
    days("terms/storage_free_days", "Storage free for"),
    amount("terms/storage_a_week", "Storage a week after that"),
    Field{.name = "terms/risk_passes", .label = "Risk passes at", .type = word, .words = passing_words},
    Field{.name = "terms/title_passes", .label = "Title passes at", .type = word, .words = passing_words},
    days("terms/return_window_days", "Return window"),
    days("terms/export_within_days", "Export, where its VAT depends on it, within"),
    Field{.name = "terms/valid_from", .label = "These terms hold from", .type = date},
    Field{.name = "terms/valid_to", .label = "These terms hold until", .type = date},
};

}  // namespace

const std::span<const Field> sale_terms = terms;

}  // namespace tedge::casebook::kinds
