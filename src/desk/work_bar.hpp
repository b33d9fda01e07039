// The bar that tells how far long work is, in thousandths.
#pragma once

#include <QProgressBar>
#include <cmath>

namespace tedge::desk {

inline void begin_work_bar(QProgressBar& bar) {
    bar.setRange(0, 1000);
}

inline void show_work_done(QProgressBar& bar, double fraction) {
    bar.setValue(static_cast<int>(std::lround(fraction * bar.maximum())));
}

}  // namespace tedge::desk
