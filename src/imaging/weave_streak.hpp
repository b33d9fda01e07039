// Which way the threads run, whatever the weave: no two threads are alike in thickness, tone and place, and what
// differs from thread to thread leaves power all along the direction in which threads are counted, between the peaks
// too. Twill lines, checks and other things that the weave makes leave peaks, but no such streak.
#pragma once

#include "weave_spectrum.hpp"

namespace tedge::imaging {

class Streaks {
public:
    explicit Streaks(const PowerSpectrum& spectrum);

    // How far the power between the peaks in a direction stands above that beside it, as a logarithm: 0 to 2.
    [[nodiscard]] double along(Frequency direction) const;

private:
    static constexpr int directions = 180;
    std::vector<double> above_;
};

}  // namespace tedge::imaging
