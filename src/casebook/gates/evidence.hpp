// Questions to a case that more than one gate asks.
#pragma once

#include <algorithm>

#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

// The picture as it came, before anything was done to its surface: taken in this state, a photograph is "as found".
[[nodiscard]] bool is_as_found(const Body& photograph);

// Something in the photograph tells its size: a scale in the picture, or its place in millimetres.
[[nodiscard]] bool has_size(const Body& photograph);

// A photograph of which nobody has confirmed what it shows is no evidence: a file's name opens no gate.
template <class Fits>
[[nodiscard]] bool any_photograph(const CaseSnapshot& snapshot, Fits fits) {
    const auto photographs = snapshot.of_kind("photograph");
    return std::ranges::any_of(photographs, [&](const Record* photograph) {
        return !photograph->body.flag("guessed") && fits(photograph->body);
    });
}

[[nodiscard]] bool has_guessed_photograph(const CaseSnapshot& snapshot);

[[nodiscard]] bool is_written(const Body& fields, std::string_view field);  // more than blanks

// Paint that the findings call unstable, that was not consolidated since, in the frame asked for.
struct UnstablePlace {
    const Record* finding = nullptr;
    std::optional<Region> region;  // what is left of it; nothing where the two frames cannot be compared
};
[[nodiscard]] std::vector<UnstablePlace> unstable_places(const CaseSnapshot& snapshot, const Uuid& in_frame);

// The answer of the newest survey of a face that answers the question at all; "" where none does.
[[nodiscard]] std::string newest_answer(const CaseSnapshot& snapshot, std::string_view face, std::string_view question);

}  // namespace tedge::casebook
