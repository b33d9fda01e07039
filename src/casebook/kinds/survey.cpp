#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array frame_fields{
    Field{.name = "face", .label = "Face", .type = word, .readers = everyone, .words = face_words, .required = true},
    Field{.name = "epoch_from", .label = "Valid from", .type = date, .readers = everyone},
    Field{.name = "epoch_why", .label = "Why a new frame", .readers = everyone, .searched = true},
    Field{.name = "width_mm", .label = "Width", .type = number, .readers = everyone, .unit = "mm", .required = true},
    Field{.name = "height_mm", .label = "Height", .type = number, .readers = everyone, .unit = "mm", .required = true},
    Field{.name = "outline", .label = "Outline", .type = region, .readers = everyone},
    // The structure step that moved the face; without it, or while that is only planned, the frame is not in force.
    Field{.name = "opened_by", .label = "Opened by", .type = record, .readers = everyone, .of = "structure_step"},
    Field{.name = "older", .label = "Frame before it", .type = record, .readers = everyone, .of = "face_frame"},
    Field{.name = "new_from_old", .label = "From the frame before", .type = placement, .readers = everyone},
    Field{
        .name = "reference", .label = "Reference photograph", .type = record, .readers = everyone, .of = "photograph"},
};

constexpr std::string_view seen_words = "recorded none-found illegible not-looked";

constexpr std::array survey_fields{
    Field{.name = "surveyed_on",
          .label = "Surveyed on",
          .type = date,
          .readers = everyone,
          .required = true,
          .happened = true},
    Field{
        .name = "surveyor", .label = "Surveyed by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "face", .label = "Face", .type = word, .readers = everyone, .words = face_words, .required = true},
    Field{.name = "condition",
          .label = "Condition in a word",
          .type = word,
          .readers = everyone,
          .words = "good fair poor unstable"},
    Field{.name = "loose_paint",
          .label = "Loose paint",
          .type = word,
          .readers = everyone,
          .words = "mapped none-found not-looked"},
    // Asked of the back and the edges before anything covers them.
    Field{.name = "inscriptions", .label = "Inscriptions", .type = word, .readers = bench, .words = seen_words},
    Field{.name = "stamps", .label = "Stamps and seals", .type = word, .readers = bench, .words = seen_words},
    Field{.name = "labels", .label = "Labels", .type = word, .readers = bench, .words = seen_words},
    Field{.name = "nail_holes", .label = "Nail holes", .type = word, .readers = bench, .words = seen_words},
    Field{.name = "transmitted_light",
          .label = "Against the light",
          .type = word,
          .readers = bench,
          .words = "photographed opaque not-tried"},
    Field{.name = "summary", .label = "Summary", .type = long_text, .readers = everyone, .searched = true},
    Field{.name = "not_possible_because", .label = "Not possible because", .readers = bench, .searched = true},
    Field{.name = "note", .label = "Note for the bench", .type = long_text, .readers = bench, .searched = true},
};

constexpr std::array finding_fields{
    Field{
        .name = "face_frame", .label = "On", .type = record, .readers = everyone, .required = true, .of = "face_frame"},
    Field{.name = "region", .label = "Place", .type = FieldType::region, .readers = everyone, .required = true},
    Field{.name = "layer",
          .label = "Layer",
          .type = word,
          .readers = everyone,
          .words = "support auxiliary-support ground paint varnish surface frame",
          .required = true},
    Field{.name = "term", .label = "What it is", .readers = everyone, .searched = true, .required = true},
    Field{.name = "unstable", .label = "Unstable", .type = flag, .readers = everyone},
    Field{.name = "water_sensitive", .label = "Sensitive to water", .type = flag, .readers = bench},
    Field{.name = "consolidated_on", .label = "Consolidated on", .type = date, .readers = everyone, .happened = true},
    Field{
        .name = "severity", .label = "Severity", .type = word, .readers = everyone, .words = "slight moderate severe"},
    Field{.name = "text", .label = "Description", .type = long_text, .readers = everyone, .searched = true},
    Field{.name = "note", .label = "Note for the bench", .type = long_text, .readers = bench, .searched = true},
};

constexpr std::array facing_fields{
    Field{.name = "face_frame",
          .label = "On",
          .type = record,
          .readers = bench | Reader::carrier,
          .required = true,
          .of = "face_frame"},
    Field{.name = "region",
          .label = "Zone",
          .type = FieldType::region,
          .readers = bench | Reader::carrier,
          .required = true},
    Field{.name = "tissue", .label = "Tissue", .readers = bench | Reader::carrier, .searched = true},
    Field{.name = "adhesive", .label = "Adhesive", .readers = bench | Reader::carrier, .searched = true},
    Field{.name = "tried_there", .label = "Tried there first", .type = flag, .readers = bench},
    Field{.name = "tried_by", .label = "Tried by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "comes_off_with", .label = "Comes off with", .readers = bench | Reader::carrier, .searched = true},
    Field{.name = "laid_on", .label = "Laid on", .type = date, .readers = bench | Reader::carrier},
    Field{.name = "laid_by", .label = "Laid by", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "removed_on",
          .label = "Removed on",
          .type = date,
          .readers = bench | Reader::carrier,
          .happened = true},
};

constexpr std::array picture_frame_fields{
    Field{.name = "description", .label = "Frame", .type = long_text, .readers = everyone, .searched = true},
    Field{.name = "sight_width_mm", .label = "Sight width", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "sight_height_mm", .label = "Sight height", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "rebate_depth_mm", .label = "Rebate depth", .type = number, .readers = everyone, .unit = "mm"},
    // What has to go through a door and into a case.
    Field{.name = "outer_width_mm", .label = "Outer width", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "outer_height_mm", .label = "Outer height", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "outer_depth_mm", .label = "Depth in all", .type = number, .readers = everyone, .unit = "mm"},
    Field{.name = "weight_kg", .label = "Weight, framed", .type = number, .readers = everyone, .unit = "kg"},
    Field{.name = "glazing", .label = "Glazing", .readers = everyone},
    Field{.name = "backboard", .label = "Backboard", .readers = everyone},
    Field{.name = "fixings", .label = "Fixings", .readers = everyone},
    Field{.name = "protected_material",
          .label = "Protected material",
          .type = word,
          .readers = everyone,
          .words = answer_words},
};

constexpr std::array inscription_fields{
    Field{.name = "face_frame",
          .label = "On",
          .type = record,
          .readers = told_outside,
          .required = true,
          .of = "face_frame"},
    Field{.name = "region", .label = "Place", .type = FieldType::region, .readers = told_outside},
    Field{.name = "kind",
          .label = "Sort",
          .type = word,
          .readers = told_outside,
          .words = "signature inscription stamp label seal chalk-mark number",
          .required = true},
    Field{.name = "transcription",
          .label = "Transcription",
          .type = long_text,
          .readers = told_outside,
          .searched = true},
    Field{.name = "reading",
          .label = "How sure the reading is",
          .type = word,
          .readers = told_outside,
          .words = "certain probable doubtful illegible"},
    Field{.name = "meaning", .label = "What it tells", .type = long_text, .readers = told_outside, .searched = true},
    Field{.name = "photograph", .label = "Photograph", .type = record, .readers = told_outside, .of = "photograph"},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
};

}  // namespace

const Kind face_frame{"face_frame", "face in millimetres", "faces in millimetres", 1, frame_fields};
const Kind survey{"survey", "survey", "surveys", 1, survey_fields};
const Kind finding{"finding", "finding", "findings", 1, finding_fields};
const Kind facing{"facing", "facing", "facings", 1, facing_fields};
const Kind picture_frame{"picture_frame", "picture frame", "picture frames", 1, picture_frame_fields};
const Kind inscription{"inscription", "inscription", "inscriptions", 1, inscription_fields};

}  // namespace tedge::casebook::kinds
