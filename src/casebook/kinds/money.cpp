#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array lot_fields{
    Field{.name = "saleroom", .label = "Saleroom", .readers = bench, .searched = true},
    Field{.name = "sale", .label = "Sale", .searched = true},
    Field{.name = "lot_number", .label = "Lot", .searched = true},
    Field{.name = "sale_at", .label = "Sale begins", .type = instant},
    Field{.name = "sale_zone", .label = "Time zone of the sale", .type = zone},
    Field{.name = "catalogue_text", .label = "As catalogued", .type = long_text, .searched = true},
    Field{.name = "catalogue_attribution", .label = "Attribution as catalogued", .searched = true},
    Field{.name = "catalogue_seen_on", .label = "Catalogue seen on", .type = date},
    Field{.name = "catalogue_page", .label = "Catalogue page as saved", .type = record, .of = "document"},
    Field{.name = "glossary", .label = "What the sale means by its words of attribution", .type = long_text},
    Field{.name = "estimate_low", .label = "Estimate, low", .type = money},
    Field{.name = "estimate_high", .label = "Estimate, high", .type = money},
    Field{.name = "terms", .label = "Sale terms", .type = values},
    Field{.name = "terms_read", .label = "Terms read on", .type = date},
    Field{.name = "notice", .label = "Saleroom notices", .type = long_text, .searched = true},
    Field{.name = "result", .label = "Result", .type = word, .words = "bought underbid bought-in withdrawn not-bid"},
    Field{.name = "hammer", .label = "Hammer price", .type = money},
    Field{.name = "our_last_bid", .label = "Our last bid", .type = money},
    Field{.name = "after_sale_offer", .label = "Offered after the sale at", .type = money},
};

constexpr std::array viewing_fields{
    Field{.name = "viewed_on", .label = "Viewed on", .type = date},
    Field{.name = "viewer", .label = "Viewer", .type = record, .personal = true, .of = "person"},
    Field{.name = "answers",
          .label = "Questions answered",
          .type = values},  // question: {"answer": yes|no|not-seen, "why": framed|sealed|refused|not-asked, "note": …}
    Field{.name = "text", .label = "What was seen", .type = long_text, .searched = true},
    Field{.name = "quality", .label = "Quality by passage", .type = long_text, .searched = true},
    Field{.name = "asked_by", .label = "Asked by", .type = record, .personal = true, .of = "person"},
    Field{.name = "paid_by", .label = "Viewer paid by", .type = record, .personal = true, .of = "person"},
    Field{.name = "fee", .label = "Viewer's fee", .type = money},
};

constexpr std::array ceiling_fields{
    Field{.name = "plan", .label = "Plan", .type = values, .required = true},
    Field{.name = "report", .label = "Report", .type = values, .required = true},
    Field{.name = "limit", .label = "Limit", .type = money, .required = true},
    Field{.name = "fixed_at", .label = "Fixed at", .type = instant, .required = true},
    Field{.name = "fixed_by", .label = "Fixed by", .type = record, .personal = true, .of = "person"},
    Field{.name = "note", .label = "Note", .type = long_text, .searched = true},
};

constexpr std::array purchase_fields{
    Field{.name = "bought_on", .label = "Bought on", .type = date, .readers = Readers(Reader::own) | Reader::insurer},
    Field{.name = "seller", .label = "Seller", .type = record, .personal = true, .of = "person"},
    Field{.name = "hammer", .label = "Hammer price", .type = money},
    Field{.name = "margin_price", .label = "Purchase price for the margin", .type = money},
    Field{.name = "all_in", .label = "All-in price", .type = money},
    Field{.name = "invoice_number", .label = "Invoice number", .searched = true},
    Field{.name = "scheme", .label = "Bought under", .type = word, .words = "margin vat-on-hammer import none"},
    Field{.name = "paid_on", .label = "Paid on", .type = date},
    Field{.name = "return_window_ends", .label = "Return window ends", .type = date},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
    Field{.name = "lot", .label = "Lot", .type = record, .of = "lot"},
    Field{.name = "collected_on", .label = "Collected on", .type = date},
    // As the saleroom wrote it: {"lines": [{"name": "premium", "amount": 2500}], "total": 13000}.
    Field{.name = "received_invoice", .label = "Invoice as received", .type = values},
    Field{.name = "input_vat", .label = "VAT in the price that may be reclaimed", .type = money},
    Field{.name = "bought_in", .label = "Bought in, country as two letters"},
    due_on,
    rate_to,
    rate,
    rate_on,
    rate_source,
};

constexpr std::array cost_fields{
    Field{.name = "name", .label = "For", .searched = true, .required = true},
    Field{.name = "treatment", .label = "Act", .type = word, .words = treatment_words},
    // What the act is priced by, so that past cases tell what one comes to: m2 of the place, m of the perimeter.
    Field{.name = "quantity", .label = "Quantity", .type = number, .unit = "by its measure"},
    Field{.name = "measure", .label = "Measured in", .type = word, .words = "m2 m piece week"},
    Field{.name = "estimate", .label = "Estimate", .type = money_estimate},
    Field{.name = "actual", .label = "Actual", .type = money},
    Field{.name = "paid_on", .label = "Paid on", .type = date},
    Field{.name = "payee", .label = "Paid to", .type = record, .personal = true, .of = "person"},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
    Field{.name = "vat", .label = "VAT on top that is reclaimed", .type = money},
    due_on,
    rate_to,
    rate,
    rate_on,
    rate_source,
};

}  // namespace

const Kind lot{"lot", "lot", "lots", 1, lot_fields};
const Kind viewing_note{"viewing_note", "viewing note", "viewing notes", 1, viewing_fields};
const Kind ceiling{"ceiling", "ceiling", "ceilings", 1, ceiling_fields};
const Kind purchase{"purchase", "purchase", "purchases", 1, purchase_fields};
const Kind cost_line{"cost_line", "cost", "costs", 1, cost_fields};

}  // namespace tedge::casebook::kinds
