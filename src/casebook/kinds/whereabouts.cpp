#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr Readers movers = Readers(Reader::own) | Reader::restorer | Reader::carrier | Reader::insurer;

constexpr std::array custody_fields{
    Field{.name = "place", .label = "Where it is", .readers = movers, .searched = true, .required = true},
    Field{
        .name = "holder", .label = "Who holds it", .type = record, .readers = movers, .personal = true, .of = "person"},
    Field{.name = "from", .label = "Since", .type = date, .readers = movers, .required = true},
    Field{.name = "to", .label = "Until", .type = date, .readers = movers},
    Field{.name = "receipt", .label = "Receipt", .readers = movers, .searched = true},
    Field{.name = "insured_by",
          .label = "Insured by",
          .readers = Readers(Reader::own) | Reader::carrier | Reader::insurer,
          .searched = true},
    Field{.name = "insured_value",
          .label = "Insured value",
          .type = money,
          .readers = Readers(Reader::own) | Reader::insurer},
    Field{.name = "packing", .label = "Packing and position", .type = long_text, .readers = movers},
    Field{.name = "loose_paint_risk_accepted_by",
          .label = "Risk of loose paint accepted by",
          .type = record,
          .readers = movers,
          .personal = true,
          .of = "person"},
    // Who stands for damage; by the terms of a sale often from the fall of the hammer, long before anything moves.
    Field{.name = "risk_from", .label = "Our risk from", .type = date},
};

constexpr std::array deadline_fields{
    Field{.name = "what", .label = "What falls due", .searched = true, .required = true},
    Field{.name = "on", .label = "On", .type = date, .required = true},
    Field{.name = "at", .label = "At", .type = instant},
    Field{.name = "zone", .label = "Time zone", .type = FieldType::zone},
    Field{.name = "done_on", .label = "Done on", .type = date},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
    // What was counted from a lot's terms is counted again when they change.
    Field{.name = "term",
          .label = "By the sale's terms",
          .type = word,
          .words = "register approval pay collect storage return export"},
    Field{.name = "lot", .label = "Lot", .type = record, .of = "lot"},
    Field{.name = "basis", .label = "How it was counted", .type = long_text},
};

}  // namespace

const Kind custody{"custody", "custody", "custody entries", 1, custody_fields};
const Kind deadline{"deadline", "deadline", "deadlines", 1, deadline_fields};

}  // namespace tedge::casebook::kinds
