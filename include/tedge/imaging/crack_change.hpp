// Which cracks are new, which are gone, which were there before: two registered photographs of one surface.
//
// A crack found in one photograph is looked for in the other piece by piece, anywhere within what the registration may
// be off. What is asked there is not only the other's crack map but its evidence: a crack that shows faintly under
// varnish or in other light is no new one. What is neither clearly there nor clearly absent is called undecided, and so
// is what is not found where the two lie so loosely on each other (more than 4.2 px) that it could lie further off than
// is looked.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "tedge/imaging/crack_map.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

enum class CrackFate { same, appeared, gone, undecided };

struct CrackChangeOptions {
    CrackOptions cracks{};                                  // for both photographs
    double error_px = 0.5;                                  // of the registration, one standard deviation: one for all,
    std::vector<const RegistrationErrorMap*> error_maps{};  // and maps over these pixels; they join in quadrature
    double least_length_px = 20.0;                          // shorter pieces that differ are undecided
};

struct CrackPiece {
    std::vector<PixelXY> pixels;  // in order
    double length_px = 0.0;
    CrackFate fate = CrackFate::same;
    bool of_after = true;  // its pixels are those of the later photograph; otherwise of the earlier
};

struct CrackChange {
    SizePx size;
    std::vector<CrackPiece> pieces;  // of the later photograph, then of the earlier one what is gone or undecided

    [[nodiscard]] double length_px(CrackFate fate, bool of_after) const;
};

// Pixel on pixel, 1 or 3 channels each. options.cracks.counted is where both show the surface.
// Errors: cracks.sizes-differ, those of crack_map, cancelled.
[[nodiscard]] Expected<CrackChange> crack_change(const Raster8& before, const Raster8& after,
                                                 const CrackChangeOptions& options = {}, const Progress& progress = {});

// "Is this crack new?" The piece nearest to a pixel, within reach; nothing where no crack is that near.
[[nodiscard]] const CrackPiece* crack_at(const CrackChange& change, PixelXY at, double reach_px = 8.0);

}  // namespace tedge::imaging
