// A file looked at before it is taken in: whether it is whole, what it says of itself, what it looks like.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/picture_character.hpp"

namespace tedge::usecases {

// Longest side of the small copy that character and thumbnail are made of.
inline constexpr int looked_at_px = 256;

struct PhotographLook {
    // Nothing for a damaged file of which even the head cannot be read.
    std::optional<imaging::PictureProbe> probe;
    std::string damaged;             // what is wrong with it, or ""
    std::vector<std::string> notes;  // what reading left out or took to be so
    std::optional<imaging::PictureCharacter> character;
    imaging::Raster8 small;  // sRGB, empty for a damaged one
    // The word of a cleaning forecast stands in its pixels (forecast_mark.hpp).
    bool is_marked_forecast = false;
};

enum class Damaged { refused, kept };

// Decodes the whole file, so that what is whole is known to be. Errors: those of read_picture; a damaged file is one
// unless it is to be kept.
[[nodiscard]] Expected<PhotographLook> look_at_photograph(const std::filesystem::path& file, Damaged damaged,
                                                          const Progress& progress = {});

}  // namespace tedge::usecases
