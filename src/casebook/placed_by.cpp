#include "tedge/casebook/placed_by.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "tedge/base/digest.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::casebook {

namespace {

constexpr const char* photographs_field = "face_from_photo";
constexpr std::string_view name_in_it = "face_from_photo/registration";

bool laid(const Record& registration, const Record& photograph) {
    return registration.kind == "registration" && registration.body.flag("usable") &&
           registration.body.record("moving") == photograph.id;
}

// Placements of older programs do not name theirs.
const Record* registration_by_error(const std::vector<const Record*>& registrations, const Record& photograph) {
    const auto placement = photograph.body.placement(photographs_field);
    if (!placement) return nullptr;
    const Record* newest = nullptr;
    for (const Record* each : registrations)
        if (laid(*each, photograph) &&
            std::abs(each->body.number("error_mm").value_or(-1.0) - placement->error_mm) <= 1e-9)
            newest = each;
    return newest;
}

}  // namespace

std::string_view placement_field(const Record& picture) {
    return is_made_picture(picture.kind) ? "face_from_picture" : photographs_field;
}

std::optional<Placement> own_placement(const Record& picture) {
    return picture.body.placement(placement_field(picture));
}

FieldValues& place_by(FieldValues& values, const Placement& face_from_photo, const Uuid& registration) {
    FieldValues without;
    without.placement(photographs_field, face_from_photo);
    nlohmann::json written = without.set_values().at(photographs_field);
    written["registration"] = to_text(registration);
    return values.value(photographs_field, written);
}

bool names_registration(const Record& photograph) {
    return photograph.body.has(name_in_it);
}

std::optional<Uuid> registration_named(const Record& photograph) {
    return photograph.body.record(name_in_it);
}

std::string placement_digest(const Record& photograph) {
    if (!photograph.body.has(photographs_field)) return "";
    return to_hex(sha256(photograph.body.as_json().at(photographs_field).dump()));
}

const Record* registration_it_lies_by(const std::vector<const Record*>& registrations, const Record& photograph) {
    if (!names_registration(photograph)) return registration_by_error(registrations, photograph);
    const auto named = std::ranges::find(registrations, registration_named(photograph).value_or(Uuid{}), &Record::id);
    return named != registrations.end() && laid(**named, photograph) ? *named : nullptr;
}

bool reference_lies_still(const Record& registration, const Record& reference) {
    const std::string now = placement_digest(reference);
    return registration.body.text_or("reference_placed", now) == now;
}

}  // namespace tedge::casebook
