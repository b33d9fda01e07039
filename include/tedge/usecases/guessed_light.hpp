// Whether the light that a photograph is filed under was only guessed. Light decides what its colours mean, so whoever
// compares or measures them says so, and what nobody has confirmed is recorded as no evidence.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tedge/casebook/record.hpp"

namespace tedge::usecases {

// What it was guessed by ("nothing says otherwise"); nothing once a person has said or confirmed it.
[[nodiscard]] std::optional<std::string> why_light_was_guessed(const casebook::Record& photograph);

// "That the light of the first photograph is normal was only guessed (nothing says otherwise), and nobody has confirmed
// it." with `which` "the first photograph"; "" where it was not guessed.
[[nodiscard]] std::string guessed_light_sentence(const casebook::Record& photograph, std::string_view which);
// What to do about it.
inline constexpr std::string_view confirm_light =
    "Confirm it, or say which light it was, on the sheet of the photographs (or by tedge photograph say).";

}  // namespace tedge::usecases
