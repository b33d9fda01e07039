// A colour chart photographed in a frame of its own, with the camera, lamps and exposure of the photographs of a
// session: measured, and named for those photographs, which are then corrected by it wherever their colours are
// compared. Its photograph shows nothing of the picture, so it is none of the case's photographs: it is kept as the
// file of its measurement. A chart that lies in one of the photographs of the case can be named for the others as well.
//
// That nothing was touched in between is taken from whoever names it; what the files say of camera and exposure is held
// against it. A photograph's own chart, where it has one that was measured, goes before that of its session.
#pragma once

#include <filesystem>
#include <vector>

#include "tedge/usecases/measure_chart.hpp"

namespace tedge::usecases {

struct MeasuredSessionChart {
    Done done;  // the measurement, as measure_chart records it; the same chart measured alike answers the first record
    bool already = false;
    std::string sha256;
    ChartFigures figures;
    std::vector<Done> named;  // for each photograph that it was named for
};

// Measured, recorded and named for these photographs in one act; evened first by the board that they name
// (measure_board.hpp), which must be one and the same. `wanted.board` is not looked at.
// Errors: those of chart_figures and name_chart, and the casebook's.
[[nodiscard]] Expected<MeasuredSessionChart> measure_session_chart(const Acting& acting, const Uuid& case_id,
                                                                   const std::filesystem::path& chart,
                                                                   const std::vector<Uuid>& photographs,
                                                                   const ChartWanted& wanted = {},
                                                                   const Progress& progress = {});

// Says of photographs that this chart stands for their light, camera and exposure. All of them or none.
// Errors: photograph.not-a-photograph, casebook.deleted-record, photograph.no-colour-light,
// session-chart.no-chart (the measurement is of none, or kept nothing that corrects colours),
// session-chart.other-case, session-chart.other-board (it was evened by another board than the photograph, or the
// photographs by several), session-chart.other-developing (a raw file against one that the camera developed),
// session-chart.other-camera, session-chart.other-exposure, those of change_record.
[[nodiscard]] Expected<std::vector<Done>> name_chart(const Acting& acting, const Uuid& measurement,
                                                     const std::vector<Uuid>& photographs);

// The newest measurement of a chart that lies in that photograph, to be named for others. Errors: those of
// existing_photograph, session-chart.no-chart.
[[nodiscard]] Expected<Uuid> measured_chart_of(casebook::Casebook& book, const Uuid& photograph);

}  // namespace tedge::usecases
