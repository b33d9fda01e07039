#include "picture_files.hpp"

#include <fmt/format.h>

#include <cstdint>

#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::cli {

namespace {

constexpr std::uint64_t largest_points_bytes = 100'000'000;

}  // namespace

Expected<imaging::Raster8> read_srgb(const std::string& file, const Progress& progress) {
    const auto picture = imaging::read_picture(path_from_utf8(file), {}, progress);
    if (!picture) return pass_on(picture);
    return imaging::to_srgb8(*picture, progress);
}

Expected<std::vector<PointPx>> read_points(const std::string& file) {
    const auto text = read_file(path_from_utf8(file), largest_points_bytes);
    if (!text) return pass_on(text);
    const auto table = Table::parse(*text);
    if (!table) return pass_on(table);
    if (!table->has_column("x") || !table->has_column("y")) {
        return fail("points.no-columns", fmt::format("{} has no columns x and y.", file),
                    "Begin it with the line x,y.");
    }
    std::vector<PointPx> points;
    for (std::size_t row = 0; row < table->row_count(); ++row) {
        const auto x = parse_number(trimmed(table->cell(row, "x")));
        const auto y = parse_number(trimmed(table->cell(row, "y")));
        if (!x) return pass_on(x);
        if (!y) return pass_on(y);
        points.push_back({*x, *y});
    }
    return points;
}

}  // namespace tedge::cli
