// Pictures made from photographs and kept, each with the recipe that makes it again.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

using enum FieldType;

constexpr std::array<Field, 10> fields_for(Readers readers, std::string_view words) {
    return {
        Field{
            .name = "what", .label = "What it is", .type = word, .readers = readers, .words = words, .required = true},
        Field{.name = "sha256",
              .label = "File",
              .type = FieldType::sha256,
              .readers = readers,
              .required = true,
              .from_file = true},
        Field{.name = "media_type", .label = "Sort of file", .readers = readers, .required = true, .from_file = true},
        Field{.name = "width_px",
              .label = "Width",
              .type = integer,
              .readers = readers,
              .unit = "px",
              .required = true,
              .from_file = true},
        Field{.name = "height_px",
              .label = "Height",
              .type = integer,
              .readers = readers,
              .unit = "px",
              .required = true,
              .from_file = true},
        // By the id of each photograph, what it was taken for.
        Field{.name = "from_photographs",
              .label = "From photographs",
              .type = values,
              .readers = readers,
              .required = true,
              .from_file = true},
        // Method, parameters and digests of the files: what makes the same bytes again.
        Field{.name = "recipe",
              .label = "How it was made",
              .type = values,
              .readers = readers,
              .required = true,
              .from_file = true},
        Field{.name = "face_frame", .label = "Placed on", .type = record, .readers = readers, .of = "face_frame"},
        Field{.name = "face_from_picture", .label = "Placement", .type = placement, .readers = readers},
        Field{.name = "caption", .label = "Caption", .readers = readers, .searched = true},
    };
}

constexpr auto derived_picture_fields =
    fields_for(told_outside, "difference relief-change crack-map crack-change weave-map legibility comparison");
// What may yet be seen is never told to a buyer: he would take it for a promise.
constexpr auto cleaning_forecast_fields = fields_for(bench, "forecast uncertainty");

}  // namespace

const Kind derived_picture{"derived_picture", "derived picture", "derived pictures", 1, derived_picture_fields};
const Kind cleaning_forecast{"cleaning_forecast", "cleaning forecast", "cleaning forecasts", 1,
                             cleaning_forecast_fields};

}  // namespace tedge::casebook::kinds
