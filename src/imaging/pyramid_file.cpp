#include "pyramid_file.hpp"

#include <algorithm>

namespace tedge::imaging {
namespace {

constexpr std::string_view begin_mark = "TEDGEPYR";
constexpr std::string_view end_mark = "TEDGEEND";
constexpr int longest_side_px = 65535;

template <class T>
std::string little_endian(T value) {
    std::string bytes;
    for (std::size_t i = 0; i < sizeof(T); ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
    return bytes;
}

// Reads on and on from the front.
template <class T>
T taken(std::string_view& bytes) {
    T value = 0;
    for (std::size_t i = 0; i < sizeof(T); ++i)
        value = static_cast<T>(value | static_cast<T>(static_cast<T>(static_cast<unsigned char>(bytes[i])) << (8 * i)));
    bytes.remove_prefix(sizeof(T));
    return value;
}

bool within(std::uint32_t value, std::uint32_t low, std::uint32_t high) {
    return value >= low && value <= high;
}

}  // namespace

std::size_t tile_number(const PyramidShape& shape, int level, int column, int row) {
    std::size_t before = 0;
    for (int l = 0; l < level; ++l) {
        const SizePx count = shape.tile_count(l);
        before += static_cast<std::size_t>(count.width_px) * static_cast<std::size_t>(count.height_px);
    }
    return before + static_cast<std::size_t>(row) * static_cast<std::size_t>(shape.tile_count(level).width_px) +
           static_cast<std::size_t>(column);
}

std::size_t tile_total(const PyramidShape& shape) {
    return tile_number(shape, shape.levels - 1, 0, 0) + 1;
}

PyramidFileWriter::PyramidFileWriter(const PyramidShape& shape) : shape_(shape), places_(tile_total(shape)) {
    bytes_ = begin_mark;
    bytes_ += little_endian(pyramid_version);
    for (const int value : {shape.size.width_px, shape.size.height_px, shape.tile_px, shape.levels})
        bytes_ += little_endian(static_cast<std::uint32_t>(value));
    bytes_ += little_endian(std::uint64_t{0});
}

void PyramidFileWriter::add(int level, int column, int row, std::string_view tile) {
    places_[tile_number(shape_, level, column, row)] = {bytes_.size(), static_cast<std::uint32_t>(tile.size())};
    bytes_ += tile;
}

std::string PyramidFileWriter::finish() {
    bytes_.replace(pyramid_head_bytes - 8, 8, little_endian(std::uint64_t{bytes_.size()}));
    for (const TilePlace& place : places_) {
        bytes_ += little_endian(place.offset);
        bytes_ += little_endian(place.length);
    }
    bytes_ += end_mark;
    return std::move(bytes_);
}

std::optional<PyramidHead> parse_pyramid_head(std::string_view head) {
    if (head.size() < pyramid_head_bytes || !head.starts_with(begin_mark)) return std::nullopt;
    head.remove_prefix(begin_mark.size());
    PyramidHead out;
    out.version = taken<std::uint32_t>(head);
    const auto width = taken<std::uint32_t>(head), height = taken<std::uint32_t>(head);
    const auto tile = taken<std::uint32_t>(head), levels = taken<std::uint32_t>(head);
    out.index_offset = taken<std::uint64_t>(head);
    if (!within(width, 1, longest_side_px) || !within(height, 1, longest_side_px) || !within(tile, 64, 1024))
        return std::nullopt;
    out.shape = PyramidShape::of({static_cast<int>(width), static_cast<int>(height)}, static_cast<int>(tile));
    if (levels != static_cast<std::uint32_t>(out.shape.levels)) return std::nullopt;
    return out;
}

std::optional<std::vector<TilePlace>> parse_pyramid_index(std::string_view index, const PyramidHead& head) {
    const std::size_t total = tile_total(head.shape);
    if (index.size() != total * pyramid_index_entry_bytes + end_mark.size() || !index.ends_with(end_mark))
        return std::nullopt;
    std::vector<TilePlace> places(total);
    for (TilePlace& place : places) {
        place.offset = taken<std::uint64_t>(index);
        place.length = taken<std::uint32_t>(index);
        if (place.offset < pyramid_head_bytes || place.offset > head.index_offset ||
            place.length > head.index_offset - place.offset)
            return std::nullopt;
    }
    return places;
}

}  // namespace tedge::imaging
