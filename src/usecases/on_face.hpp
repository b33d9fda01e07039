// Photographs laid square on their face: the same pixels per millimetre everywhere, pixel on pixel for all of them.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "placed_photograph.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct FaceGrid {
    Uuid frame;  // the face_frame its millimetres are of
    PointMm origin;
    SizePx size;
    double px_per_mm = 1.0;

    [[nodiscard]] Placement face_from_grid() const;
    [[nodiscard]] SizeMm size_mm() const { return {size.width_px / px_per_mm, size.height_px / px_per_mm}; }
};

// A picture of the grid's pixels, to be kept: its case and where it lies, to the error of the photograph.
[[nodiscard]] NewDerivedPicture picture_on(const FaceGrid& grid, const PlacedPhotograph& photograph);

// What all of them show of the face, at the resolution of the coarsest, and no more pixels than that.
// Errors: photograph.no-overlap, photograph.not-placed.
[[nodiscard]] Expected<FaceGrid> common_grid(const casebook::CaseSnapshot& snapshot, const Uuid& frame,
                                             const std::vector<PlacedPhotograph>& photographs, double most_px);

// The original read, turned to sRGB and resampled once. Errors: those of read_picture, to_srgb8 and resample.
[[nodiscard]] Expected<imaging::Raster8> laid_on_grid(const casebook::Casebook& book, const std::string& sha256,
                                                      const Placement& face_from_photo, const FaceGrid& grid,
                                                      const Progress& progress);
[[nodiscard]] Expected<imaging::Raster16> laid_on_grid16(const casebook::Casebook& book, const std::string& sha256,
                                                         const Placement& face_from_photo, const FaceGrid& grid,
                                                         const Progress& progress);

// 255 where a photograph of that size wholly covers the grid's pixel, 0 elsewhere.
[[nodiscard]] Expected<imaging::Raster8> covered_on_grid(SizePx photo, const Placement& face_from_photo,
                                                         const FaceGrid& grid, const Progress& progress);

// What both photographs cover, as above.
struct Lying {
    SizePx size;
    Placement face_from_photo;
};
[[nodiscard]] Expected<imaging::Raster8> covered_by_both(const Lying& one, const Lying& other, const FaceGrid& grid,
                                                         const Progress& progress);
[[nodiscard]] inline Lying lying(const PlacedPhotograph& photograph) {
    return {photograph.size, photograph.face_from_photo};
}

// What a recipe says of a photograph it starts from: the digest of its file, its placement, its size where that is
// known.
[[nodiscard]] nlohmann::json recipe_input(const PlacedPhotograph& photograph);

}  // namespace tedge::usecases
