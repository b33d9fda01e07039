// What somebody makes of a picture before it is bought: its quality, passage by passage, and what it is compared with.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array quality_fields{
    Field{.name = "passage", .label = "Passage", .searched = true, .required = true},  // face, hands, drapery, sky, …
    Field{.name = "handling",
          .label = "Handling of the paint",
          .type = word,
          .words = "assured competent hesitant mechanical not-judged"},
    Field{.name = "drawing",
          .label = "Drawing",
          .type = word,
          .words = "assured competent hesitant mechanical not-judged"},
    Field{.name = "legible",
          .label = "Legible through dirt and varnish",
          .type = word,
          .words = "clearly partly hardly not-at-all"},
    Field{.name = "guessed", .label = "What of this is guessed", .type = long_text, .searched = true},
    Field{.name = "seen_from",
          .label = "Judged from",
          .type = word,
          .words = "the-picture a-telephone-photograph the-catalogue our-photograph"},
    Field{.name = "eye", .label = "Whose eye", .type = record, .personal = true, .of = "person"},
    Field{.name = "judged_on", .label = "Judged on", .type = date, .happened = true},
    Field{.name = "photograph", .label = "Photograph", .type = record, .of = "photograph"},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
};

constexpr std::array comparable_fields{
    Field{.name = "work", .label = "Work compared with", .searched = true, .required = true},
    Field{.name = "artist", .label = "Artist", .searched = true},
    Field{.name = "wording", .label = "Wording of the attribution then", .searched = true},
    // The name of an outcome of the plan: "studio".
    Field{.name = "outcome", .label = "Speaks for the outcome", .searched = true},
    Field{.name = "width_mm", .label = "Width", .type = number, .unit = "mm"},
    Field{.name = "height_mm", .label = "Height", .type = number, .unit = "mm"},
    Field{.name = "sold_on", .label = "Offered or sold", .type = edtf},
    Field{.name = "where", .label = "Where", .searched = true},
    Field{.name = "unsold", .label = "Did not sell", .type = flag},
    Field{.name = "price", .label = "Price, or last bid or estimate where unsold", .type = money},
    Field{.name = "price_is", .label = "That price is", .type = word, .words = "hammer with-premium retail estimate"},
    Field{.name = "condition", .label = "Condition then", .type = long_text, .searched = true},
    Field{.name = "why", .label = "Why it is comparable", .type = long_text, .searched = true},
    Field{.name = "source", .label = "Source", .searched = true},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
};

}  // namespace

const Kind quality_note{"quality_note", "note on quality", "notes on quality", 1, quality_fields};
const Kind comparable{"comparable", "comparable", "comparables", 1, comparable_fields};

}  // namespace tedge::casebook::kinds
