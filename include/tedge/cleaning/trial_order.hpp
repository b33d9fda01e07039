// Cleaning trials go from mild to strong.
//
// Common practice: a less polar mixture, of higher fd, is tried before a more polar one (S. Q. Lomax & S. L. Fisher,
// JAIC 29:2 (1990) 181-191, mildest first). fd says so for aged natural resin varnish; a solvent is strong or weak only
// against a given material (C. Stavroudis & S. Blank, WAAC Newsletter 11:2 (1989) 2-10), so the order is a proposal.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "tedge/cleaning/mixture.hpp"

namespace tedge::cleaning {

// Positions in the list, mildest (highest fd) first; equal ones stay in their order.
[[nodiscard]] std::vector<std::size_t> mildest_first(const std::vector<Mixture>& mixtures);

// Whether `next` is stronger than `before` by more than the rounding of published figures (half an fd).
[[nodiscard]] bool is_stronger(const Mixture& next, const Mixture& before);

// The mixture to consider after one that was too weak: the next step of the test series in which it stands (series.hpp,
// first series first); else, of two solvents, ten points more of the stronger one (lower fd), the step of the common
// series by tenths. None at the end of a series, for one solvent outside of all series, and for three or more.
// A proposal, as above: nothing is known of the paint.
[[nodiscard]] std::optional<Mixture> next_stronger(const Mixture& mixture);

}  // namespace tedge::cleaning
