#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array trial_fields{
    Field{.name = "face_frame",
          .label = "On",
          .type = record,
          .readers = told_outside,
          .required = true,
          .of = "face_frame"},
    Field{.name = "region", .label = "Place", .type = FieldType::region, .readers = told_outside, .required = true},
    Field{.name = "passage", .label = "Passage", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "passage_colour", .label = "Colour of the passage", .readers = told_outside},
    Field{.name = "layer",
          .label = "Layer aimed at",
          .type = word,
          .readers = told_outside,
          .words = "surface-dirt varnish overpaint filling residue",
          .required = true},
    Field{.name = "agent", .label = "Agent", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "batch", .label = "Batch", .readers = bench},
    Field{.name = "application", .label = "Application", .readers = told_outside},
    Field{.name = "seconds", .label = "Time", .type = number, .readers = told_outside, .unit = "s"},
    Field{.name = "passes", .label = "Passes", .type = integer, .readers = told_outside},
    Field{.name = "clearing", .label = "Cleared with", .readers = told_outside},
    Field{.name = "removal", .label = "Removal", .type = integer, .readers = told_outside, .unit = "of 10"},
    Field{.name = "evenness", .label = "Evenness", .type = integer, .readers = told_outside, .unit = "of 10"},
    Field{.name = "swelling",
          .label = "Swelling or blanching",
          .type = word,
          .readers = told_outside,
          .words = "none slight strong"},
    Field{.name = "swab_colour", .label = "Colour on the swab", .readers = told_outside, .searched = true},
    Field{.name = "swab_answer",
          .label = "What that colour is",
          .type = word,
          .readers = told_outside,
          .words = "dirt varnish tinted-varnish later-paint original-paint undecided"},
    Field{.name = "verdict",
          .label = "Verdict",
          .type = word,
          .readers = told_outside,
          .words = "cleared too-weak stop undecided"},
    Field{.name = "done_on", .label = "Done on", .type = date, .readers = told_outside, .happened = true},
    Field{.name = "done_by", .label = "Done by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{
        .name = "delta_e00_inside", .label = "Change inside", .type = number, .readers = told_outside, .unit = "ΔE00"},
    Field{.name = "delta_e00_outside",
          .label = "Change outside",
          .type = number,
          .readers = told_outside,
          .unit = "ΔE00"},
    Field{.name = "note", .label = "Note for the bench", .type = long_text, .readers = bench, .searched = true},
};

constexpr std::array treatment_fields{
    Field{.name = "act",
          .label = "Treatment",
          .type = word,
          .readers = told_outside,
          .words =
              "consolidation surface-cleaning varnish-removal overpaint-removal filling retouching isolating-varnish "
              "final-varnish other",
          .required = true},
    Field{.name = "face_frame", .label = "On", .type = record, .readers = told_outside, .of = "face_frame"},
    Field{.name = "region", .label = "Place", .type = region, .readers = told_outside},
    Field{.name = "materials", .label = "Materials", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "text", .label = "What was done", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "planned", .label = "Planned only", .type = flag, .readers = told_outside},
    Field{.name = "done_on", .label = "Done on", .type = date, .readers = told_outside, .happened = true},
    Field{.name = "done_by", .label = "Done by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "hours", .label = "Hours", .type = number, .unit = "h"},
    Field{.name = "note", .label = "Note for the bench", .type = long_text, .readers = bench, .searched = true},
};

constexpr std::array structure_fields{
    Field{.name = "act",
          .label = "Work on the structure",
          .type = word,
          .readers = told_outside,
          .words = "lining strip-lining loose-lining relining marouflage transfer patch stretcher keying-out "
                   "tacking-edge other",
          .required = true},
    Field{.name = "materials", .label = "Materials", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "text", .label = "What was done", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "owner_agreed", .label = "Owner agreed", .type = flag, .readers = bench},
    Field{.name = "alternatives",
          .label = "Other choices considered",
          .type = long_text,
          .readers = bench,
          .searched = true},
    Field{.name = "consolidation_included", .label = "Consolidation is part of it", .type = flag, .readers = bench},
    Field{.name = "test_strip", .label = "Test strip", .readers = bench, .searched = true},
    Field{.name = "old_kept_where", .label = "Old strainer kept where", .readers = bench, .searched = true},
    Field{.name = "planned", .label = "Planned only", .type = flag, .readers = told_outside},
    Field{.name = "done_on", .label = "Done on", .type = date, .readers = told_outside, .happened = true},
    Field{.name = "done_by", .label = "Done by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "note", .label = "Note for the bench", .type = long_text, .readers = bench, .searched = true},
};

}  // namespace

const Kind trial{"trial", "cleaning trial", "cleaning trials", 1, trial_fields};
const Kind treatment_step{"treatment_step", "treatment", "treatments", 1, treatment_fields};
const Kind structure_step{"structure_step", "work on the structure", "works on the structure", 1, structure_fields};

}  // namespace tedge::casebook::kinds
