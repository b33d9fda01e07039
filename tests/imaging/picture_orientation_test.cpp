#include <catch2/catch.hpp>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

enum class Side { top, bottom, left, right };
struct Meaning {
    Side first_row;
    Side first_column;
};

// TIFF 6.0, tag 274 (and Exif 2.32, tag 0x0112): which side of the picture as seen the stored first row and column are.
constexpr Meaning meanings[8] = {{Side::top, Side::left},     {Side::top, Side::right},  {Side::bottom, Side::right},
                                 {Side::bottom, Side::left},  {Side::left, Side::top},   {Side::right, Side::top},
                                 {Side::right, Side::bottom}, {Side::left, Side::bottom}};

int across(Side side, int index, int width) {
    return side == Side::left ? index : width - 1 - index;
}
int down(Side side, int index, int height) {
    return side == Side::top ? index : height - 1 - index;
}

// The picture as it must be stored so that it is seen as `seen`.
Raster8 stored_for(const Raster8& seen, const Meaning& meaning) {
    const bool rows_run_down = meaning.first_row == Side::top || meaning.first_row == Side::bottom;
    const int rows = rows_run_down ? seen.height_px() : seen.width_px();
    const int columns = rows_run_down ? seen.width_px() : seen.height_px();
    Raster8 stored(columns, rows, seen.channels());
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c) {
            const int x = rows_run_down ? across(meaning.first_column, c, seen.width_px())
                                        : across(meaning.first_row, r, seen.width_px());
            const int y = rows_run_down ? down(meaning.first_row, r, seen.height_px())
                                        : down(meaning.first_column, c, seen.height_px());
            for (int k = 0; k < seen.channels(); ++k) stored.at(c, r, k) = seen.at(x, y, k);
        }
    return stored;
}

}  // namespace

TEST_CASE("orientations 1 to 8 are turned upright") {
    const TemporaryFolder folder;
    const Raster8 seen = samples::smooth8(150, 70, 3);
    for (int orientation = 1; orientation <= 8; ++orientation) {
        INFO("orientation " << orientation);
        const Raster8 stored = stored_for(seen, meanings[orientation - 1]);

        samples::write_tiff(folder / "o.tif", stored.width_px(), stored.height_px(), samples::rows_of(stored),
                            {.orientation = orientation});
        const auto tiff = read_picture(folder / "o.tif");
        REQUIRE(tiff);
        CHECK(std::get<Raster8>(tiff->pixels) == seen);
        CHECK(tiff->metadata.orientation_in_file == orientation);

        const auto jpeg = encode_picture(stored, PictureFormat::jpeg, {.jpeg_quality = 100}).value();
        samples::save(folder / "o.jpg", samples::with_exif(jpeg, samples::exif_with_orientation(orientation)));
        const auto photo = read_picture(folder / "o.jpg");
        REQUIRE(photo);
        CHECK(samples::largest_difference(std::get<Raster8>(photo->pixels), seen) <= 4);

        const auto png = samples::png_from_rows(stored.width_px(), stored.height_px(), samples::rows_of(stored),
                                                {.exif = samples::exif_with_orientation(orientation)});
        samples::save(folder / "o.png", png);
        const auto shot = read_picture(folder / "o.png");
        REQUIRE(shot);
        CHECK(std::get<Raster8>(shot->pixels) == seen);

        for (const char* name : {"o.tif", "o.jpg", "o.png"}) {
            const auto probe = probe_picture(folder / name);
            REQUIRE(probe);
            CHECK(probe->size == seen.size());
        }
    }
}

TEST_CASE("16-bit pixels turn as 8-bit ones do") {
    const TemporaryFolder folder;
    const Raster16 stored = samples::exact16(37, 21, 1);
    samples::write_tiff(folder / "o.tif", 37, 21, samples::rows_of(stored),
                        {.bits = 16, .samples = 1, .photometric = 1, .orientation = 6});
    const auto picture = read_picture(folder / "o.tif");
    REQUIRE(picture);
    REQUIRE(picture->size() == SizePx{21, 37});
    // First row is the right side, first column the top.
    CHECK(std::get<Raster16>(picture->pixels).at(20, 0) == stored.at(0, 0));
    CHECK(std::get<Raster16>(picture->pixels).at(0, 36) == stored.at(36, 20));
}
