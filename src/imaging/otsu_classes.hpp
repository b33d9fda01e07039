// Is there an upper class among values, and where does the rest lie?
#pragma once

#include <vector>

namespace tedge::imaging {

struct UpperClass {
    double low = 0.0;            // median of what is not in the upper class
    double low_deviation = 0.0;  // its standard deviation, by its median absolute deviation
    bool separate = false;       // an upper class stands apart; otherwise low is the median of all
    double threshold = 0.0;      // that of Otsu
    double high = 0.0;           // median of the upper class
};

struct Spread {
    double median = 0.0;
    double deviation = 0.0;  // by the median absolute deviation, as of a normal distribution
};
// `values` must not be empty.
[[nodiscard]] Spread spread_of(std::vector<float> values);

// By the threshold of Otsu; apart when the medians of both classes lie four deviations of the lower one away from each
// other. `values` must not be empty.
[[nodiscard]] UpperClass upper_class_of(std::vector<float> values);

}  // namespace tedge::imaging
