// Where a photograph lies by its own record, and which registration it lies by. The registration's name stands inside
// the placement ("face_from_photo/registration"), so that whoever places a photograph anew, with any program, takes the
// old name away with the old placement.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

// "face_from_photo", or of a picture made from photographs "face_from_picture".
[[nodiscard]] std::string_view placement_field(const Record& picture);
// On the frame that the record names; nothing where it is not placed.
[[nodiscard]] std::optional<Placement> own_placement(const Record& picture);

// Writes a photograph's placement as that registration gives it. What corners give is written by
// FieldValues::placement and names none.
FieldValues& place_by(FieldValues& values, const Placement& face_from_photo, const Uuid& registration);

// Whether a photograph's placement names one: those of older programs do not.
[[nodiscard]] bool names_registration(const Record& photograph);
[[nodiscard]] std::optional<Uuid> registration_named(const Record& photograph);

// Of where a photograph lies: the field "reference_placed" of a registration. "" for one that is not placed.
[[nodiscard]] std::string placement_digest(const Record& photograph);

// Among those of a case, the usable registration that the photograph lies by: the one its placement names; of a
// placement that names none, the newest that gave the very error that the placement has. nullptr where it was placed
// anew since, by corners or otherwise.
[[nodiscard]] const Record* registration_it_lies_by(const std::vector<const Record*>& registrations,
                                                    const Record& photograph);
// Whether the reference of that registration lies where it lay then.
[[nodiscard]] bool reference_lies_still(const Record& registration, const Record& reference);

}  // namespace tedge::casebook
