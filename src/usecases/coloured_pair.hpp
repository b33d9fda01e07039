// Two photographs of one face that show its colour and are both placed on it, and their pixels for comparing.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "photograph_chart.hpp"
#include "placed_pair.hpp"

namespace tedge::usecases {

// Two of fifty megapixels and what is computed from them would fill the memory of a small machine; no screen shows
// more.
inline constexpr int longest_compared_side_px = 3000;

// Errors: those of placed_pair, photograph.no-colour-light (only normal and cross-polarised light show colour),
// photograph.grey (the file has one channel).
[[nodiscard]] Expected<PlacedPair> coloured_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second);

// A sentence for each of the two whose light was only guessed (guessed_light.hpp).
[[nodiscard]] std::vector<std::string> guessed_lights(const PlacedPair& pair);

[[nodiscard]] bool both_cross_polarised(const PlacedPair& pair);

struct PlacedPixels {
    imaging::Raster8 pixels;  // sRGB, averaged to the longest compared side
    Placement placement;      // of these pixels, on the frame
    std::string evened;       // what evening by a board did, a sentence, or ""
};

// What is done to the light before it is averaged, in this order.
struct LightWanted {
    bool evened = false;                     // by the board that the record names (measure_board.hpp)
    const PhotographChart* chart = nullptr;  // brought to its colours: a measured one, for what is evened as well
};

// What read_placed reads, told by files.
struct LightOfFile {
    std::string sha256;
    std::filesystem::path board{};           // empty: not evened
    const PhotographChart* chart = nullptr;  // nullptr: as it was developed
};
// Errors: as read_placed.
[[nodiscard]] Expected<PlacedPixels> read_light(casebook::Casebook& book, const LightOfFile& file,
                                                const Placement& face_from_photo, const Progress& progress);

// Errors: those of read_picture and to_srgb8, of flat_field_of where it is evened, of chart_picture and
// corrected_by_chart where it is corrected.
[[nodiscard]] Expected<PlacedPixels> read_placed(casebook::Casebook& book, const PlacedPhotograph& photograph,
                                                 const LightWanted& light, const Progress& progress);

}  // namespace tedge::usecases
