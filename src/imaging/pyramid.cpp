#include "tedge/imaging/pyramid.hpp"

#include <algorithm>
#include <fstream>
#include <mutex>
#include <stdexcept>

#include "picture_codecs.hpp"
#include "pyramid_file.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/shrink.hpp"

namespace tedge::imaging {
namespace {

constexpr int halved(int side) {
    return (side + 1) / 2;
}

std::unexpected<Error> damaged(const std::filesystem::path& file) {
    return fail("pyramid.damaged", "The prepared picture " + to_utf8(file.filename()) + " is damaged.",
                "It is made from the photograph: have it made again.", {{"path", to_utf8(file)}});
}

std::string read_at(std::ifstream& stream, std::uint64_t offset, std::size_t count) {
    std::string bytes(count, '\0');
    stream.clear();
    stream.seekg(static_cast<std::streamoff>(offset));
    stream.read(bytes.data(), static_cast<std::streamsize>(count));
    bytes.resize(static_cast<std::size_t>(std::max<std::streamsize>(0, stream.gcount())));
    return bytes;
}

}  // namespace

PyramidShape PyramidShape::of(SizePx size, int tile_px) {
    PyramidShape shape{size, tile_px, 1};
    for (int longest = std::max(size.width_px, size.height_px); longest > tile_px; longest = halved(longest))
        ++shape.levels;
    return shape;
}

SizePx PyramidShape::level_size(int level) const {
    SizePx out = size;
    for (int i = 0; i < level; ++i) out = {halved(out.width_px), halved(out.height_px)};
    return out;
}

SizePx PyramidShape::tile_count(int level) const {
    const SizePx in = level_size(level);
    return {(in.width_px + tile_px - 1) / tile_px, (in.height_px + tile_px - 1) / tile_px};
}

SizePx PyramidShape::tile_size(int level, int column, int row) const {
    const SizePx in = level_size(level);
    return {std::min(tile_px, in.width_px - column * tile_px), std::min(tile_px, in.height_px - row * tile_px)};
}

struct PyramidReader::File {
    std::filesystem::path path;
    PyramidShape shape;
    std::vector<TilePlace> places;
    mutable std::mutex guard;  // one reader at a time at the stream; decoding goes on beside it
    mutable std::ifstream stream;

    [[nodiscard]] std::string bytes_of(const TilePlace& place) const {
        const std::lock_guard lock(guard);
        return read_at(stream, place.offset, place.length);
    }
};

Expected<PyramidReader> PyramidReader::open(const std::filesystem::path& path) {
    auto file = std::make_shared<File>();
    file->path = path;
    file->stream.open(path, std::ios::binary);
    if (!file->stream) {
        const auto why = read_file(path);  // files.hpp has the sentence for it
        return why ? Expected<PyramidReader>(damaged(path)) : pass_on(why);
    }
    const auto head = parse_pyramid_head(read_at(file->stream, 0, pyramid_head_bytes));
    if (!head) return damaged(path);
    if (head->version != pyramid_version)
        return fail("pyramid.other-version",
                    "The prepared picture " + to_utf8(path.filename()) + " is of another version.",
                    "It is made from the photograph: have it made again.", {{"path", to_utf8(path)}});
    const std::size_t index_bytes = tile_total(head->shape) * pyramid_index_entry_bytes + 8;
    const auto places = parse_pyramid_index(read_at(file->stream, head->index_offset, index_bytes), *head);
    if (!places) return damaged(path);
    file->shape = head->shape;
    file->places = *places;
    return PyramidReader(std::move(file));
}

const PyramidShape& PyramidReader::shape() const {
    return file_->shape;
}

Expected<Raster8> PyramidReader::tile(int level, int column, int row) const {
    const PyramidShape& shape = file_->shape;
    if (level < 0 || level >= shape.levels || column < 0 || row < 0 || column >= shape.tile_count(level).width_px ||
        row >= shape.tile_count(level).height_px)
        throw std::out_of_range("PyramidReader::tile");
    const std::string bytes = file_->bytes_of(file_->places[tile_number(shape, level, column, row)]);
    PictureJob job{
        .kind = PictureKind::jpeg, .file = file_->path, .name = "tile", .bytes = bytes, .options = {}, .progress = {}};
    auto decoded = decode_jpeg(job);
    if (!decoded) return damaged(file_->path);
    auto& pixels = std::get<Raster8>(decoded->pixels);
    if (!(pixels.size() == shape.tile_size(level, column, row)) || pixels.channels() != 3) return damaged(file_->path);
    return std::move(pixels);
}

Expected<Raster8> PyramidReader::level(int level) const {
    const PyramidShape& shape = file_->shape;
    const SizePx size = shape.level_size(level), count = shape.tile_count(level);
    Raster8 out(size.width_px, size.height_px, 3);
    for (int row = 0; row < count.height_px; ++row)
        for (int column = 0; column < count.width_px; ++column) {
            const auto part = tile(level, column, row);
            if (!part) return pass_on(part);
            for (int y = 0; y < part->height_px(); ++y)
                std::copy_n(part->row(y), part->row_samples(),
                            &out.at(column * shape.tile_px, row * shape.tile_px + y));
        }
    return out;
}

Expected<Raster8> PyramidReader::preview(int longest_side_px) const {
    int smallest = 0;
    while (smallest + 1 < shape().levels) {
        const SizePx next = shape().level_size(smallest + 1);
        if (std::max(next.width_px, next.height_px) < longest_side_px) break;
        ++smallest;
    }
    const auto whole_level = level(smallest);
    if (!whole_level) return pass_on(whole_level);
    return shrunk_to_fit(*whole_level, longest_side_px);
}

}  // namespace tedge::imaging
