#include "colour_light.hpp"

#include <fmt/format.h>

#include "tedge/casebook/photograph_words.hpp"
#include "tedge/usecases/guessed_light.hpp"

namespace tedge::usecases {

using casebook::Record;

// The reasons stand one after another, "face: recto, the name says front; light: normal, nothing says otherwise"
// (in_words of photograph_guess.hpp): what is not among them somebody had said.
std::optional<std::string> why_light_was_guessed(const Record& photograph) {
    if (!photograph.body.flag("guessed")) return std::nullopt;
    const std::string why = photograph.body.text_or("guessed_why");
    if (why.empty()) return "no reason is kept";
    for (std::size_t from = 0; from < why.size();) {
        const std::size_t end = std::min(why.find("; ", from), why.size());
        const std::string part = why.substr(from, end - from);
        if (part.starts_with("light: ")) {
            const std::size_t comma = part.find(", ");
            return comma == std::string::npos ? part : part.substr(comma + 2);
        }
        from = end + 2;
    }
    return std::nullopt;
}

std::string guessed_light_sentence(const Record& photograph, std::string_view which) {
    const auto why = why_light_was_guessed(photograph);
    if (!why) return {};
    return fmt::format("That the light of {} is {} was only guessed ({}), and nobody has confirmed it.", which,
                       photograph.body.text_or("light"), *why);
}

Expected<void> check_shows_colour(const Record& photograph) {
    const std::string light = photograph.body.text_or("light");
    if (casebook::shows_colour(light)) return {};
    const std::string guessed = guessed_light_sentence(photograph, "this photograph");
    return fail("photograph.no-colour-light",
                fmt::format("A photograph in {} light does not show what colour the surface has.{}{}", light,
                            guessed.empty() ? "" : " ", guessed),
                guessed.empty() ? std::string("Choose photographs in normal or cross-polarised light.")
                                : "Say which light it was where that is wrong; else choose photographs in normal or "
                                  "cross-polarised light.",
                {{"light", light}});
}

}  // namespace tedge::usecases
