#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array case_fields{
    Field{.name = "title", .label = "Title", .readers = everyone, .searched = true, .required = true},
    Field{.name = "artist", .label = "Artist, as we say it", .readers = everyone, .searched = true},
    Field{.name = "date_made", .label = "Made", .type = edtf, .readers = everyone, .searched = true},
    Field{.name = "technique", .label = "Materials and technique", .readers = everyone, .searched = true},
    Field{.name = "subject", .label = "Subject", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "distinguishing",
          .label = "Distinguishing features",
          .type = long_text,
          .readers = everyone,
          .searched = true},
    Field{.name = "width_mm", .label = "Width", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "height_mm", .label = "Height", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "stock_number", .label = "Stock number", .readers = everyone, .searched = true},
    Field{.name = "owner", .label = "Owner", .type = record, .personal = true, .of = "person"},
    Field{.name = "state",
          .label = "State",
          .type = word,
          .readers = only_own,
          .words = "open bought not-bought sold closed"},
    Field{.name = "finished_on", .label = "Work finished on", .type = date, .readers = told_outside},
    Field{.name = "unfinished", .label = "Still to be done", .readers = told_outside, .searched = true},
    Field{.name = "left_out", .label = "Known and left out", .type = long_text, .readers = only_own, .searched = true},
    Field{.name = "left_out_signed_by", .label = "List signed by", .type = record, .personal = true, .of = "person"},
    Field{.name = "left_out_signed_on", .label = "List signed on", .type = date},
    Field{.name = "asking_price", .label = "Asking price", .type = money, .readers = only_own},
    Field{.name = "private_note", .label = "Private note", .type = long_text, .readers = only_own, .searched = true},
};

constexpr std::array person_fields{
    Field{.name = "name", .label = "Name", .readers = bench, .personal = true, .searched = true, .required = true},
    Field{
        .name = "role",
        .label = "Role",
        .type = word,
        .readers = bench,
        .words =
            "dealer viewer restorer liner gilder joiner photographer researcher carrier insurer client saleroom other"},
    Field{.name = "firm", .label = "Firm", .readers = bench, .personal = true, .searched = true},
    Field{.name = "address", .label = "Address", .type = long_text, .personal = true, .searched = true},
    Field{.name = "telephone", .label = "Telephone", .personal = true},
    Field{.name = "mail", .label = "Mail", .personal = true},
    Field{.name = "note", .label = "Private note", .type = long_text, .personal = true, .searched = true},
};

}  // namespace

const Kind picture_case{"case", "picture", "pictures", 1, case_fields};
const Kind person{"person", "person", "people", 1, person_fields, true};

}  // namespace tedge::casebook::kinds
