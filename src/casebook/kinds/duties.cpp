// What the law may ask of a deal: each question answered, open or not applicable, with its document. No answer is a
// verdict of the program's.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array duty_fields{
    Field{.name = "duty", .label = "Question", .type = word, .words = duty_words, .required = true},
    Field{.name = "answer", .label = "Answer", .type = word, .words = "answered open not-applicable", .required = true},
    Field{.name = "on", .label = "On", .type = date, .happened = true},
    Field{.name = "by", .label = "By", .type = record, .personal = true, .of = "person"},
    Field{.name = "document", .label = "Document", .type = record, .of = "document"},
    Field{.name = "text", .label = "What was found", .type = long_text, .personal = true, .searched = true},
};

// Telling somebody that he is suspected may itself be an offence: these notes leave in nothing, stand on no sheet, and
// no search finds them.
constexpr std::array suspicion_fields{
    Field{.name = "text",
          .label = "What seemed wrong",
          .type = long_text,
          .readers = nobody,
          .personal = true,
          .required = true},
    Field{.name = "noted_on", .label = "Noted on", .type = date, .readers = nobody, .happened = true},
    Field{.name = "by", .label = "By", .type = record, .readers = nobody, .personal = true, .of = "person"},
    Field{.name = "reported_on", .label = "Reported on", .type = date, .readers = nobody, .happened = true},
    Field{.name = "reference", .label = "Reference of the report", .readers = nobody, .personal = true},
};

}  // namespace

const Kind duty{"duty", "question of law", "questions of law", 1, duty_fields};
const Kind suspicion{"suspicion", "note of suspicion", "notes of suspicion", 1, suspicion_fields};

}  // namespace tedge::casebook::kinds
