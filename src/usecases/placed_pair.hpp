// Two photographs of one face, both placed: what is compared, or learnt from.
#pragma once

#include "placed_photograph.hpp"

namespace tedge::usecases {

// As they are recorded, both on the frame of the first.
struct PlacedPair {
    PlacedPhotograph first;
    PlacedPhotograph second;
    casebook::CaseSnapshot snapshot;
    Uuid frame;
    SizeMm face;
    // One standard deviation of where the two lie on each other: by the registrations that join them, otherwise both
    // placements in quadrature.
    double error_mm = 0.0;
    bool registered = false;
};

// Errors: photograph.same (one photograph twice), photograph.other-case, photograph.other-face, those of
// placed_photograph.
[[nodiscard]] Expected<PlacedPair> placed_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second);

// Errors: photograph.same, photograph.other-case.
[[nodiscard]] Expected<void> check_two_of_one_case(const casebook::Record& first, const casebook::Record& second);

// A change is told from the earlier to the later: refused where the stages of the two say the opposite. Stages that
// are alike, or words of a newer program, say nothing. Errors: photograph.wrong-way-round.
[[nodiscard]] Expected<void> check_order(const casebook::Record& before, const casebook::Record& after);

}  // namespace tedge::usecases
