#include "tedge/casebook/raking.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/number_text.hpp"

namespace tedge::casebook {

Expected<void> check_raking(const Body& photograph) {
    const bool says_side = photograph.has("raking_side");
    if (photograph.text_or("light") == "raking" || (!says_side && !photograph.has("raking_angle_degrees"))) return {};
    return fail("photograph.not-raking",
                fmt::format("Only raking light has a side and an angle; this photograph is in {} light.",
                            photograph.text_or("light", "no named")),
                "Say that the light is raking, or leave side and angle out.",
                {{"field", says_side ? "raking_side" : "raking_angle_degrees"}});
}

std::string light_in_words(const Body& photograph) {
    std::string words = photograph.text_or("light") + " light";
    std::string side = photograph.text_or("raking_side");
    std::ranges::replace(side, '-', ' ');
    if (!side.empty()) words += " from the " + side;
    if (const auto angle = photograph.number("raking_angle_degrees")) words += " at " + format_number(*angle) + "°";
    return words;
}

}  // namespace tedge::casebook
