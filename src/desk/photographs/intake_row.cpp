#include "photographs/intake_row.hpp"

#include <algorithm>

#include "text.hpp"

namespace tedge::desk {

void IntakeRow::guess() {
    usecases::GuessedShot shot = usecases::guess_shot(wanted.file, character, said, assumed);
    wanted.face = shot.shot.face.value_or(Face::recto);
    wanted.light = shot.shot.light;
    wanted.stage = shot.shot.stage;
    wanted.raking_side = shot.shot.raking_side;
    wanted.raking_angle_degrees = shot.shot.raking_angle_degrees;
    wanted.guesses = std::move(shot.guesses);
}

void IntakeRow::confirm() {
    said = {.face = wanted.face,
            .light = wanted.light,
            .stage = wanted.stage,
            .raking_side = wanted.raking_side,
            .raking_angle_degrees = wanted.raking_angle_degrees};
    wanted.guesses.clear();
}

void IntakeRow::say_as(const IntakeRow& other) {
    said = {.face = other.wanted.face,
            .light = other.wanted.light,
            .stage = other.wanted.stage,
            .raking_side = other.wanted.raking_side,
            .raking_angle_degrees = other.wanted.raking_angle_degrees};
    guess();
}

void IntakeRow::say_light(const std::string& light) {
    said.light = light;
    if (light != "raking") {
        said.raking_side.clear();
        said.raking_angle_degrees.reset();
    }
    guess();
}

void IntakeRow::say_lamp(const std::string& side) {
    said.light = "raking";
    said.raking_side = side;
    guess();
}

bool IntakeRow::is_guess(std::string_view field) const {
    return std::ranges::find(wanted.guesses, field, &usecases::Guess::field) != wanted.guesses.end();
}

QString IntakeRow::why(std::string_view field) const {
    const auto found = std::ranges::find(wanted.guesses, field, &usecases::Guess::field);
    return found == wanted.guesses.end() ? QString() : shown(found->why);
}

}  // namespace tedge::desk
