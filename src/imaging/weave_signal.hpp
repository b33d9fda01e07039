// What is left of a photograph for counting threads: no slow light or paint, contrast the same everywhere.
#pragma once

#include <cstdint>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

struct WeaveSignal {
    // 32 to one local standard deviation, cut at four deviations: bright cracks and edges of paint must not rule a
    // square, and a byte a pixel holds the largest photograph.
    Raster<std::int8_t> values{};
    int level = 0;             // pixel i stands at (i + 0.5)·2^level − 0.5 of the photograph
    double px_per_cm = 0.0;    // of these pixels
    double gray_levels = 0.0;  // mean local deviation before it was evened out, of 256

    [[nodiscard]] double picture_px(double x) const { return (x + 0.5) * (1 << level) - 0.5; }
};

// Halved until a centimetre has fewer than 192 px: finer detail than that is no thread. Stops early, incomplete, when
// progress says stop.
[[nodiscard]] WeaveSignal weave_signal(PictureView photograph, double px_per_cm, int workers, const Progress& progress);

}  // namespace tedge::imaging
