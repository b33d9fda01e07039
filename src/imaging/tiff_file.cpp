#include "tiff_file.hpp"

#include <cstdarg>
#include <cstdio>

namespace tedge::imaging {
namespace {

constexpr int most_pages = 64;
// For a single list, strip or tile: more than any picture that is read needs.
constexpr tmsize_t most_bytes_at_once = tmsize_t{1} << 30;

std::ifstream& stream_of(thandle_t client) {
    return *static_cast<std::ifstream*>(client);
}

tmsize_t read_some(thandle_t client, void* to, tmsize_t count) {
    auto& stream = stream_of(client);
    stream.clear();
    stream.read(static_cast<char*>(to), count);
    return static_cast<tmsize_t>(stream.gcount());
}

tmsize_t write_nothing(thandle_t, void*, tmsize_t) {
    return -1;
}

toff_t seek_to(thandle_t client, toff_t offset, int whence) {
    auto& stream = stream_of(client);
    stream.clear();
    const auto from = whence == SEEK_SET ? std::ios::beg : whence == SEEK_CUR ? std::ios::cur : std::ios::end;
    stream.seekg(static_cast<std::streamoff>(offset), from);
    if (!stream) return static_cast<toff_t>(-1);
    return static_cast<toff_t>(stream.tellg());
}

toff_t size_of(thandle_t client) {
    return seek_to(client, 0, SEEK_END);
}

int keep_open(thandle_t) {
    return 0;
}

int map_nothing(thandle_t, void**, toff_t*) {
    return 0;
}
void unmap_nothing(thandle_t, void*, toff_t) {}

__attribute__((format(printf, 4, 0))) int keep_message(TIFF*, void* kept, const char*, const char* format,
                                                       std::va_list arguments) {
    char text[256] = {};
    std::vsnprintf(text, sizeof text, format, arguments);
    *static_cast<std::string*>(kept) = text;
    return 1;
}

int look_for_lost_tags(TIFF*, void* lost, const char*, const char* format, std::va_list) {
    if (std::string_view(format).starts_with("IO error during reading")) *static_cast<bool*>(lost) = true;
    return 1;
}

TiffAlpha alpha_of(TIFF* tiff) {
    std::uint16_t count = 0;
    const std::uint16_t* kinds = nullptr;
    if (TIFFGetField(tiff, TIFFTAG_EXTRASAMPLES, &count, &kinds) == 0 || count == 0) return TiffAlpha::none;
    if (kinds[0] == EXTRASAMPLE_ASSOCALPHA) return TiffAlpha::premultiplied;
    return kinds[0] == EXTRASAMPLE_UNASSALPHA ? TiffAlpha::straight : TiffAlpha::none;
}

}  // namespace

TiffFile::TiffFile(const std::filesystem::path& file) : stream_(file, std::ios::binary) {
    if (!stream_) return;
    const std::unique_ptr<TIFFOpenOptions, void (*)(TIFFOpenOptions*)> options(TIFFOpenOptionsAlloc(),
                                                                               TIFFOpenOptionsFree);
    TIFFOpenOptionsSetMaxSingleMemAlloc(options.get(), most_bytes_at_once);
    TIFFOpenOptionsSetErrorHandlerExtR(options.get(), keep_message, &last_error_);
    TIFFOpenOptionsSetWarningHandlerExtR(options.get(), look_for_lost_tags, &lost_a_tag_);
    handle_.reset(TIFFClientOpenExt("picture", "rm", &stream_, read_some, write_nothing, seek_to, keep_open, size_of,
                                    map_nothing, unmap_nothing, options.get()));
}

bool TiffFile::is_full_page() const {
    std::uint32_t kind = 0;
    TIFFGetField(handle(), TIFFTAG_SUBFILETYPE, &kind);
    return (kind & (FILETYPE_REDUCEDIMAGE | FILETYPE_MASK)) == 0;
}

int TiffFile::go_to_first_full_page() {
    int full_pages = 0;
    tdir_t first = 0;
    tdir_t page = 0;
    do {
        if (is_full_page() && full_pages++ == 0) first = page;
        ++page;
    } while (page < most_pages && TIFFReadDirectory(handle()) == 1);
    if (TIFFSetDirectory(handle(), first) != 1) return 0;
    return full_pages;
}

TiffLayout TiffFile::layout() const {
    TiffLayout out;
    std::uint16_t planar = PLANARCONFIG_CONTIG;
    TIFFGetField(handle(), TIFFTAG_IMAGEWIDTH, &out.width);
    TIFFGetField(handle(), TIFFTAG_IMAGELENGTH, &out.height);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_BITSPERSAMPLE, &out.bits);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_SAMPLESPERPIXEL, &out.samples);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_SAMPLEFORMAT, &out.sample_format);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_COMPRESSION, &out.compression);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_ORIENTATION, &out.orientation);
    TIFFGetFieldDefaulted(handle(), TIFFTAG_PLANARCONFIG, &planar);
    if (TIFFGetField(handle(), TIFFTAG_PHOTOMETRIC, &out.photometric) == 0)
        out.photometric = out.samples >= 3 ? PHOTOMETRIC_RGB : PHOTOMETRIC_MINISBLACK;
    out.planes_apart = planar == PLANARCONFIG_SEPARATE && out.samples > 1;
    out.tiled = TIFFIsTiled(handle()) != 0;
    out.alpha = alpha_of(handle());
    return out;
}

PieceGrid TiffFile::pieces() const {
    const TiffLayout page = layout();
    const auto parts = [](std::uint32_t whole, std::uint32_t part) { return part == 0 ? 1 : (whole - 1) / part + 1; };
    PieceGrid grid;
    if (page.tiled) {
        std::uint32_t width = 0;
        TIFFGetField(handle(), TIFFTAG_TILEWIDTH, &width);
        TIFFGetField(handle(), TIFFTAG_TILELENGTH, &grid.rows_each);
        grid.across = parts(page.width, width);
        grid.count = TIFFNumberOfTiles(handle());
    } else {
        TIFFGetFieldDefaulted(handle(), TIFFTAG_ROWSPERSTRIP, &grid.rows_each);
        grid.count = TIFFNumberOfStrips(handle());
    }
    grid.down = parts(page.height, grid.rows_each);
    return grid;
}

std::optional<int> TiffFile::first_row_beyond_the_end() {
    const PieceGrid grid = pieces();
    const toff_t end = size_of(&stream_);
    for (std::uint32_t piece = 0; piece < grid.count; ++piece) {
        const toff_t begin = TIFFGetStrileOffset(handle(), piece);
        if (begin <= end && TIFFGetStrileByteCount(handle(), piece) <= end - begin) continue;
        return static_cast<int>(piece / grid.across % grid.down * grid.rows_each);
    }
    return std::nullopt;
}

std::vector<std::uint8_t> TiffFile::icc_profile() const {
    std::uint32_t size = 0;
    const void* data = nullptr;
    if (TIFFGetField(handle(), TIFFTAG_ICCPROFILE, &size, &data) == 0 || data == nullptr) return {};
    const auto* bytes = static_cast<const std::uint8_t*>(data);
    return {bytes, bytes + size};
}

double TiffFile::pixels_per_inch() const {
    float resolution = 0.0F;
    std::uint16_t unit = RESUNIT_INCH;
    if (TIFFGetField(handle(), TIFFTAG_XRESOLUTION, &resolution) == 0 || !(resolution > 0.0F)) return 0.0;
    TIFFGetFieldDefaulted(handle(), TIFFTAG_RESOLUTIONUNIT, &unit);
    const auto per_unit = static_cast<double>(resolution);
    return unit == RESUNIT_INCH ? per_unit : unit == RESUNIT_CENTIMETER ? per_unit * 2.54 : 0.0;
}

}  // namespace tedge::imaging
