// How the light of a picture, or of a part of it, changed as a whole between two photographs.
#pragma once

#include <optional>

#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct WholeChange {
    Lab before{};  // of the mean light
    Lab after{};
    double delta_e00 = 0.0;    // between the two
    double share_above = 0.0;  // of squares of some 20 px, of those whose mean light changed by more than `level`

    // As cleaning makes it: lighter, or less yellow. A lamp turned up looks the same.
    [[nodiscard]] bool is_as_cleaning() const { return after.l > before.l || after.b < before.b; }
};

// Averages of light, in which noise and small misfits go out. `where` has 1 channel: pixels other than 0 count. Nothing
// when none does.
[[nodiscard]] std::optional<WholeChange> whole_change(const Raster8& before_srgb, const Raster8& after_srgb,
                                                      const Raster8& where, double level_delta_e00);

}  // namespace tedge::imaging
