#include "weave_kind.hpp"

namespace tedge::imaging {
namespace {

bool divides(int n, int k) {
    return k % n == 0;
}

bool odd(int k) {
    return k % 2 != 0;
}

}  // namespace

int repeat_of(WeaveKind kind) {
    switch (kind) {
        case WeaveKind::plain:
            return 2;
        case WeaveKind::twill_of_three:
        case WeaveKind::twill_of_three_left:
            return 3;
        default:
            return 4;
    }
}

bool belongs(WeaveKind kind, int k, int l) {
    const int n = repeat_of(kind);
    if (divides(n, k) && divides(n, l)) return true;
    switch (kind) {
        case WeaveKind::plain:
        case WeaveKind::twill_of_three:
        case WeaveKind::twill_of_four:
            return divides(n, k - l);
        case WeaveKind::twill_of_three_left:
        case WeaveKind::twill_of_four_left:
            return divides(n, k + l);
        case WeaveKind::both_ways:
            return (odd(k) && odd(l)) || (divides(2, k) && divides(2, l) && odd(k / 2) && odd(l / 2));
        case WeaveKind::pairs_across:
            return odd(k) && divides(2, l) && odd(l / 2);
        case WeaveKind::pairs_down:
            return odd(l) && divides(2, k) && odd(k / 2);
    }
    return false;
}

double places_in_a_cell(WeaveKind kind) {
    const int n = repeat_of(kind);
    int places = 0;
    for (int k = 0; k < n; ++k)
        for (int l = 0; l < n; ++l) places += belongs(kind, k, l) ? 1 : 0;
    return places;
}

double kind_costs(WeaveKind kind) {
    constexpr double twill = 3.0, rarer = 5.0;
    switch (kind) {
        case WeaveKind::plain:
            return 0.0;
        case WeaveKind::both_ways:
        case WeaveKind::pairs_across:
        case WeaveKind::pairs_down:
            return rarer;
        default:
            return twill;
    }
}

}  // namespace tedge::imaging
