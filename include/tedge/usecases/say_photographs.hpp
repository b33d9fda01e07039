// Saying of many photographs at once what they show, who took them and what may be done with them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

// What is left out stays as it is. Whatever is said, what was guessed of them counts as looked at: a person did it.
struct SaidOfPhotographs {
    ShotSaid shot;
    std::string photographer;  // a person's name
    std::string licence;
    std::optional<bool> has_scale;
    std::optional<bool> has_chart;
    bool confirms = false;  // nothing new: what was guessed is right
};

// All or none of them, in one act; a light other than raking takes the lamp's side and angle away. Errors:
// photograph.nothing-said, photograph.none, photograph.not-raking, and those of change_record.
[[nodiscard]] Expected<std::vector<Done>> say_photographs(const Acting& acting, const std::vector<Uuid>& photographs,
                                                          const SaidOfPhotographs& said);

// Who took the photographs of this case, and what may be done with them, as it was last said there; "" where
// nobody said it. Not from other cases: who photographed one picture has no rights in photographs of another.
struct UsualRights {
    std::string photographer;
    std::string licence;
};
[[nodiscard]] UsualRights usual_rights(casebook::Casebook& book, const Uuid& case_id);

// What the file says of its author and licence goes before what is usual, what somebody said before both.
void fill_rights(NewPhotograph& wanted, const PhotographLook& look, const UsualRights& usual);

}  // namespace tedge::usecases
