// Work that goes through a picture row by row.
#pragma once

#include "tedge/base/progress.hpp"

namespace tedge::imaging {

// Every few rows: reports that `what` is at this row, and answers true when the work shall stop.
[[nodiscard]] inline bool stopped_at_row(const Progress& progress, int row, int rows, const char* what) {
    constexpr int rows_between_looks = 64;
    if (row % rows_between_looks != 0) return false;
    progress.at(static_cast<double>(row) / rows, what);
    return progress.stopped();
}

}  // namespace tedge::imaging
