// What keeps a map of colour differences: where it lies, what it comes from, and the recipe that makes it again.
#pragma once

#include "change_evidence.hpp"
#include "placed_pair.hpp"
#include "tedge/usecases/map_colour_difference.hpp"

namespace tedge::usecases {

// Writes `picture` and `recipe` of a map that is otherwise complete.
void say_how_made(casebook::Casebook& book, const PlacedPair& pair, const ChartsOfPair& charts,
                  ColourDifferenceMap& map);

// Of two that lie too loosely on each other for any difference to be evidence.
[[nodiscard]] std::string too_loose_sentence(double error_mm);

// What is recorded or kept of a map is a change, and evidence of one. Errors: colour-difference.too-loose,
// photograph.light-guessed, photograph.wrong-way-round, those of existing_photograph.
[[nodiscard]] Expected<void> check_is_evidence(const Acting& acting, const Uuid& reference, const Uuid& second,
                                               const ColourDifferenceMap& map);

}  // namespace tedge::usecases
