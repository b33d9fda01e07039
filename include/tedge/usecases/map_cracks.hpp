// The cracks of a placed photograph: a picture of them kept on the face, and what they amount to as measurements.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/imaging/crack_figures.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct CracksWanted {
    bool light = false;                 // cracks lighter than the paint, in place of dark ones
    std::optional<double> widest_mm{};  // left out: as wide as 14 pixels
    double square_mm = 20.0;            // side of the squares of the density map
};

struct MappedCracks {
    KeptPicture picture;             // crack-map, its recipe and the figures by squares in it
    std::vector<Done> measurements;  // density, median island, direction; none when the picture was kept already
    imaging::CrackFigures figures;   // per mm of the face
    PointMm origin;                  // of the squares, on the frame
    Uuid face_frame;
    double least_width_mm = 0.0;  // a pixel: finer cracks are found by their darkness, not told in width
};

// Reads the original, lays it square on its face at its own resolution (at most 40 megapixels), and looks for cracks.
// Errors: those of placed photographs (photograph.not-a-photograph, photograph.not-placed, casebook.deleted-record),
// photograph.no-overlap (it shows nothing of the face), cracks.options, those of read_picture, and the casebook's.
[[nodiscard]] Expected<MappedCracks> map_cracks(const Acting& acting, const Uuid& photograph,
                                                const CracksWanted& wanted = {}, const Progress& progress = {});

}  // namespace tedge::usecases
