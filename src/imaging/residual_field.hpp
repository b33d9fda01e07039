// The smooth displacement that a homography leaves over, fitted to many small measurements of it.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "residual_field_banded.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/displacement.hpp"

namespace tedge::imaging {

struct FieldObservation {
    PointPx at;       // where the displacement was measured, pixels of the reference
    double dx = 0.0;  // the displacement, pixels of the reference
    double dy = 0.0;
    std::array<double, 3> information{};  // inverse covariance xx, xy, yy, 1 / px²
    // 0 or 1. Tiles that share content must be of one fold, or they would vouch for each other: blocks in a
    // checkerboard.
    int fold = 0;
    // The displacement is a mean under a window: its deviation along x and y, pixels of the reference.
    std::array<double, 2> reach_px{};
};

struct FieldLattice {
    PointMm origin;  // lengths in pixels of the reference
    double spacing = 1.0;
    int columns = 4;
    int rows = 4;
};

// A lattice whose full support covers the picture and a margin, with about `cells` cells along the longer side.
[[nodiscard]] FieldLattice lattice_over(SizePx picture, int cells);

// Regularised least squares: sum of weight·(residual in units of its deviation)² plus (second difference of
// neighbouring coefficients / roughness)². P-splines after Eilers and Marx, Statistical Science 11, 89-121 (1996); from
// memory.
class SmoothingField {
public:
    // Weights one for each observation; roughness in px, the deviation expected of a second difference.
    SmoothingField(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                   const std::vector<double>& weights, double roughness_px);
    // One roughness for each knot, row by row.
    SmoothingField(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                   const std::vector<double>& weights, const std::vector<double>& roughness_px);

    [[nodiscard]] BsplineDisplacement displacement() const;
    // To be called before covariance().
    void invert();
    // Covariance xx, xy, yy of the displacement at a point, if the information given was true.
    [[nodiscard]] std::array<double, 3> covariance(PointPx at) const;

private:
    struct Support;
    [[nodiscard]] Support support(PointPx at) const;
    [[nodiscard]] std::size_t unknown(int column, int row, int component) const;
    void add_observation(const FieldObservation& observation, double weight);
    void add_roughness(const std::vector<double>& roughness_px);

    FieldLattice lattice_;
    bool along_rows_;
    BandedMatrix matrix_;   // the normal equations, then their factor
    BandedMatrix inverse_;  // empty before invert()
    std::vector<double> solution_;
    std::vector<double> knot_support_;  // sum of the weights of what was observed near each knot
};

// The robust fit: weights fall to nothing for tiles that contradict the others.
struct RobustField {
    BsplineDisplacement displacement;
    std::vector<double> weights;       // one for each observation, 0 to 1
    double scale = 1.0;                // actual deviation over the deviation claimed by the information, at least 1
    double roughness_px = 0.0;         // the one that suits the observations as a whole
    std::vector<double> roughness_of;  // of each knot, row by row: the one that suits those around it
};

// The mean of a displacement under the window of an observation.
[[nodiscard]] PointMm mean_under_window(const BsplineDisplacement& field, const FieldObservation& seen);

// Undoes what windows have smoothed away: every observation is moved by as much as the field at its middle lies beside
// the field's mean under its window, and the field fitted to that with the weights it has; twice over.
void sharpen(const FieldLattice& lattice, const std::vector<FieldObservation>& observations, RobustField& field);

// Chooses the roughness by how well either fold is foretold by the other, once for all and then knot by knot: canvas
// bends more freely at its rim. Empty when there are fewer than 8
// observations, or when progress says stop.
[[nodiscard]] std::optional<RobustField> fit_robust_field(const FieldLattice& lattice,
                                                          const std::vector<FieldObservation>& observations,
                                                          int workers, const Progress& progress = {});

}  // namespace tedge::imaging
