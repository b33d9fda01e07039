#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array photograph_fields{
    Field{.name = "face", .label = "Face", .type = word, .readers = everyone, .words = face_words, .required = true},
    Field{.name = "light", .label = "Light", .type = word, .readers = everyone, .words = light_words, .required = true},
    // Raking light only (raking.hpp): an angle of 0 lies in the picture's plane.
    Field{.name = "raking_side",
          .label = "Raking light from",
          .type = word,
          .readers = everyone,
          .words = raking_side_words},
    Field{.name = "raking_angle_degrees",
          .label = "Raking at",
          .type = number,
          .readers = everyone,
          .unit = "° to the surface"},
    Field{.name = "stage", .label = "When", .type = word, .readers = everyone, .words = stage_words, .required = true},
    Field{.name = "sha256",
          .label = "File",
          .type = FieldType::sha256,
          .readers = everyone,
          .required = true,
          .from_file = true},
    Field{.name = "media_type", .label = "Sort of file", .readers = everyone, .from_file = true},
    Field{.name = "width_px", .label = "Width", .type = integer, .readers = everyone, .unit = "px", .from_file = true},
    Field{
        .name = "height_px", .label = "Height", .type = integer, .readers = everyone, .unit = "px", .from_file = true},
    Field{.name = "face_frame", .label = "Placed on", .type = record, .readers = everyone, .of = "face_frame"},
    Field{.name = "face_from_photo", .label = "Placement", .type = placement, .readers = everyone},
    // Face, light, stage or lamp stand as the program guessed them, for the reasons beside; a person who says one of
    // them, or confirms them, takes the mark away.
    Field{.name = "guessed", .label = "Guessed, not confirmed", .type = flag, .readers = bench},
    Field{.name = "guessed_why", .label = "Why it was guessed so", .from_file = true},
    // The highest number of its face is what a case and the rack show.
    Field{.name = "shown_first", .label = "Shown first of its face, highest number", .type = integer},
    Field{.name = "has_scale", .label = "Scale in the picture", .type = flag, .readers = everyone},
    Field{.name = "has_chart", .label = "Colour chart in the picture", .type = flag, .readers = everyone},
    // The measurement of an even board photographed in the same session: how the light fell there.
    Field{.name = "even_board", .label = "Even board of its session", .type = record, .of = "measurement"},
    // The measurement of a colour chart photographed in the same session, or in another photograph of it.
    Field{.name = "session_chart", .label = "Colour chart of its session", .type = record, .of = "measurement"},
    Field{.name = "taken_at", .label = "Taken", .readers = everyone},  // as the camera wrote it, without a zone
    Field{.name = "camera", .label = "Camera", .readers = bench, .searched = true},
    Field{.name = "lens", .label = "Lens", .readers = bench, .searched = true, .from_file = true},
    Field{.name = "exposure", .label = "Exposure", .readers = bench, .from_file = true},
    // What people wrote into the file (Exif, XMP, IPTC): it may name anybody, and nobody chose to tell it outside.
    Field{.name = "file_author", .label = "Author by the file", .personal = true, .searched = true, .from_file = true},
    Field{.name = "file_copyright",
          .label = "Copyright by the file",
          .personal = true,
          .searched = true,
          .from_file = true},
    Field{
        .name = "file_caption", .label = "Caption in the file", .personal = true, .searched = true, .from_file = true},
    Field{.name = "file_words",
          .label = "Other words in the file",
          .type = long_text,
          .personal = true,
          .searched = true,
          .from_file = true},
    // The place itself stays in the original.
    Field{.name = "file_tells_place", .label = "File says where it was taken", .type = flag, .from_file = true},
    Field{
        .name = "file_name", .label = "File name as received", .readers = only_own, .personal = true, .searched = true},
    Field{
        .name = "author", .label = "Photographer", .type = record, .readers = bench, .personal = true, .of = "person"},
    Field{.name = "licence", .label = "Licence", .readers = everyone},
    // What the reader said of it.
    Field{.name = "damaged", .label = "File is damaged", .readers = bench, .from_file = true},
    // What reading the file left out or took to be so: further pages, a colour profile of no use. A line each.
    Field{.name = "read_notes",
          .label = "Said while reading the file",
          .type = long_text,
          .readers = bench,
          .from_file = true},
    Field{.name = "caption", .label = "Caption", .readers = everyone, .searched = true},
    Field{.name = "note", .label = "Private note", .type = long_text, .searched = true},
};

// What a case says of its shot list: one more that is wanted, or why one is not needed.
constexpr std::array shot_wanted_fields{
    Field{.name = "face", .label = "Face", .type = word, .readers = bench, .words = face_words, .required = true},
    Field{.name = "light", .label = "Light", .type = word, .readers = bench, .words = light_words, .required = true},
    Field{.name = "stage", .label = "When", .type = word, .readers = bench, .words = stage_words, .required = true},
    Field{.name = "note", .label = "What it is to show", .type = long_text, .readers = bench, .searched = true},
    Field{.name = "not_needed", .label = "Not needed, because", .readers = bench, .searched = true},
};

constexpr std::array registration_fields{
    Field{.name = "reference",
          .label = "Reference photograph",
          .type = record,
          .readers = told_outside,
          .required = true,
          .of = "photograph"},
    Field{.name = "moving",
          .label = "Registered photograph",
          .type = record,
          .readers = told_outside,
          .required = true,
          .of = "photograph"},
    Field{.name = "usable", .label = "To be trusted", .type = flag, .readers = told_outside, .required = true},
    Field{.name = "reason", .label = "Why not", .readers = bench},
    Field{.name = "inliers", .label = "Agreeing places", .type = integer, .readers = bench},
    Field{.name = "residual_px", .label = "Residual", .type = number, .readers = bench, .unit = "px"},
    Field{.name = "error_mm", .label = "Error", .type = number, .readers = told_outside, .unit = "mm"},
    // Digest of the placement that the reference had: placed anew since, it lies elsewhere than what was laid over it.
    Field{.name = "reference_placed",
          .label = "Placement of the reference then",
          .readers = told_outside,
          .from_file = true},
    // By place over the reference photograph: cells and their errors.
    Field{.name = "error_grid", .label = "Error by place", .type = values, .readers = told_outside, .from_file = true},
    Field{.name = "method", .label = "Method", .readers = bench},
};

constexpr std::array measurement_fields{
    Field{.name = "what", .label = "What was measured", .readers = told_outside, .searched = true, .required = true},
    Field{.name = "value", .label = "Value", .type = number, .readers = told_outside, .required = true},
    Field{.name = "unit", .label = "Unit", .readers = told_outside, .required = true},
    Field{.name = "uncertainty", .label = "Uncertainty", .type = number, .readers = told_outside},
    Field{.name = "face_frame", .label = "On", .type = record, .readers = told_outside, .of = "face_frame"},
    Field{.name = "region", .label = "Place", .type = region, .readers = told_outside},
    Field{.name = "from_photographs", .label = "From photographs", .type = values, .readers = told_outside},
    // Of a colour chart: model, light, edition, gains and coefficients that take the photograph's colours to true ones.
    Field{.name = "chart_fit", .label = "Correction by the chart", .type = values, .readers = told_outside},
    // What was photographed to be measured and shows nothing of the picture: a board, a target.
    Field{.name = "sha256", .label = "File measured", .type = FieldType::sha256, .from_file = true},
    Field{.name = "note", .label = "Note", .type = long_text, .readers = bench, .searched = true},
};

}  // namespace

const Kind photograph{"photograph", "photograph", "photographs", 1, photograph_fields};
const Kind shot_wanted{"shot_wanted", "wanted photograph", "wanted photographs", 1, shot_wanted_fields};
const Kind registration{"registration", "registration", "registrations", 1, registration_fields};
const Kind measurement{"measurement", "measurement", "measurements", 1, measurement_fields};

}  // namespace tedge::casebook::kinds
