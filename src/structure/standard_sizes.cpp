#include "tedge/structure/standard_sizes.hpp"

#include <algorithm>
#include <cmath>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"

namespace tedge::structure {

namespace {

constexpr double agrees_within = 0.02;
constexpr double cut_at_least = 0.05;
constexpr double cut_at_most = 0.25;

double mm_from_cm(const std::string& text) {
    return text.empty() ? 0 : parse_number(text).value() * 10;
}

bool is_fit_for_matching(const StandardSize& size) {
    return size.long_mm > 0 && size.short_mm > 0 && !size.note.contains("do not use for automatic matching");
}

std::vector<StandardSize> read_sizes() {
    const Table table = Table::parse(embedded::standard_sizes_csv).value();
    std::vector<StandardSize> sizes;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        StandardSize size{table.cell(row, "system"),
                          table.cell(row, "name"),
                          mm_from_cm(table.cell(row, "long_or_height_cm")),
                          mm_from_cm(table.cell(row, "short_or_width_cm")),
                          table.cell(row, "period"),
                          table.cell(row, "status"),
                          table.cell(row, "source"),
                          table.cell(row, "note")};
        if (is_fit_for_matching(size)) sizes.push_back(std::move(size));
    }
    return sizes;
}

bool looks_cut(double whole_side, double other_side) {
    return std::abs(whole_side) <= agrees_within && other_side <= -cut_at_least && other_side >= -cut_at_most;
}

SizeMatch match_with(const StandardSize& size, double long_mm, double short_mm) {
    SizeMatch match;
    match.size = &size;
    match.long_deviation_mm = long_mm - size.long_mm;
    match.short_deviation_mm = short_mm - size.short_mm;
    const double along = match.long_deviation_mm / size.long_mm;
    const double across = match.short_deviation_mm / size.short_mm;
    match.worst_deviation = std::max(std::abs(along), std::abs(across));
    match.maybe_cut_down = looks_cut(along, across) || looks_cut(across, along);
    return match;
}

Expected<std::pair<double, double>> shorter_and_longer(double width_mm, double height_mm) {
    if (!(width_mm > 0 && height_mm > 0) || !std::isfinite(width_mm) || !std::isfinite(height_mm)) {
        return fail("size.bad-size", "The picture must have a width and a height above 0 mm.", "Give both in mm.");
    }
    return std::pair(std::min(width_mm, height_mm), std::max(width_mm, height_mm));
}

// How well the side that is whole agrees.
double agreement(const SizeMatch& match) {
    return std::min(std::abs(match.long_deviation_mm) / match.size->long_mm,
                    std::abs(match.short_deviation_mm) / match.size->short_mm);
}

}  // namespace

const std::vector<StandardSize>& standard_sizes() {
    static const std::vector<StandardSize> sizes = read_sizes();
    return sizes;
}

Expected<std::vector<SizeMatch>> nearest_standard_sizes(double width_mm, double height_mm, std::size_t count) {
    const auto sides = shorter_and_longer(width_mm, height_mm);
    if (!sides) return pass_on(sides);
    std::vector<SizeMatch> matches;
    for (const StandardSize& size : standard_sizes()) matches.push_back(match_with(size, sides->second, sides->first));
    std::ranges::stable_sort(matches, {}, &SizeMatch::worst_deviation);
    matches.resize(std::min(count, matches.size()));
    return matches;
}

Expected<std::vector<SizeMatch>> possible_sizes_before_cutting(double width_mm, double height_mm) {
    const auto sides = shorter_and_longer(width_mm, height_mm);
    if (!sides) return pass_on(sides);
    std::vector<SizeMatch> matches;
    for (const StandardSize& size : standard_sizes()) {
        SizeMatch match = match_with(size, sides->second, sides->first);
        // A side cut far enough makes the longer one the shorter.
        if (!match.maybe_cut_down) match = match_with(size, sides->first, sides->second);
        if (match.maybe_cut_down) matches.push_back(match);
    }
    std::ranges::stable_sort(matches, {}, agreement);
    return matches;
}

}  // namespace tedge::structure
