#include "tedge/imaging/difference_kind.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge::imaging {
namespace {

struct Row {
    std::string_view word;
    std::string_view symbol;
    DifferenceEnds ends;
};

constexpr std::array<Row, all_difference_kinds.size()> rows{{
    {"delta-e00", "ΔE00", {"", ""}},
    {"delta-l", "ΔL*", {"darker", "lighter"}},
    {"delta-a", "Δa*", {"greener", "redder"}},
    {"delta-b", "Δb*", {"bluer", "yellower"}},
    {"delta-c", "ΔC*ab", {"duller", "stronger"}},
    {"delta-h", "ΔH*ab", {"turned from yellow towards red", "turned from red towards yellow"}},
}};

const Row& row_of(DifferenceKind kind) {
    return rows[static_cast<std::size_t>(kind)];
}

}  // namespace

std::string_view to_text(DifferenceKind kind) {
    return row_of(kind).word;
}

std::string_view symbol_of(DifferenceKind kind) {
    return row_of(kind).symbol;
}

DifferenceEnds ends_of(DifferenceKind kind) {
    return row_of(kind).ends;
}

Expected<DifferenceKind> parse_difference_kind(std::string_view text) {
    const auto found = std::ranges::find(rows, text, &Row::word);
    if (found != rows.end()) return all_difference_kinds[static_cast<std::size_t>(found - rows.begin())];
    std::string words;
    for (const Row& row : rows) words += (words.empty() ? "" : ", ") + std::string(row.word);
    return fail("colour-difference.unknown-map", fmt::format("There is no map called \"{}\".", text),
                "Take one of " + words + ".", {{"map", std::string(text)}});
}

}  // namespace tedge::imaging
