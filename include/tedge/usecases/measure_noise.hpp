// How noisy a photograph is, by a part of it that is of one tone.
#pragma once

#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/imaging/patch_noise.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct MeasuredNoise {
    Done done;  // the measurement: standard deviation of L*
    imaging::PatchNoise noise;
    std::vector<imaging::ToleranceLine> tolerances;
};

// Reads the original (a raw file in the camera's own colours) and records the figure. The patch is a grey one of a
// chart, a card or a board; paint is not of one tone. Errors: photograph.not-a-photograph, casebook.deleted-record,
// those of read_picture, chart_picture and patch_noise, and the casebook's.
[[nodiscard]] Expected<MeasuredNoise> measure_noise(const Acting& acting, const Uuid& photograph,
                                                    const imaging::BoxPx& patch, const Progress& progress = {});

}  // namespace tedge::usecases
