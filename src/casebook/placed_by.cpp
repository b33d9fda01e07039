#include "tedge/casebook/placed_by.hpp"

#include <nlohmann/json.hpp>

#include "tedge/casebook/photograph_words.hpp"

namespace tedge::casebook {

namespace {

constexpr const char* photographs_field = "face_from_photo";
constexpr std::string_view name_in_it = "face_from_photo/registration";

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

}  // namespace tedge::casebook
