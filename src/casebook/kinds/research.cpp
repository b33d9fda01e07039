#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array link_fields{
    Field{.name = "order", .label = "Order", .type = number, .readers = told_outside, .required = true},
    Field{.name = "owner", .label = "Owner, as printed", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "life", .label = "Life dates", .type = edtf, .readers = told_outside},
    Field{.name = "role",
          .label = "As",
          .type = word,
          .readers = told_outside,
          .words = "owner dealer agent saleroom museum"},
    Field{.name = "place", .label = "Place", .readers = told_outside, .searched = true},
    Field{.name = "from", .label = "From", .type = edtf, .readers = told_outside},
    Field{.name = "to", .label = "To", .type = edtf, .readers = told_outside},
    Field{.name = "transfer", .label = "How it passed on", .readers = told_outside, .searched = true},
    Field{.name = "direct_to_next",
          .label = "Passed directly to the next",
          .type = word,
          .readers = told_outside,
          .words = "yes no unknown"},
    Field{.name = "doubt", .label = "Doubt", .type = word, .readers = told_outside, .words = "none possibly probably"},
    Field{.name = "source", .label = "Source", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "private_note", .label = "Private note", .type = long_text, .searched = true},
};

constexpr std::array claim_fields{
    Field{.name = "qualifier", .label = "Qualifier", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "artist", .label = "Artist", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "claimed_by", .label = "Claimed by", .readers = told_outside, .personal = true, .searched = true},
    Field{.name = "claimed_on", .label = "On", .type = edtf, .readers = told_outside},
    Field{.name = "evidence_for", .label = "For", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "evidence_against", .label = "Against", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "source", .label = "Source", .readers = told_outside, .searched = true},
    Field{.name = "ours", .label = "Our own wording", .type = flag, .readers = told_outside},
    Field{.name = "private_note", .label = "Private note", .type = long_text, .searched = true},
};

}  // namespace

const Kind provenance_link{"provenance_link", "owner", "owners", 1, link_fields};
const Kind attribution_claim{"attribution_claim", "attribution", "attributions", 1, claim_fields};

}  // namespace tedge::casebook::kinds
