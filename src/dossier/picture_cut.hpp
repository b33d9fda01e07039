// Part of a picture: the painted face without the board and the colour chart around it, or one place on it.
#pragma once

#include "placed_photographs.hpp"

namespace tedge::dossier {

// Pixels of Picture::size.
struct CutPx {
    int left = 0;
    int top = 0;
    int width = 0;
    int height = 0;
};

// The whole picture's part: its size, marks and pixels become those of the cut, its scale stays.
[[nodiscard]] Picture cut_out(Picture whole, const CutPx& cut);

// The face in a photograph that is placed on it, with a narrow margin; nothing where it is not placed, or where the
// face is not seen as a whole.
[[nodiscard]] std::optional<CutPx> cut_to_face(const Extract& extract, const casebook::Record& photograph);

// A place of a face frame in that photograph, with a margin around it so that it is at least `least_mm` long and high;
// within the photograph. Nothing where it does not lie in it.
[[nodiscard]] std::optional<CutPx> cut_to_place(const BoxMm& place, const casebook::Record& photograph,
                                                double least_mm);

}  // namespace tedge::dossier
