// How the two sets of threads of a weave pass over and under one another, as its spectrum tells it.
//
// Every thread of these weaves runs as its neighbour does, only shifted, so the two halves, thirds or quarters of a
// repeat look the same along either axis: light on the axes stands at whole threads, and the repeat shows beside the
// axes alone, at (k / n, l / n) of the two counts. Which k and l, is the kind.
#pragma once

#include <array>
#include <string_view>

namespace tedge::imaging {

enum class WeaveKind {
    plain,                // n = 2, k + l even
    twill_of_three,       // n = 3, k - l a multiple of 3: two over, one under, or the other way round
    twill_of_three_left,  // its mirror image
    twill_of_four,        // n = 4, k - l a multiple of 4: two and two, three and one
    twill_of_four_left,
    both_ways,     // n = 4, k and l both odd, or both even: basket weave, and twill that turns back (herringbone)
    pairs_across,  // n = 4, k odd and l twice odd: set a runs in pairs
    pairs_down,    // the same of set b
};

inline constexpr std::array all_weave_kinds{
    WeaveKind::plain,         WeaveKind::twill_of_three,     WeaveKind::twill_of_three_left,
    WeaveKind::twill_of_four, WeaveKind::twill_of_four_left, WeaveKind::both_ways,
    WeaveKind::pairs_across,  WeaveKind::pairs_down};

[[nodiscard]] int repeat_of(WeaveKind kind);               // n
[[nodiscard]] bool belongs(WeaveKind kind, int k, int l);  // multiples of n belong to every kind
[[nodiscard]] double places_in_a_cell(WeaveKind kind);     // of the counts' own lattice
[[nodiscard]] double kind_costs(WeaveKind kind);  // in logarithms of contrast: canvas is seldom other than plain

}  // namespace tedge::imaging
