// One file being read: what a decoder gets, and the sentences it refuses with.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

struct PictureJob {
    PictureKind kind = PictureKind::png;
    std::filesystem::path file;
    std::string name;        // the file's name without folders, for sentences
    std::string_view bytes;  // the whole file; empty for TIFF, which is read piece by piece
    PictureReadOptions options;
    Progress progress;

    // `what` completes "<name> is a damaged JPEG file: …".
    [[nodiscard]] std::unexpected<Error> damaged(std::string_view what) const;
    // `what` completes "<name> is a JPEG file of a sort that is not read: …".
    [[nodiscard]] std::unexpected<Error> unsupported(std::string_view what) const;
    [[nodiscard]] std::unexpected<Error> cut_short_at_row(int row, int rows) const;
    // Before anything is allocated.
    [[nodiscard]] Expected<void> check_size(std::uint64_t width_px, std::uint64_t height_px) const;
    // For pixels that take more room than others while they are read: at most what max_pixels of 16-bit RGBA take.
    [[nodiscard]] Expected<void> check_room(std::uint64_t pixel_bytes) const;
    // Every few rows: reports, and answers true when the work shall stop.
    [[nodiscard]] bool stopped_at_row(int row, int rows) const;
};

[[nodiscard]] std::unexpected<Error> out_of_memory(std::string_view name);

}  // namespace tedge::imaging
