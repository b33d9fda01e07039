// A picture as it comes back after somebody opened it elsewhere: cut, scaled, turned, saved as JPEG, nothing left of
// what its file said of itself.
#pragma once

#include <algorithm>
#include <cmath>

#include "registration_photos.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/shrink.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

namespace tedge::test_support {

struct Resaving {
    const char* name = "";
    int jpeg_quality = 90;
    double scale = 1.0;       // at most 1
    double kept_share = 1.0;  // of either side, cut first
    double cut_from = 0.5;    // where the cut lies: 0 upper left, 1 lower right
    int quarter_turns = 0;    // clockwise
};

inline constexpr std::array<Resaving, 12> usual_resavings{{
    {.name = "JPEG 95", .jpeg_quality = 95},
    {.name = "JPEG 75", .jpeg_quality = 75},
    {.name = "JPEG 60", .jpeg_quality = 60},
    {.name = "half", .scale = 0.5},
    {.name = "half, JPEG 60", .jpeg_quality = 60, .scale = 0.5},
    {.name = "two thirds", .kept_share = 2.0 / 3, .cut_from = 0.5},
    {.name = "two thirds, upper left", .kept_share = 2.0 / 3, .cut_from = 0.0},
    {.name = "two thirds, lower right, JPEG 60", .jpeg_quality = 60, .kept_share = 2.0 / 3, .cut_from = 1.0},
    {.name = "two thirds, half, JPEG 60", .jpeg_quality = 60, .scale = 0.5, .kept_share = 2.0 / 3, .cut_from = 0.3},
    {.name = "to 0.37, JPEG 75", .jpeg_quality = 75, .scale = 0.37},
    {.name = "turned to the right", .quarter_turns = 1},
    {.name = "upside down, JPEG 60", .jpeg_quality = 60, .quarter_turns = 2},
}};

inline imaging::Raster8 cut_out(const imaging::Raster8& from, const Resaving& how) {
    imaging::Raster8 out(static_cast<int>(std::lround(from.width_px() * how.kept_share)),
                         static_cast<int>(std::lround(from.height_px() * how.kept_share)), from.channels());
    const int left = static_cast<int>((from.width_px() - out.width_px()) * how.cut_from);
    const int top = static_cast<int>((from.height_px() - out.height_px()) * how.cut_from);
    for (int y = 0; y < out.height_px(); ++y) std::copy_n(&from.at(left, top + y), out.row_samples(), out.row(y));
    return out;
}

inline imaging::Raster8 turned_right(const imaging::Raster8& from) {
    imaging::Raster8 out(from.height_px(), from.width_px(), from.channels());
    for (int y = 0; y < out.height_px(); ++y)
        for (int x = 0; x < out.width_px(); ++x)
            std::copy_n(&from.at(y, from.height_px() - 1 - x), from.channels(), &out.at(x, y));
    return out;
}

inline std::string resaved_file(const imaging::Raster8& picture, const Resaving& how) {
    imaging::Raster8 out = cut_out(picture, how);
    const int longest = std::max(out.width_px(), out.height_px());
    out = imaging::shrunk_to_fit(out, static_cast<int>(std::lround(longest * how.scale)));
    for (int i = 0; i < how.quarter_turns; ++i) out = turned_right(out);
    return imaging::encode_picture(out, imaging::PictureFormat::jpeg,
                                   {.jpeg_quality = how.jpeg_quality, .jpeg_full_chroma = false})
        .value();
}

inline imaging::Raster8 resaved(const imaging::Raster8& picture, const Resaving& how) {
    const TemporaryFolder folder;
    write_file_durably(folder / "again.jpg", resaved_file(picture, how)).value();
    return photo(folder / "again.jpg");
}

}  // namespace tedge::test_support
