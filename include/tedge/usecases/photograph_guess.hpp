// What a photograph is taken to show before a person says so: from its file's name and from the picture itself.
//
// Every guess comes with its reason, is recorded as a guess (field `guessed`) and stays one until a person says what is
// shown. A name counts more than pixels: somebody wrote it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tedge/geometry/face_frame.hpp"
#include "tedge/imaging/picture_character.hpp"

namespace tedge::usecases {

struct Guess {
    std::string field;  // "face", "light", "stage", "raking_side", "raking_angle_degrees"
    std::string value;
    std::string why;  // "the name says uv"
    friend bool operator==(const Guess&, const Guess&) = default;
};

// What somebody has said already: nothing of it is guessed. The same shape holds what is assumed where neither the name
// nor the picture says anything.
struct ShotSaid {
    std::optional<Face> face;
    std::string light;
    std::string stage;
    std::string raking_side;
    std::optional<double> raking_angle_degrees;
};

struct GuessedShot {
    ShotSaid shot;  // whole: said, guessed or assumed
    std::vector<Guess> guesses;
};

// By words of the field table and common short forms, written with blanks, hyphens, underscores or joined, as
// "kestrel_verso_raking-left_15deg.tif", "IMG_2041 UV before.jpg". `picture` is nothing where it was not looked at.
[[nodiscard]] GuessedShot guess_shot(const std::filesystem::path& file,
                                     const std::optional<imaging::PictureCharacter>& picture, const ShotSaid& said,
                                     const ShotSaid& assumed);

// "face: recto, nothing says otherwise; light: ultraviolet, the name says uv"
[[nodiscard]] std::string in_words(const std::vector<Guess>& guesses);

}  // namespace tedge::usecases
