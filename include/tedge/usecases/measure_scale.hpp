// Pixels per millimetre of a photograph, by a ruler in it or by the picture's own size.
#pragma once

#include <optional>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/imaging/picture_scale.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

// Two marks of a ruler in the plane of the picture, as a person points at them.
struct RulerSeen {
    PointPx from{};
    PointPx to{};
    double length_mm = 0.0;  // between the two
    double tick_mm = 1.0;    // from tick to tick
};

struct MeasuredScale {
    Done done;  // the measurement: px/mm, with how far off it may be
    imaging::PictureScale scale;
    // By a ruler, where the photograph is placed as well: how much longer the ruler is on the face than it says, in
    // percent. The face's size was measured with another ruler; a few per mille are a telling agreement.
    std::optional<double> placement_off_percent;
    std::vector<imaging::ToleranceLine> tolerances;  // of placement_off_percent, as an error of the scale
};

// With a ruler its two points and, where they are seen, its ticks tell; without one the sides of the face, as the
// photograph is placed (the mean of both directions). Recorded as a measurement.
// Errors: photograph.not-a-photograph, casebook.deleted-record, photograph.not-placed (no ruler and no placement),
// those of read_picture, linear_picture and picture_scale.hpp, and the casebook's.
[[nodiscard]] Expected<MeasuredScale> measure_scale(const Acting& acting, const Uuid& photograph,
                                                    const std::optional<RulerSeen>& ruler = {},
                                                    const Progress& progress = {});

}  // namespace tedge::usecases
