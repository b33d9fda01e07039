// The bytes of a pyramid file; its form is told in pyramid.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/imaging/pyramid.hpp"

namespace tedge::imaging {

struct TilePlace {
    std::uint64_t offset = 0;
    std::uint32_t length = 0;
};

inline constexpr std::size_t pyramid_head_bytes = 8 + 5 * 4 + 8;
inline constexpr std::size_t pyramid_index_entry_bytes = 12;
inline constexpr std::uint32_t pyramid_version = 1;

// Where a tile stands in the index.
[[nodiscard]] std::size_t tile_number(const PyramidShape& shape, int level, int column, int row);
[[nodiscard]] std::size_t tile_total(const PyramidShape& shape);

// Takes tiles in any order.
class PyramidFileWriter {
public:
    explicit PyramidFileWriter(const PyramidShape& shape);
    void add(int level, int column, int row, std::string_view tile);
    [[nodiscard]] std::string finish();

private:
    PyramidShape shape_;
    std::string bytes_;
    std::vector<TilePlace> places_;
};

struct PyramidHead {
    std::uint32_t version = 0;
    PyramidShape shape;
    std::uint64_t index_offset = 0;
};
// Nothing when these are not the first bytes of a pyramid or cannot be true.
[[nodiscard]] std::optional<PyramidHead> parse_pyramid_head(std::string_view head);
// The index with its end mark; nothing when a place lies outside [head, index) or the mark is missing.
[[nodiscard]] std::optional<std::vector<TilePlace>> parse_pyramid_index(std::string_view index,
                                                                        const PyramidHead& head);

}  // namespace tedge::imaging
