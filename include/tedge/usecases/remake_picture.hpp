// A picture made from photographs and kept, made again from its recipe and the originals alone.
//
// What is kept with a picture shall be enough to see whether it is what it says. Crack maps, changes of cracks, of
// relief and of colour, and legible views are made again; a comparison is what somebody saw on a screen, a weave map
// the drawing of measurements, and a forecast is told with its own report.
#pragma once

#include <string>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::usecases {

struct RemadePicture {
    std::string file;        // encoded as the kept one is
    std::string sha256;      // of that
    bool identical = false;  // to the byte
};

// Nothing is recorded. Errors: remake.not-made (no picture made from photographs), remake.no-recipe (of a sort that is
// not made again), remake.incomplete (kept by an earlier version, whose recipes did not hold all that it takes),
// casebook.deleted-record, those of read_picture and of what made it.
[[nodiscard]] Expected<RemadePicture> remake_picture(casebook::Casebook& book, const Uuid& picture,
                                                     const Progress& progress = {});

}  // namespace tedge::usecases
