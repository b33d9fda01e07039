// The thickness of a coat between the places where it is known: a Gaussian process, averaged over how much and over
// what length it may vary (Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, chapters 2 and 5;
// from memory).
#pragma once

#include <vector>

#include "tedge/geometry/coordinates.hpp"

namespace tedge::imaging {

struct KnownThickness {
    PointPx at;
    double thickness = 1.0;
    double sd = 0.0;
};

struct ThicknessThere {
    double thickness = 1.0;
    double sd = 0.0;
};

class ThicknessField {
public:
    // longest_side_px: of the picture; lengths are shares of it.
    ThicknessField() = default;
    ThicknessField(std::vector<KnownThickness> known, double longest_side_px);
    [[nodiscard]] ThicknessThere at(PointPx place) const;
    // How much it varies over the picture, one standard deviation, averaged over what is likely.
    [[nodiscard]] double variation() const;

private:
    struct Kind {
        double deviation = 0.0;
        double length_px = 0.0;
        double likely = 0.0;
        std::vector<double> inverse;  // of the covariance of what is known, row by row
        std::vector<double> pull;     // inverse · (known - mean)
    };
    [[nodiscard]] double likelihood(Kind& kind) const;

    std::vector<KnownThickness> known_;
    std::vector<Kind> kinds_;
};

}  // namespace tedge::imaging
