#include "tedge/casebook/field_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "kinds/kinds.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

constexpr std::array kind_list{&kinds::picture_case,
                               &kinds::person,
                               &kinds::lot,
                               &kinds::viewing_note,
                               &kinds::quality_note,
                               &kinds::comparable,
                               &kinds::ceiling,
                               &kinds::purchase,
                               &kinds::cost_line,
                               &kinds::payment,
                               &kinds::share,
                               &kinds::commission,
                               &kinds::sale,
                               &kinds::picture_return,
                               &kinds::house,
                               &kinds::duty,
                               &kinds::suspicion,
                               &kinds::custody,
                               &kinds::face_frame,
                               &kinds::survey,
                               &kinds::finding,
                               &kinds::facing,
                               &kinds::photograph,
                               &kinds::shot_wanted,
                               &kinds::registration,
                               &kinds::measurement,
                               &kinds::derived_picture,
                               &kinds::cleaning_forecast,
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

struct UnitRange {
    std::string_view unit;
    ValueRange range;
};

// A side of a face as geometry/face_frame.hpp has it; a colour difference of CIE publication 142 stays near 100 between
// black and white; the rest is what no painting, camera or bench reaches.
constexpr std::array unit_ranges{UnitRange{"mm", {0.0, 20'000.0}},
                                 UnitRange{"px", {0.0, 1'000'000.0}},
                                 UnitRange{"kg", {0.0, 10'000.0}},
                                 UnitRange{"s", {0.0, 10'000'000.0}},
                                 UnitRange{"h", {0.0, 100'000.0}},
                                 UnitRange{"of 10", {0.0, 10.0}},
                                 UnitRange{"ΔE00", {0.0, 200.0}},
                                 UnitRange{"%", {0.0, 100.0}},
                                 UnitRange{"° to the surface", {0.0, 90.0}},
                                 UnitRange{"days", {0.0, 10'000.0}},
                                 UnitRange{"by its measure", {0.0, 1'000'000.0}},
                                 UnitRange{"for one of the amount's currency", {0.000001, 1'000'000.0}},
                                 UnitRange{"in its currency", {0.0, 1e12}}};
constexpr double most_digits = 999'999'999'999'999.0;  // a double holds them all

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

std::vector<std::string_view> kinds_it_names(const Field& field) {
    return field.of.empty() ? std::vector<std::string_view>{} : split(field.of, ' ');
}

bool may_name(const Field& field, std::string_view kind) {
    const auto kinds = kinds_it_names(field);
    return kinds.empty() || std::ranges::find(kinds, kind) != kinds.end();
}

ValueRange range_of(const Field& field) {
    const auto found = std::ranges::find(unit_ranges, field.unit, &UnitRange::unit);
    if (found != unit_ranges.end()) return found->range;
    return {field.type == FieldType::integer ? 0.0 : -most_digits, most_digits};
}

std::string to_text(const ValueRange& range, std::string_view unit) {
    const std::string between =
        range.most < most_digits ? fmt::format("from {} to {}", format_number(range.least), format_number(range.most))
        : range.least < 0.0      ? std::string("of at most fifteen digits")
                                 : std::string("not below 0, of at most fifteen digits");
    const bool is_scale = unit.starts_with("of ");  // "from 0 to 10" says it
    return unit.empty() || is_scale || range.most >= most_digits ? between : fmt::format("{} {}", between, unit);
}

}  // namespace tedge::casebook
