// How the colour changed between two photographs of one face that are both placed: as a picture over the first, as
// figures by place, and as areas that were cleaned.
//
// Without a measured chart in both it is a look: everything is shown, nothing is recorded as a measurement. In light
// that shows no colour (ultraviolet, infrared, transmitted, raking) it is refused altogether. Pixels are compared as
// the photographs were developed; charts say how far that can be trusted, they do not correct it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/cleaned_areas.hpp"
#include "tedge/imaging/difference_regions.hpp"
#include "tedge/imaging/difference_scale.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct ColourDifferenceWanted {
    imaging::DifferenceKind kind = imaging::DifferenceKind::delta_e00;
    std::vector<Uuid> places{};  // records with a place (findings, trials …) that figures are wanted of
    bool cleaned_areas = false;  // look for them; the first photograph is the one before cleaning
};

struct PlaceFigures {
    Uuid record;
    imaging::RegionFigures figures;
};

struct ColourDifferenceMap {
    imaging::Raster8 drawn;  // by the scale; grey where nothing counts (difference_gates.hpp)
    Placement face_from_map;
    Uuid face_frame;
    imaging::DifferenceKind kind = imaging::DifferenceKind::delta_e00;
    imaging::DifferenceScale scale;         // begins at the floor where one is known
    imaging::DifferenceStatistics figures;  // of the pixels that count
    imaging::RegionFigures whole;           // the same over the face, with areas and what was left out and why
    std::vector<PlaceFigures> places;
    std::optional<imaging::CleanedAreas> cleaned;
    std::string note;  // "includes gloss", or ""
    // Of each of the two that names a board of its session (measure_board.hpp) and so was evened first, what that did.
    std::vector<std::string> evened;
    std::optional<double> floor_delta_e00;  // nothing without a measured chart in both
    std::string floor_sentence;             // always said: the floor, or that it is not known and what it takes
    // They lie so loosely on each other that nothing counts: drawn and summed up all the same, but no evidence.
    bool only_a_look = false;
    double error_mm = 0.0;  // how far the two may lie apart, one standard deviation
};

// Reads both originals, evens each by the board named for it, averages them to at most 3,000 px a side, lays the second
// over the first by their placements, compares, and leaves out what glare and misfit could make. Nothing is recorded.
// ΔE00 is drawn from the floor to 20, differences with a sign from -20 to 20. Errors: photograph.not-a-photograph,
// photograph.not-placed (one of them, or their frames are not joined), photograph.other-face,
// photograph.no-colour-light (only normal, cross-polarised and specular light show colour), colour-difference.no-place
// (a record without a place on this face), those of read_picture, to_srgb8, resample and colour_difference,
// colour-difference.empty (they do not overlap).
[[nodiscard]] Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                                  const Uuid& second,
                                                                  const ColourDifferenceWanted& wanted = {},
                                                                  const Progress& progress = {});

// Records the mean over what counts as a measurement of the case: of one place of the map, or without one of the face.
// Errors: colour-difference.no-chart (a look is no evidence), colour-difference.too-loose (only_a_look),
// colour-difference.no-place (nothing counts there), those of add_record.
[[nodiscard]] Expected<Done> record_colour_difference(const Acting& acting, const Uuid& reference, const Uuid& second,
                                                      const ColourDifferenceMap& map,
                                                      const std::optional<Uuid>& place = {});

}  // namespace tedge::usecases
