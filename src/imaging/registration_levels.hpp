// From a first homography to the full map: tiles matched level by level, a smooth field fitted after each.
#pragma once

#include <cmath>
#include <optional>
#include <vector>

#include "registration_gray.hpp"
#include "residual_field.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/registration.hpp"
#include "tile_match.hpp"

namespace tedge::imaging {

// Tiles nearer than this share of their side say the same thing twice.
inline constexpr double nearest_tiles = 0.375;

// One round of tiles.
struct LevelPlan {
    TileSetup setup;
    int tiles_wanted = 600;       // over the part of the reference that the moving picture covers
    int lattice_cells = 8;        // along the longer side of the reference
    bool new_homography = false;  // first fit the homography anew to the tiles
    bool beside_guess = false;    // fit what is left beside the guessed map, and add it to that
};

struct LevelResult;

// For canvas that bends within a tile: tiles of half the side, half as far apart, on a lattice twice as fine.
[[nodiscard]] LevelPlan with_smaller_tiles(LevelPlan plan);

struct LevelResult {
    PixelMap map;
    std::vector<TileMatch> tiles;                // those with structure in both pictures
    std::vector<double> residuals_px;            // distance of each from the fitted map, pixels of the reference
    std::vector<double> weights;                 // 0 where the tile contradicts the map
    std::vector<FieldObservation> observations;  // of each tile, about map.homography
    FieldLattice lattice;
    double scale = 1.0;  // see RobustField
    double roughness_px = 0.0;
    std::vector<double> roughness_of;  // of each knot of the lattice
    double spacing_px = 0.0;
    double pitch_px = 1.0;
    double reach_px = 9.0;        // deviation of the window under which the smallest tiles tell a mean
    double shared_content = 1.0;  // neighbours share content where they overlap: so many of them are worth one
};

// Empty when too few tiles agree with one another, or when progress says stop.
[[nodiscard]] std::optional<LevelResult> match_level(const GrayPyramid& reference, const GrayPyramid& moving,
                                                     const PixelMap& guess, const LevelPlan& plan, int workers,
                                                     const Progress& progress);

// Where tiles lie beside the map farther than usual, together with those around them: canvas bends there more than the
// lattice does, or within a tile.
[[nodiscard]] std::vector<PointPx> misfits(const LevelResult& level);

// The map fitted to tiles of another plan near these places, and to those that `level` has already.
[[nodiscard]] std::optional<LevelResult> match_together(const GrayPyramid& reference, const GrayPyramid& moving,
                                                        const LevelResult& level, const std::vector<PointPx>& places,
                                                        const LevelPlan& plan, int workers, const Progress& progress);

// Canvas that moved leaves the plane by more than tiles look around. What lies beside the tiles that agree is looked
// for where their map is carried on to, round after round, as long as more come to agree.
[[nodiscard]] LevelResult carried_on(const GrayPyramid& reference, const GrayPyramid& moving, LevelResult level,
                                     LevelPlan plan, int workers, const Progress& progress);

// The tiles of a grid over what both pictures show, each matched near the guess; no map is fitted. Incomplete when
// progress says stop.
[[nodiscard]] std::vector<TileMatch> match_grid(const GrayPyramid& reference, const GrayPyramid& moving,
                                                const PixelMap& guess, const LevelPlan& plan, int workers,
                                                const Progress& progress);

// A peak high enough over what is around it to be worth asking its neighbours about.
[[nodiscard]] bool has_peak(const TileMatch& match);
// From the centre of the first pixel to that of the last.
[[nodiscard]] bool inside(PointPx point, SizePx size);

// What the tiles are compared by.
struct TileStyle {
    TileSignal signal = TileSignal::gray;
    bool either_sign = false;
};

// Coarse to fine. The finest pitch is that of the coarser of the two pictures.
[[nodiscard]] std::vector<LevelPlan> plan_levels(SizePx reference, SizePx moving, const PixelMap& guess,
                                                 TileStyle style);

// The same plan for pictures that are out of focus, noisy or seen through canvas: what is finer than two samples is
// only noise in them.
[[nodiscard]] LevelPlan with_coarser_samples(LevelPlan plan);

// Of the tiles with structure, the share that agrees with the map.
[[nodiscard]] double agreeing_share(const LevelResult& level);

// How far the tiles that agree lie beside a map on the whole, all in one direction.
struct CommonShift {
    double x_px = 0.0;
    double y_px = 0.0;
    double error_px = 0.0;  // neighbouring tiles share content, so the true one is about twice as large
    double score = 0.0;     // of the middle tile

    [[nodiscard]] double length_px() const { return std::hypot(x_px, y_px); }
};
// Empty where too few tiles agree.
[[nodiscard]] std::optional<CommonShift> common_shift(const LevelResult& level, const PixelMap& map);

// The middle one of the scores of the tiles that agree; 0 when none does.
[[nodiscard]] double median_score(const LevelResult& level);

// Pixels of the moving picture per pixel of the reference, in the middle of what is covered.
[[nodiscard]] double moving_density(const PixelMap& map, SizePx moving);

// Share of the reference that the moving picture covers, by a grid of points.
[[nodiscard]] double overlap_share(const PixelMap& map, SizePx reference, SizePx moving);
// The other way round: share of the moving picture that lies on the reference.
[[nodiscard]] double share_on_reference(const PixelMap& map, SizePx reference, SizePx moving);

}  // namespace tedge::imaging
