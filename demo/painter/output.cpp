#include "output.hpp"

#include <jpeglib.h>

#include <csetjmp>
#include <cstdio>
#include <cstdlib>

#include "exif.hpp"

namespace tedge::painter {
namespace {

// Exif orientation 6: the stored picture must be turned a quarter clockwise to be seen upright, so it is stored turned
// a quarter the other way.
imaging::Raster8 turned_for_storage(const imaging::Raster8& upright) {
    imaging::Raster8 stored(upright.height_px(), upright.width_px(), 3);
    for (int y = 0; y < stored.height_px(); ++y)
        for (int x = 0; x < stored.width_px(); ++x)
            for (int c = 0; c < 3; ++c) stored.at(x, y, c) = upright.at(upright.width_px() - 1 - y, x, c);
    return stored;
}

std::string jpeg(const imaging::Raster8& pixels, int quality, bool full_chroma) {
    jpeg_compress_struct job{};
    jpeg_error_mgr errors{};
    job.err = jpeg_std_error(&errors);
    jpeg_create_compress(&job);
    unsigned char* buffer = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&job, &buffer, &size);
    job.image_width = static_cast<JDIMENSION>(pixels.width_px());
    job.image_height = static_cast<JDIMENSION>(pixels.height_px());
    job.input_components = 3;
    job.in_color_space = JCS_RGB;
    jpeg_set_defaults(&job);
    jpeg_set_quality(&job, quality, TRUE);
    if (full_chroma) job.comp_info[0].h_samp_factor = job.comp_info[0].v_samp_factor = 1;
    jpeg_start_compress(&job, TRUE);
    while (job.next_scanline < job.image_height) {
        auto* row = const_cast<JSAMPROW>(pixels.row(static_cast<int>(job.next_scanline)));
        jpeg_write_scanlines(&job, &row, 1);
    }
    jpeg_finish_compress(&job);
    std::string bytes(reinterpret_cast<const char*>(buffer), size);
    jpeg_destroy_compress(&job);
    std::free(buffer);
    return bytes;
}

std::string tiff16(const imaging::Raster16& p) {
    const auto le = [](std::uint32_t v, int n) {
        std::string s;
        for (int i = 0; i < n; ++i) s.push_back(static_cast<char>(v >> (8 * i)));
        return s;
    };
    const std::uint32_t bytes = static_cast<std::uint32_t>(p.samples().size() * 2);
    std::string out = std::string("II*\0", 4) + le(8 + bytes, 4);
    out.append(reinterpret_cast<const char*>(p.samples().data()), bytes);
    const std::uint32_t bits = 8 + bytes + 2 + 12 * 9 + 4;
    out += le(9, 2);
    const auto entry = [&](unsigned tag, unsigned type, unsigned count, unsigned value) {
        out += le(tag, 2) + le(type, 2) + le(count, 4) + le(value, 4);
    };
    entry(256, 4, 1, static_cast<unsigned>(p.width_px()));
    entry(257, 4, 1, static_cast<unsigned>(p.height_px()));
    entry(258, 3, 3, bits);
    entry(259, 3, 1, 1);
    entry(262, 3, 1, 2);
    entry(273, 4, 1, 8);
    entry(277, 3, 1, 3);
    entry(278, 4, 1, static_cast<unsigned>(p.height_px()));
    entry(279, 4, 1, bytes);
    out += le(0, 4) + le(16, 2) + le(16, 2) + le(16, 2);
    return out;
}

}  // namespace

Expected<std::string> encoded(const Photograph& photograph, Pixels pixels) {
    if (photograph.sixteen_bit) return tiff16(std::get<imaging::Raster16>(pixels));
    auto& upright = std::get<imaging::Raster8>(pixels);
    const imaging::Raster8 stored = photograph.orientation == 6 ? turned_for_storage(upright) : std::move(upright);
    const std::string bytes = jpeg(stored, photograph.jpeg_quality, !photograph.telephone);
    const ExifWords words = photograph.telephone
                                ? ExifWords{"Wren", "Wren Pocket 3", photograph.taken_at, photograph.orientation}
                                : ExifWords{"Larch", "Larch Studio 24", photograph.taken_at, photograph.orientation};
    return bytes.substr(0, 2) + exif_segment(words) + bytes.substr(2);
}

}  // namespace tedge::painter
