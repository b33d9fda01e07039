// How sharp a photograph is, by a slanted edge in it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/imaging/edge_sharpness.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct MeasuredSharpness {
    Done done;  // the measurement: sampling efficiency in percent
    imaging::EdgeSharpness edge;
    imaging::BoxPx edge_in;
    bool found = false;  // by the program (find_edge), not pointed at
    // Where the photograph is placed: pixels a millimetre of the face at the edge, and what half a response carries.
    std::optional<double> px_per_mm;
    std::optional<double> sfr50_cycles_per_mm;
    std::string caution;  // where the response rises above what is there; else ""
    std::vector<imaging::ToleranceLine> tolerances;
};

// Reads the original (a raw file in the camera's own colours) and records the figure. The edge is that of a chart, a
// ruler or a card in the plane of the picture; see edge_sharpness.hpp for what the box may hold. Without a box the best
// edge of the photograph is taken, which may lie on anything in it.
// Errors: photograph.not-a-photograph, casebook.deleted-record, those of read_picture, linear_picture, edge_sharpness
// and find_edge, and the casebook's.
[[nodiscard]] Expected<MeasuredSharpness> measure_sharpness(const Acting& acting, const Uuid& photograph,
                                                            const std::optional<imaging::BoxPx>& edge_in,
                                                            const Progress& progress = {});

}  // namespace tedge::usecases
