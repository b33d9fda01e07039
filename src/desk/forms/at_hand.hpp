// What a form of the bench puts within reach: the fields asked first, and texts to take by one touch.
#pragma once

#include <QStringList>
#include <string_view>
#include <vector>

#include "forms/typed_value.hpp"

namespace tedge::desk {

// Names of the fields that are asked first, in that order; the others wait behind one button. Empty: all of them.
[[nodiscard]] std::vector<std::string_view> asked_first(std::string_view kind);

// What the button is called behind which those wait.
[[nodiscard]] QString name_of_the_others(std::string_view kind);

// Days that are set ahead when they are written down: what falls due, what ends. Today is never meant there.
[[nodiscard]] bool lies_ahead(std::string_view kind, std::string_view field);

// How something is typed there, in the size of what is measured: "12, 1.2 cm, 1/2 in" of a rebate; "" where it is
// plain.
[[nodiscard]] QString example_of(const casebook::Field& field);

// Common practice and what was written there before in this case.
[[nodiscard]] QStringList offered_for(const casebook::Field& field, const FormContext& context);

}  // namespace tedge::desk
