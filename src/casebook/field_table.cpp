#include "tedge/casebook/field_table.hpp"

#include <algorithm>
#include <array>

#include "kinds/kinds.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

constexpr std::array kind_list{&kinds::picture_case,
                               &kinds::person,
                               &kinds::lot,
                               &kinds::viewing_note,
                               &kinds::ceiling,
                               &kinds::purchase,
                               &kinds::cost_line,
                               &kinds::custody,
                               &kinds::face_frame,
                               &kinds::survey,
                               &kinds::finding,
                               &kinds::facing,
                               &kinds::photograph,
                               &kinds::registration,
                               &kinds::measurement,
                               &kinds::trial,
                               &kinds::treatment_step,
                               &kinds::structure_step,
                               &kinds::picture_frame,
                               &kinds::inscription,
                               &kinds::provenance_link,
                               &kinds::attribution_claim,
                               &kinds::document,
                               &kinds::deadline,
                               &kinds::gate_override};

}  // namespace

const Field* Kind::field(std::string_view field_name) const {
    const auto found = std::ranges::find(fields, field_name, &Field::name);
    return found == fields.end() ? nullptr : &*found;
}

std::span<const Kind* const> all_kinds() {
    return kind_list;
}

const Kind* find_kind(std::string_view name) {
    const auto found = std::ranges::find(kind_list, name, &Kind::name);
    return found == kind_list.end() ? nullptr : *found;
}

std::span<const Field> parts_asked(std::string_view kind, std::string_view field) {
    if (kind == kinds::viewing_note.name && field == "answers") return kinds::viewing_questions;
    if (kind == kinds::lot.name && field == "terms") return kinds::sale_terms;
    return {};
}

std::string_view to_text(Reader reader) {
    switch (reader) {
        case Reader::own:
            return "own";
        case Reader::buyer:
            return "buyer";
        case Reader::restorer:
            return "restorer";
        case Reader::carrier:
            return "carrier";
        case Reader::insurer:
            return "insurer";
        case Reader::scholar:
            return "scholar";
    }
    return "own";
}

std::vector<std::string_view> words_of(const Field& field) {
    return field.words.empty() ? std::vector<std::string_view>{} : split(field.words, ' ');
}

}  // namespace tedge::casebook
