#include "shot_options.hpp"

#include <tuple>

#include "tedge/usecases/photograph_word.hpp"

namespace tedge::cli {

std::string stage_word(const std::string& said) {
    return said == "as-found" ? "as-received" : said;
}

Expected<usecases::ShotSaid> said_of_shot(const Arguments& arguments) {
    usecases::ShotSaid said;
    if (const auto word = arguments.option("face")) {
        const auto face = said_by("face", parse_face(*word));
        if (!face) return pass_on(face);
        said.face = *face;
    }
    const auto angle = arguments.number("raking-angle");
    if (!angle) return pass_on(angle);
    said.raking_angle_degrees = *angle;
    said.light = arguments.option_or("light", "");
    said.stage = stage_word(arguments.option_or("when", ""));
    said.raking_side = arguments.option_or("raking-from", "");
    for (const auto& [option, field, word] :
         {std::tuple{"light", "light", &said.light}, std::tuple{"when", "stage", &said.stage},
          std::tuple{"raking-from", "raking_side", &said.raking_side}}) {
        if (!arguments.option(option)) continue;
        if (const auto known = said_by(option, usecases::check_photograph_word(field, *word)); !known)
            return pass_on(known);
    }
    return said;
}

}  // namespace tedge::cli
