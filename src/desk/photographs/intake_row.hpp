// One photograph on its way in: what a person said of it, what is guessed of the rest, what became of it.
#pragma once

#include <QImage>
#include <QString>
#include <filesystem>

#include "tedge/usecases/photographs.hpp"

namespace tedge::desk {

enum class IntakeState { waiting, taken, already, refused };

struct IntakeRow {
    usecases::NewPhotograph wanted;  // whole: said, guessed or assumed; its guesses say which
    usecases::ShotSaid said;
    usecases::ShotSaid assumed;
    std::optional<imaging::PictureCharacter> character;  // nothing before it was looked at
    QImage small;
    std::string taken_at;  // ISO 8601 by the camera's clock, "" where the file does not say or was not looked at
    IntakeState state = IntakeState::waiting;
    QString told;  // why it was refused; of one that was taken in, what reading left out
    bool is_damaged = false;

    // Guesses anew what nobody said.
    void guess();
    // What stands there is right, all of it.
    void confirm();
    // The same face, light, lamp and stage as another.
    void say_as(const IntakeRow& other);
    void say_light(const std::string& light);
    void say_lamp(const std::string& side);
    [[nodiscard]] bool is_guess(std::string_view field) const;
    [[nodiscard]] QString why(std::string_view field) const;  // "" for what was said
};

}  // namespace tedge::desk
