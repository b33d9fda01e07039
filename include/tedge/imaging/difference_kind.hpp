// What of a colour can have changed between two photographs, and how it is called.
//
// All are second minus first, in CIELAB D50 (CIE 15); ΔE00 alone is a size without a sign. Δh is told as the metric hue
// difference ΔH*ab of CIE 15, not as an angle: 2 √(C1 C2) sin((h2 − h1) / 2), in the units of the others and with
// ΔE*ab² = ΔL*² + ΔC*² + ΔH*². A turn of hue weighs as much as it is seen: almost nothing near grey. Its sign is that
// of the turn from red towards yellow.
#pragma once

#include <array>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge::imaging {

enum class DifferenceKind { delta_e00, delta_l, delta_a, delta_b, delta_c, delta_h };

inline constexpr std::array<DifferenceKind, 6> all_difference_kinds{DifferenceKind::delta_e00, DifferenceKind::delta_l,
                                                                    DifferenceKind::delta_a,   DifferenceKind::delta_b,
                                                                    DifferenceKind::delta_c,   DifferenceKind::delta_h};

[[nodiscard]] constexpr bool has_sign(DifferenceKind kind) {
    return kind != DifferenceKind::delta_e00;
}

// "delta-e00", "delta-l", …: the words of the command line.
[[nodiscard]] std::string_view to_text(DifferenceKind kind);
// Errors: colour-difference.unknown-map, naming the six words.
[[nodiscard]] Expected<DifferenceKind> parse_difference_kind(std::string_view text);

[[nodiscard]] std::string_view symbol_of(DifferenceKind kind);  // "ΔE00", "ΔL*", "ΔH*ab"
// What the two ends of a signed map say: "darker" and "lighter". Both empty for ΔE00.
struct DifferenceEnds {
    std::string_view less;
    std::string_view more;
};
[[nodiscard]] DifferenceEnds ends_of(DifferenceKind kind);

}  // namespace tedge::imaging
