// What a crack map amounts to: how many cracks, which way they run, how large the islands between them are.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "tedge/imaging/crack_map.hpp"

namespace tedge::imaging {

struct CrackFigureOptions {
    // Of the plane of the picture, the same everywhere (a photograph laid square on the face). Nothing: figures are in
    // pixels alone.
    std::optional<double> px_per_mm{};
    double square_mm = 20.0;           // of the density map; without a scale squares are square_px
    double square_px = 200.0;          // wide
    const Raster8* counted = nullptr;  // as in CrackOptions
};

inline constexpr std::size_t crack_directions = 36;

// Axial: a line has a direction and no sense. 0° along the rows, 90° upright, 45° rising to the right.
struct CrackDirections {
    // Length by direction; bin i holds 5·i to 5·(i + 1) degrees.
    std::array<double, crack_directions> length_px{};
    double main_degrees = 0.0;  // 0 to 180
    // Length of the mean vector of doubled angles (Mardia and Jupp, Directional Statistics, 2000; from memory):
    // 0 when no direction is preferred or two are at right angles, 1 when all run alike.
    double directed = 0.0;
    // The same with angles times four: 1 when all run in two directions at right angles.
    double crossed = 0.0;
};

struct CrackSquare {
    int column = 0;
    int row = 0;
    double length_px = 0.0;
    double counted_px = 0.0;  // pixels of the square that were looked at
};

// Percentiles linear between neighbours in rank (type 7 of Hyndman and Fan).
struct IslandSizes {
    std::size_t count = 0;  // areas closed by cracks on all sides, of at least 25 px²
    double lower_quartile_px2 = 0.0;
    double median_px2 = 0.0;
    double upper_quartile_px2 = 0.0;
    double share = 0.0;  // of what was looked at that lies in such islands
};

struct CrackFigures {
    double length_px = 0.0;
    double counted_px = 0.0;
    double median_width_px = 0.0;  // by length
    double median_depth = 0.0;     // 8-bit steps, by length
    CrackDirections directions;
    IslandSizes islands;
    double square_px = 0.0;
    std::vector<CrackSquare> squares;  // row by row; those without a counted pixel are left out
    std::optional<double> px_per_mm{};
    double drawn_share = 0.0;  // as in CrackMap

    [[nodiscard]] std::optional<double> length_mm() const;
    [[nodiscard]] std::optional<double> density_mm_per_cm2() const;
    [[nodiscard]] std::optional<double> density_mm_per_cm2(const CrackSquare& square) const;
};

// Errors: cracks.options (a scale or square not above 0), cracks.gate-differs.
[[nodiscard]] Expected<CrackFigures> crack_figures(const CrackMap& map, const CrackFigureOptions& options = {});

}  // namespace tedge::imaging
