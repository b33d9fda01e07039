// What the desk measures, each by its use case, and what it says when it is done beside the figures on record.
#pragma once

#include <filesystem>

#include "photographs/measuring.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/measure_scale.hpp"

namespace tedge::desk {

// Without corners the chart is looked for.
[[nodiscard]] MeasureOne chart_measured(const std::optional<imaging::ChartCorners>& corners_px);
// One act for all of them: a photograph of a chart taken apart, or the measurement of one that was measured before.
[[nodiscard]] MeasureOne session_chart_measured(const Uuid& case_id, const std::filesystem::path& chart,
                                                const std::vector<Uuid>& photographs);
[[nodiscard]] MeasureOne session_chart_named(const Uuid& measurement, const std::vector<Uuid>& photographs);
// In the box between two opposite corners.
[[nodiscard]] MeasureOne edge_measured(PointPx from, PointPx to);
// In the box between two opposite corners, which is of one tone.
[[nodiscard]] MeasureOne noise_measured(PointPx from, PointPx to);
// By a ruler, or by the size of the face.
[[nodiscard]] MeasureOne scale_measured(const std::optional<usecases::RulerSeen>& ruler);
// One act for all of them: a photograph of the board, or the measurement of one that was measured before.
[[nodiscard]] MeasureOne board_measured(const Uuid& case_id, const std::filesystem::path& board,
                                        const std::vector<Uuid>& photographs);
[[nodiscard]] MeasureOne board_named(const Uuid& measurement, const std::vector<Uuid>& photographs);

}  // namespace tedge::desk
