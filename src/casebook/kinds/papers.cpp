#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array document_fields{
    Field{.name = "title", .label = "Title", .personal = true, .searched = true, .required = true},
    Field{.name = "sort",
          .label = "Sort",
          .type = word,
          .words = "letter invoice receipt consent identity licence certificate opinion photograph dossier other"},
    Field{.name = "sha256", .label = "File", .type = FieldType::sha256},
    Field{.name = "dated", .label = "Dated", .type = edtf},
    Field{.name = "destroy_after", .label = "Destroy after", .type = date},
    Field{.name = "text", .label = "Text or summary", .type = long_text, .personal = true, .searched = true},
    Field{.name = "rights", .label = "Rights", .searched = true},
};

constexpr std::array override_fields{
    Field{.name = "gate", .label = "Gate", .type = integer, .readers = bench, .required = true},
    Field{.name = "by",
          .label = "By",
          .type = record,
          .readers = bench,
          .personal = true,
          .required = true,
          .of = "person"},
    Field{.name = "reason", .label = "Reason", .type = long_text, .readers = bench, .searched = true, .required = true},
    Field{.name = "requirement", .label = "What is missing", .readers = bench, .required = true},
    Field{.name = "whole_picture", .label = "Once for the picture", .type = flag, .readers = bench},
    Field{.name = "act", .label = "For this act", .type = record, .readers = bench},
    Field{.name = "act_as", .label = "As it was let pass, a digest of sort and place"},
    Field{.name = "on", .label = "On", .type = date, .readers = bench, .required = true},
};

}  // namespace

const Kind document{"document", "document", "documents", 1, document_fields};
const Kind gate_override{"gate_override", "override of a gate", "overrides of gates", 1, override_fields};

}  // namespace tedge::casebook::kinds
