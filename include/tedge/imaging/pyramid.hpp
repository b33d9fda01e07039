// A photograph at all zooms: one file with tiles of the full size and of every halving, for the desk to pan and zoom
// in.
//
// Level 0 is full size, in sRGB; each further level averages two by two pixels of the level before in linear light (see
// shrink.hpp for why) with 16 bits between the levels, so that the mean light of a picture is the same at every zoom. A
// side that is odd keeps its last column or row, averaged with itself: level size = ceil(size / 2^level). The last
// level fits into one tile. Pixel x of a level covers full-size pixels x·2^level to (x + 1)·2^level - 1.
//
// The file is derived and may be deleted at any time. Form: "TEDGEPYR", then little-endian 32-bit version, width,
// height, tile side, levels; 64-bit place of the index; JPEG tiles (4:4:4); the index, for each level row by row a
// 64-bit place and a 32-bit length; "TEDGEEND".
#pragma once

#include <filesystem>
#include <memory>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

struct PyramidShape {
    SizePx size;
    int tile_px = 256;
    int levels = 1;

    [[nodiscard]] static PyramidShape of(SizePx size, int tile_px);
    [[nodiscard]] SizePx level_size(int level) const;
    [[nodiscard]] SizePx tile_count(int level) const;  // columns and rows of tiles
    // Tiles at the right and the bottom are as small as what is left.
    [[nodiscard]] SizePx tile_size(int level, int column, int row) const;
    friend bool operator==(const PyramidShape&, const PyramidShape&) = default;
};

struct PyramidOptions {
    int tile_px = 256;  // 64 to 1024
    int jpeg_quality = 95;
};

// Converts, averages and writes durably; a cancelled build leaves nothing. Needs some rows of the picture beside the
// picture itself, and the finished file in memory. Errors: those of to_srgb8 and files.hpp, pyramid.options, cancelled.
[[nodiscard]] Expected<void> build_pyramid(const Picture& picture, const std::filesystem::path& file,
                                           const PyramidOptions& options = {}, const Progress& progress = {});

// Cheap to copy; all copies read the same open file. Safe to use from several threads.
class PyramidReader {
public:
    // Errors: files.missing, files.unreadable, pyramid.damaged, pyramid.other-version; on the last two build it again.
    [[nodiscard]] static Expected<PyramidReader> open(const std::filesystem::path& file);

    [[nodiscard]] const PyramidShape& shape() const;

    // 3 channels, sRGB. Naming a tile that does not exist throws std::out_of_range. Errors: pyramid.damaged.
    [[nodiscard]] Expected<Raster8> tile(int level, int column, int row) const;

    // A whole level put together from its tiles. Errors as for tile().
    [[nodiscard]] Expected<Raster8> level(int level) const;

    // A small picture, from the smallest level that is large enough. Errors as for tile().
    [[nodiscard]] Expected<Raster8> preview(int longest_side_px) const;

private:
    struct File;
    explicit PyramidReader(std::shared_ptr<const File> file) : file_(std::move(file)) {}
    std::shared_ptr<const File> file_;
};

}  // namespace tedge::imaging
