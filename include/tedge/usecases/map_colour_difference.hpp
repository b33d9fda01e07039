// How the colour changed between two photographs of one face that are both placed: as a picture over the first, as
// figures by place, and as areas that were cleaned.
//
// Where a chart was measured in both (measure_chart), both are brought to the colours of their charts before they are
// compared, and the floor follows from what the charts are left with. Otherwise it is a look: pixels are compared as
// the photographs were developed, everything is shown, nothing is recorded as a measurement, and what stands in the way
// is said. In light that shows no colour (specular, raking, ultraviolet, infrared, transmitted) it is refused
// altogether.
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
#include "tedge/usecases/derived_pictures.hpp"
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
    // By the scale; grey where nothing counts (difference_gates.hpp). Where ΔE00 is below its floor, no kind of
    // difference is drawn.
    imaging::Raster8 drawn;
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
    std::vector<std::string> guessed_lights;  // of each of the two whose light was only guessed (guessed_light.hpp)
    std::optional<double> floor_delta_e00;    // nothing without a measured chart in both
    std::string floor_sentence;               // always said: the floor, or that it is not known and what it takes
    std::string charts_missing;               // why the colours are not corrected by charts; "" when they are
    // They lie so loosely on each other that nothing counts: drawn and summed up all the same, but no evidence.
    bool only_a_look = false;
    double error_mm = 0.0;      // how far the two may lie apart, one standard deviation
    NewDerivedPicture picture;  // what would be kept: case, photographs, where it lies
    std::string recipe;         // JSON
};

// Reads both originals, evens each by the board named for it, averages them to at most 3,000 px a side, lays the second
// over the first by their placements, compares, and leaves out what glare and misfit could make. Nothing is recorded.
// ΔE00 is drawn from the floor to 20, differences with a sign from -20 to 20; to twice the floor where that is more.
// Errors: photograph.not-a-photograph, casebook.deleted-record, photograph.same (one photograph twice),
// photograph.other-case, photograph.other-face, photograph.not-placed (one of them, or their frames are not joined),
// photograph.no-colour-light (only normal and cross-polarised light show colour), photograph.grey,
// photograph.wrong-way-round (cleaned areas are wanted, and the first is of a later stage than the second),
// colour-difference.no-place (a record without a place on this face), those of read_picture, to_srgb8, resample and
// colour_difference, colour-difference.empty (they do not overlap).
[[nodiscard]] Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                                  const Uuid& second,
                                                                  const ColourDifferenceWanted& wanted = {},
                                                                  const Progress& progress = {});

// Records the mean over what counts as a measurement of the case: of one place of the map, or without one of the face.
// The floor is its uncertainty where it is one of ΔE00, and stands in the note of every one.
// Errors: colour-difference.no-chart (a look is no evidence), colour-difference.too-loose (only_a_look),
// colour-difference.no-place (nothing counts there), photograph.light-guessed, photograph.wrong-way-round, those of
// add_record.
[[nodiscard]] Expected<Done> record_colour_difference(const Acting& acting, const Uuid& reference, const Uuid& second,
                                                      const ColourDifferenceMap& map,
                                                      const std::optional<Uuid>& place = {});

// Keeps the drawn map as a derived picture with the recipe that makes it again; a look is kept as one, and says so.
// Errors: colour-difference.too-loose (only_a_look), photograph.light-guessed (of one of the two it was only guessed),
// photograph.wrong-way-round, those of keep_derived_picture.
[[nodiscard]] Expected<KeptPicture> keep_colour_difference(const Acting& acting, const Uuid& reference,
                                                           const Uuid& second, const ColourDifferenceMap& map);

}  // namespace tedge::usecases
