#include "picture_files.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>

#include <array>
#include <cstdint>
#include <string_view>

#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::cli {

namespace {

constexpr std::uint64_t largest_points_bytes = 100'000'000;

// Numbers of the columns named, row by row.
template <std::size_t columns>
Expected<std::vector<std::array<double, columns>>> read_numbers(const std::string& file,
                                                                const std::array<std::string_view, columns>& names) {
    const auto text = read_file(path_from_utf8(file), largest_points_bytes);
    if (!text) return pass_on(text);
    const auto table = Table::parse(*text);
    if (!table) return pass_on(table);
    for (const std::string_view name : names) {
        if (table->has_column(name)) continue;
        return fail("points.no-columns", fmt::format("{} has no column {}.", file, name),
                    fmt::format("Begin it with the line {}.", fmt::join(names, ",")));
    }
    std::vector<std::array<double, columns>> rows(table->row_count());
    for (std::size_t row = 0; row < rows.size(); ++row) {
        for (std::size_t i = 0; i < columns; ++i) {
            const auto number = parse_number(trimmed(table->cell(row, names[i])));
            if (!number) return pass_on(number);
            rows[row][i] = *number;
        }
    }
    return rows;
}

}  // namespace

Expected<void> write_picture_file(const std::string& file, const imaging::Raster8& picture) {
    const auto format = imaging::format_for(path_from_utf8(file));
    if (!format) return pass_on(format);
    return imaging::write_picture(path_from_utf8(file), picture, *format);
}

Expected<imaging::Raster8> read_srgb(const std::string& file, const Progress& progress) {
    const auto picture = imaging::read_picture(path_from_utf8(file), {}, progress);
    if (!picture) return pass_on(picture);
    return imaging::to_srgb8(*picture, progress);
}

Expected<std::vector<PointPx>> read_points(const std::string& file) {
    const auto rows = read_numbers<2>(file, {"x", "y"});
    if (!rows) return pass_on(rows);
    std::vector<PointPx> points;
    for (const auto& [x, y] : *rows) points.push_back({x, y});
    return points;
}

Expected<std::vector<imaging::PointPair>> read_pairs(const std::string& file) {
    const auto rows = read_numbers<4>(file, {"reference_x", "reference_y", "moving_x", "moving_y"});
    if (!rows) return pass_on(rows);
    std::vector<imaging::PointPair> pairs;
    for (const auto& row : *rows) pairs.push_back({{row[0], row[1]}, {row[2], row[3]}});
    return pairs;
}

nlohmann::json pairs_fields(const imaging::PairsReport& pairs) {
    return {{"residual_px", pairs.residual_px},
            {"borne_out", pairs.beside_px.has_value()},
            {"beside_px", pairs.beside_px ? nlohmann::json(*pairs.beside_px) : nlohmann::json(nullptr)}};
}

}  // namespace tedge::cli
