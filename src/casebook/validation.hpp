// Do the values fit the field table? Asked before anything is written; what comes from elsewhere is only reported.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <optional>

#include "tedge/base/error.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge::casebook {

// Errors: casebook.bad-field with values.field and values.reason.
[[nodiscard]] Expected<void> check_values(const Kind& kind, const FieldValues& values);
// Every record named must be here, and be of the kind that the field says. `kind_of` answers "" for an unknown id.
// Errors: casebook.no-such-record with values.field.
using KindOfRecord = std::function<std::string(const Uuid&)>;
[[nodiscard]] Expected<void> check_references(const Kind& kind, const FieldValues& values, const KindOfRecord& kind_of);
// A record's public and personal fields.
struct Bodies {
    const nlohmann::json& of_all;
    const nlohmann::json& of_persons;
    [[nodiscard]] bool has(const Field& field) const {
        return (field.personal ? of_persons : of_all).contains(field.name);
    }
};
// An act may not leave a required field empty that it found filled, or begin a record without it. A field that was
// erased before does not hold up what is done later. Errors: casebook.missing-field.
[[nodiscard]] Expected<void> check_required(const Kind& kind, const Bodies& after, const std::optional<Bodies>& before);
// What fields one by one cannot say: the size of a picture or face, that a photograph placed on a frame is of its face,
// and that a place lies on the face it names (or on what is folded over its edge). Errors: face.size-out-of-range,
// casebook.other-face, casebook.off-the-face.
using FrameOf = std::function<std::optional<Body>(const Uuid&)>;
[[nodiscard]] Expected<void> check_place(const Kind& kind, const Body& after, const FrameOf& frame_of);
// Why the value at a path does not fit the table, or "".
[[nodiscard]] std::string misfit_at(const Kind& kind, std::string_view path, const nlohmann::json& value);
// Why the value does not fit its field, or "".
[[nodiscard]] std::string misfit(const Field& field, const nlohmann::json& value);

}  // namespace tedge::casebook
