// Money that moves because of a picture, who has a part in it, and the sale. An amount stands in its own currency;
// where the accounts are kept in another, the rate that was used and its day stand beside it. All of it stays in the
// house.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

// What it pays stands in `settles`: a purchase, a cost, a commission, a share, a sale or a return. Several payments may
// settle one of them; a deposit that settles nothing yet is money of the one with the other.
constexpr std::array payment_fields{
    Field{.name = "direction", .label = "In or out", .type = word, .words = "in out", .required = true},
    Field{.name = "amount", .label = "Amount", .type = money, .required = true},
    Field{.name = "on", .label = "On", .type = date, .required = true, .happened = true},
    Field{.name = "is", .label = "As", .type = word, .words = "payment deposit deposit-back"},
    Field{
        .name = "settles", .label = "Settles", .type = record, .of = "purchase cost_line commission share sale return"},
    Field{.name = "party", .label = "From or to", .type = record, .personal = true, .of = "person"},
    Field{.name = "method", .label = "By", .type = word, .words = "bank card cash cheque set-off other"},
    Field{.name = "reference", .label = "Reference", .searched = true},
    Field{.name = "cleared_on", .label = "Cleared on", .type = date, .happened = true},
    rate_to,
    rate,
    rate_on,
    rate_source,
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

constexpr std::array share_fields{
    Field{.name = "party", .label = "Whose", .type = record, .personal = true, .of = "person"},
    Field{.name = "percent", .label = "Share", .type = number, .unit = "%", .required = true},
    Field{.name = "bears", .label = "In", .type = word, .words = "profit-and-loss profit", .required = true},
    Field{.name = "agreed_on", .label = "Agreed on", .type = date, .happened = true},
    Field{.name = "agreement", .label = "Agreement", .type = record, .of = "document"},
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

constexpr std::array commission_fields{
    Field{.name = "party", .label = "To", .type = record, .personal = true, .of = "person"},
    Field{
        .name = "role", .label = "As", .type = word, .words = "finder viewer introducer agent other", .required = true},
    // Of the two one: a fixed amount, or a share of the price or of the profit before shares.
    Field{.name = "amount", .label = "Amount", .type = money},
    Field{.name = "percent", .label = "Percent", .type = number, .unit = "%"},
    Field{.name = "percent_of", .label = "Of", .type = word, .words = "sale-price purchase-price profit"},
    Field{.name = "agreed_on", .label = "Agreed on", .type = date, .happened = true},
    due_on,
    rate_to,
    rate,
    rate_on,
    rate_source,
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

constexpr std::array sale_fields{
    Field{.name = "sold_on", .label = "Sold on", .type = date, .required = true, .happened = true},
    Field{.name = "price", .label = "Price, VAT in it", .type = money, .required = true},
    Field{.name = "scheme",
          .label = "Sold under",
          .type = word,
          .words = "margin ordinary export none",
          .required = true},
    Field{.name = "vat_percent", .label = "Rate of VAT, where it is not that of the day", .type = number, .unit = "%"},
    Field{.name = "buyer", .label = "Buyer", .type = record, .personal = true, .of = "person"},
    Field{.name = "buyer_is", .label = "Buyer is", .type = word, .words = "trade consumer not-known"},
    Field{.name = "concluded",
          .label = "Concluded",
          .type = word,
          .words = "face-to-face at-a-distance away-from-premises public-auction"},
    Field{.name = "invoice_number", .label = "Sales invoice", .searched = true},
    // ISO 3166-1 alpha-2.
    Field{.name = "destination", .label = "Goes to, country as two letters"},
    Field{.name = "delivered_on", .label = "Delivered on", .type = date, .happened = true},
    Field{.name = "export_proof", .label = "Proof of export", .type = record, .of = "document"},
    due_on,
    rate_to,
    rate,
    rate_on,
    rate_source,
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

constexpr std::array return_fields{
    Field{.name = "of", .label = "Of the purchase or sale", .type = record, .required = true, .of = "purchase sale"},
    Field{.name = "returned_on", .label = "Returned on", .type = date, .required = true, .happened = true},
    Field{.name = "refund", .label = "Refund", .type = money, .required = true},
    Field{.name = "reason", .label = "Reason", .type = long_text, .searched = true},
    due_on,
    rate_to,
    rate,
    rate_on,
    rate_source,
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

// One for the book. The price code is nobody's to have: not even the own file prints it.
constexpr std::array house_fields{
    Field{.name = "name", .label = "House"},
    Field{.name = "currency", .label = "Accounts kept in"},
    Field{.name = "country", .label = "Country as two letters"},
    Field{.name = "price_code", .label = "Private price code", .readers = nobody},
};

}  // namespace

const Kind payment{"payment", "payment", "payments", 1, payment_fields};
const Kind share{"share", "share in the picture", "shares in the picture", 1, share_fields};
const Kind commission{"commission", "commission", "commissions", 1, commission_fields};
const Kind sale{"sale", "sale", "sales", 1, sale_fields};
const Kind picture_return{"return", "return", "returns", 1, return_fields};
const Kind house{"house", "house", "houses", 1, house_fields, true};

}  // namespace tedge::casebook::kinds
