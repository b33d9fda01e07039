// The kinds of record, each a table in one of the files beside this one.
#pragma once

#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook::kinds {

extern const Kind picture_case, person;                                             // people_and_case.cpp
extern const Kind lot, viewing_note, ceiling, purchase, cost_line;                  // money.cpp
extern const Kind quality_note, comparable;                                         // judgement.cpp
extern const Kind payment, share, commission, sale, picture_return, house;          // accounts.cpp
extern const Kind duty, suspicion;                                                  // duties.cpp
extern const Kind custody, deadline;                                                // whereabouts.cpp
extern const Kind face_frame, survey, finding, facing, picture_frame, inscription;  // survey.cpp
extern const Kind photograph, shot_wanted, registration, measurement;               // photographs.cpp
extern const Kind derived_picture, cleaning_forecast;                               // derived_pictures.cpp
extern const Kind trial, treatment_step, structure_step;                            // treatment.cpp
extern const Kind provenance_link, attribution_claim;                               // research.cpp
extern const Kind document, gate_override;                                          // papers.cpp

// Words shared by several fields; the command line uses them too.
inline constexpr std::string_view face_words =
    "recto verso edge-top edge-right edge-bottom edge-left frame-front frame-back";
inline constexpr std::string_view light_words =
    "normal cross-polarised specular raking ultraviolet infrared transmitted";
// Where the lamp stood that rakes, as one looks at the face.
inline constexpr std::string_view raking_side_words =
    "left right top bottom top-left top-right bottom-left bottom-right";
inline constexpr std::string_view stage_words =
    "saleroom as-received before-facing faced facing-off unframed trials half-cleaned cleaned lined filled retouched "
    "varnished framed";
inline constexpr std::string_view duty_words =
    "export import resale-right money-laundering sanctions bidding-agreement joint-purchase cancellation "
    "protected-material register-search 1933-1945";
inline constexpr std::string_view answer_words = "yes no not-seen";
// Why something was not seen, beside that answer.
inline constexpr std::string_view not_seen_words = "framed sealed refused not-asked";
// Acts that cost money, by which costs are estimated and past cases compared.
inline constexpr std::string_view treatment_words =
    "surface-cleaning varnish-removal consolidation lining stretcher filling-retouching varnishing frame carriage "
    "storage insurance photography research other";

// Fields beside an amount in another currency than the accounts are kept in: one unit of the amount's currency counts
// for `rate` of the currency `rate_to` (ISO 4217), as it was used on that day.
inline constexpr Field rate_to{.name = "rate_to", .label = "Converted into"};
inline constexpr Field rate{
    .name = "rate", .label = "Rate used", .type = FieldType::number, .unit = "for one of the amount's currency"};
inline constexpr Field rate_on{.name = "rate_on", .label = "Rate of the day", .type = FieldType::date};
inline constexpr Field rate_source{.name = "rate_source", .label = "Source of the rate"};
inline constexpr Field due_on{.name = "due_on", .label = "Due on", .type = FieldType::date};

// Parts of maps: "answers" of a viewing note, "terms" of a lot.
extern const std::span<const Field> viewing_questions;  // viewing_questions.cpp
extern const std::span<const Field> sale_terms;         // sale_terms.cpp

}  // namespace tedge::casebook::kinds
