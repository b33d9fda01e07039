#include "tedge/casebook/photograph_words.hpp"

#include <algorithm>

#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

int stage_rank(std::string_view stage) {
    const auto words = words_of(*find_kind("photograph")->field("stage"));
    const auto found = std::ranges::find(words, stage);
    return found == words.end() ? -1 : static_cast<int>(found - words.begin());
}

bool shows_colour(std::string_view light) {
    return light == "normal" || light == "cross-polarised";
}

bool is_made_picture(std::string_view kind) {
    return std::ranges::find(made_picture_kinds, kind) != made_picture_kinds.end();
}

}  // namespace tedge::casebook
