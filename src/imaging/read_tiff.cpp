// TIFF by libtiff, sample by sample as the file has them: strips or tiles, planes together or apart, 1 to 32 bits,
// floating point of 16 and 32 bits, CIELAB. The library's own RGBA reading is 8 bit and is not used.
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "colour_profile.hpp"
#include "picture_alpha.hpp"
#include "picture_codecs.hpp"
#include "tiff_accepted.hpp"
#include "tiff_file.hpp"
#include "tiff_wide_samples.hpp"

namespace tedge::imaging {
namespace {

constexpr tmsize_t largest_tile_bytes = 256 << 20;

std::unexpected<Error> damage(const PictureJob& job, const TiffFile& tiff) {
    if (tiff.last_error().empty()) return job.damaged("it is cut short or corrupt");
    return job.damaged(fmt::format("it is cut short or corrupt, the decoder says \"{}\"", tiff.last_error()));
}

// `count` samples out of packed bytes; samples of 8 bits and more lie there as they are.
template <class T>
void unpack(const std::uint8_t* from, int bits, std::size_t first, std::size_t count, T* to, std::size_t step) {
    if (bits >= 8) {
        const T* typed = reinterpret_cast<const T*>(from) + first;
        for (std::size_t i = 0; i < count; ++i) to[i * step] = typed[i];
        return;
    }
    const auto width = static_cast<unsigned>(bits);
    const unsigned mask = (1U << width) - 1U;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t bit = (first + i) * width;
        const unsigned shift = 8U - width - static_cast<unsigned>(bit % 8);
        to[i * step] = static_cast<T>((static_cast<unsigned>(from[bit / 8]) >> shift) & mask);
    }
}

template <class T>
Expected<void> read_strips(const PictureJob& job, const TiffFile& tiff, const TiffLayout& layout, Raster<T>& out) {
    std::vector<std::uint8_t> line(static_cast<std::size_t>(TIFFScanlineSize(tiff.handle())));
    const int planes = layout.planes_apart ? layout.samples : 1;
    const std::size_t per_line = layout.planes_apart ? layout.width : out.row_samples();
    if (line.size() * 8 < per_line * layout.bits) return damage(job, tiff);
    const int height = out.height_px();
    for (int plane = 0; plane < planes; ++plane)
        for (int y = 0; y < height; ++y) {
            if (job.stopped_at_row(plane * height + y, planes * height)) return cancelled();
            if (TIFFReadScanline(tiff.handle(), line.data(), static_cast<std::uint32_t>(y),
                                 static_cast<std::uint16_t>(plane)) != 1)
                return job.cut_short_at_row(y, height);
            unpack(line.data(), layout.bits, 0, per_line, out.row(y) + plane, static_cast<std::size_t>(planes));
        }
    return {};
}

struct TileShape {
    std::uint32_t width = 0;
    std::uint32_t height = 0;
    std::size_t row_bytes = 0;
};

template <class T>
void place_tile(const std::vector<std::uint8_t>& tile, const TileShape& shape, const TiffLayout& layout,
                std::uint32_t x, std::uint32_t y, int plane, Raster<T>& out) {
    const std::size_t step = layout.planes_apart ? layout.samples : 1;
    const std::size_t per_pixel = layout.planes_apart ? 1 : layout.samples;
    const std::size_t count = std::min(shape.width, layout.width - x) * per_pixel;
    for (std::uint32_t row = 0; row < std::min(shape.height, layout.height - y); ++row) {
        T* to = out.row(static_cast<int>(y + row)) + std::size_t{x} * layout.samples + plane;
        unpack(tile.data() + row * shape.row_bytes, layout.bits, 0, count, to, step);
    }
}

template <class T>
Expected<void> read_tiles(const PictureJob& job, const TiffFile& tiff, const TiffLayout& layout, Raster<T>& out) {
    TileShape shape;
    TIFFGetField(tiff.handle(), TIFFTAG_TILEWIDTH, &shape.width);
    TIFFGetField(tiff.handle(), TIFFTAG_TILELENGTH, &shape.height);
    const tmsize_t bytes = TIFFTileSize(tiff.handle());
    const std::size_t tile_samples = std::size_t{shape.width} * (layout.planes_apart ? 1U : layout.samples);
    shape.row_bytes = static_cast<std::size_t>(TIFFTileRowSize(tiff.handle()));
    if (shape.width == 0 || shape.height == 0 || bytes <= 0 || bytes > largest_tile_bytes ||
        shape.row_bytes * 8 < tile_samples * layout.bits ||
        shape.row_bytes * shape.height > static_cast<std::size_t>(bytes))
        return job.damaged("its tiles have an impossible size");
    std::vector<std::uint8_t> tile(static_cast<std::size_t>(bytes));
    const int planes = layout.planes_apart ? layout.samples : 1;
    for (int plane = 0; plane < planes; ++plane)
        for (std::uint32_t y = 0; y < layout.height; y += shape.height) {
            job.progress.at(static_cast<double>(y) / layout.height, "reading pixels");
            for (std::uint32_t x = 0; x < layout.width; x += shape.width) {
                if (job.progress.stopped()) return cancelled();
                if (TIFFReadTile(tiff.handle(), tile.data(), x, y, 0, static_cast<std::uint16_t>(plane)) < 0)
                    return job.cut_short_at_row(static_cast<int>(y), static_cast<int>(layout.height));
                place_tile(tile, shape, layout, x, y, plane, out);
            }
        }
    return {};
}

template <class T>
Expected<Raster<T>> read_samples(const PictureJob& job, TiffFile& tiff, const TiffLayout& layout) {
    if (const auto row = tiff.first_row_beyond_the_end())
        return job.cut_short_at_row(*row, static_cast<int>(layout.height));
    Raster<T> out(static_cast<int>(layout.width), static_cast<int>(layout.height), layout.samples);
    const auto read = layout.tiled ? read_tiles(job, tiff, layout, out) : read_strips(job, tiff, layout, out);
    if (!read) return pass_on(read);
    return out;
}

// Scales samples of fewer bits, turns white-is-zero round, lays alpha on white.
template <class T>
void finish_grey_or_rgb(Raster<T>& samples, const TiffLayout& layout, Picture& picture) {
    constexpr unsigned full = std::numeric_limits<T>::max();
    const unsigned top = layout.bits < 8 ? (1U << layout.bits) - 1U : full;
    const auto step = static_cast<std::size_t>(samples.channels());
    if (top != full)
        for (T& sample : samples.samples()) sample = static_cast<T>(sample * full / top);
    if (layout.photometric == PHOTOMETRIC_MINISWHITE)
        for (std::size_t i = 0; i < samples.samples().size(); i += step)
            samples.samples()[i] = static_cast<T>(full - samples.samples()[i]);
    if (layout.samples == layout.colours()) {
        picture.pixels = std::move(samples);
    } else if (layout.alpha == TiffAlpha::none) {
        picture.pixels = without_extra_channels(samples, layout.colours());
        picture.notes.emplace_back("It has channels beyond its colours, which were left out.");
    } else {
        auto opaque = lay_on_white(samples, layout.colours(), layout.alpha == TiffAlpha::premultiplied);
        picture.pixels = std::move(opaque.pixels);
        if (opaque.had_transparency) picture.notes.emplace_back(laid_on_white_note);
    }
}

Expected<void> finish_palette(const PictureJob& job, const TiffFile& tiff, const Raster8& indices,
                              const TiffLayout& layout, Picture& picture) {
    std::uint16_t *red = nullptr, *green = nullptr, *blue = nullptr;
    if (TIFFGetField(tiff.handle(), TIFFTAG_COLORMAP, &red, &green, &blue) == 0)
        return job.damaged("its palette is missing");
    // The palette holds 16 bits; some old writers put 8 into them (TIFF 6.0 asks for 16).
    const std::size_t entries = std::size_t{1} << layout.bits;
    const bool only_8 = std::ranges::all_of(std::span(red, entries), [](auto v) { return v < 256; }) &&
                        std::ranges::all_of(std::span(green, entries), [](auto v) { return v < 256; }) &&
                        std::ranges::all_of(std::span(blue, entries), [](auto v) { return v < 256; });
    const unsigned divisor = only_8 ? 1 : 257;
    Raster8 rgb(indices.width_px(), indices.height_px(), 3);
    std::uint8_t* to = rgb.samples().data();
    for (const std::uint8_t index : indices.samples())
        for (const std::uint16_t* map : {red, green, blue})
            *to++ = static_cast<std::uint8_t>((map[index] + divisor / 2) / divisor);
    picture.pixels = std::move(rgb);
    return {};
}

template <class T>
Expected<void> finish_cmyk(const PictureJob& job, const Raster<T>& inks, Picture& picture) {
    if (picture.icc_profile.empty()) return job.unsupported("it is in printing inks (CMYK) and says nothing of which");
    constexpr bool deep = sizeof(T) == 2;
    const auto transform = SrgbTransform::make(picture.icc_profile, deep ? SampleLayout::cmyk16 : SampleLayout::cmyk8,
                                               deep ? SampleLayout::rgb16 : SampleLayout::rgb8);
    if (!transform) return pass_on(transform);
    Raster<T> rgb(inks.width_px(), inks.height_px(), 3);
    for (int y = 0; y < inks.height_px(); ++y)
        transform->apply(inks.row(y), rgb.row(y), static_cast<std::size_t>(inks.width_px()));
    picture.pixels = std::move(rgb);
    picture.icc_profile.clear();
    picture.notes.emplace_back("It was in printing inks (CMYK) and was turned into sRGB by its own profile.");
    return {};
}

template <class T>
Expected<void> decode_whole_numbers(const PictureJob& job, TiffFile& tiff, const TiffLayout& layout, Picture& picture) {
    auto samples = read_samples<T>(job, tiff, layout);
    if (!samples) return pass_on(samples);
    if (layout.photometric == PHOTOMETRIC_SEPARATED) return finish_cmyk(job, *samples, picture);
    if constexpr (sizeof(T) == 1)
        if (layout.photometric == PHOTOMETRIC_PALETTE) return finish_palette(job, tiff, *samples, layout, picture);
    finish_grey_or_rgb(*samples, layout, picture);
    return {};
}

Expected<RasterF> read_floats(const PictureJob& job, TiffFile& tiff, const TiffLayout& layout) {
    if (layout.bits == 32) return read_samples<float>(job, tiff, layout);
    const auto halves = read_samples<std::uint16_t>(job, tiff, layout);
    if (!halves) return pass_on(halves);
    return from_half_floats(*halves);
}

// Floating-point pictures are linear light by common practice unless their profile or their values say otherwise.
Expected<void> decode_floating(const PictureJob& job, TiffFile& tiff, TiffLayout layout, Picture& picture) {
    const auto samples = read_floats(job, tiff, layout);
    if (!samples) return pass_on(samples);
    const FloatTop top = top_of(*samples);
    UnitFloats whole = from_floats(*samples, top);
    if (whole.cut_off_above) picture.notes.emplace_back("Values above 1 were cut off.");
    if (whole.black_below) picture.notes.emplace_back("Values below 0, or that are no numbers, were read as black.");
    layout.bits = 16;
    finish_grey_or_rgb(whole.samples, layout, picture);
    if (top != FloatTop::one) {
        picture.notes.push_back(
            fmt::format("Its floating-point values run to {}: they were read as those of {} bits, {}.",
                        top == FloatTop::of_8_bits ? "255" : "65535", top == FloatTop::of_8_bits ? "8" : "16",
                        picture.icc_profile.empty() ? "in sRGB" : "in the colours of its profile"));
        return {};
    }
    if (!picture.icc_profile.empty()) return {};
    picture.icc_profile = layout.colours() == 1
                              ? grey_profile(1.0)
                              : rgb_profile({0.3127, 0.3290}, {0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, 1.0);
    picture.notes.emplace_back("Its floating-point values were read as linear light from 0 to 1.");
    return {};
}

Expected<void> decode_32_bits(const PictureJob& job, TiffFile& tiff, TiffLayout layout, Picture& picture) {
    const auto samples = read_samples<std::uint32_t>(job, tiff, layout);
    if (!samples) return pass_on(samples);
    Raster16 whole = from_32_bits(*samples);
    layout.bits = 16;
    finish_grey_or_rgb(whole, layout, picture);
    picture.notes.emplace_back("Of its 32 bits a sample the upper 16 were read.");
    return {};
}

template <class T>
Expected<void> decode_lab(const PictureJob& job, TiffFile& tiff, const TiffLayout& layout, Picture& picture) {
    const auto lab = read_samples<T>(job, tiff, layout);
    if (!lab) return pass_on(lab);
    picture.pixels = srgb_from_lab(*lab, layout.photometric == PHOTOMETRIC_ICCLAB);
    picture.icc_profile.clear();
    picture.notes.emplace_back("Its colours were in CIELAB (D50) and were turned into sRGB; those beyond it were cut.");
    return {};
}

Expected<void> decode_page(const PictureJob& job, TiffFile& tiff, const TiffLayout& layout, Picture& picture) {
    if (layout.is_lab())
        return layout.bits == 16 ? decode_lab<std::uint16_t>(job, tiff, layout, picture)
                                 : decode_lab<std::uint8_t>(job, tiff, layout, picture);
    if (layout.sample_format == SAMPLEFORMAT_IEEEFP) return decode_floating(job, tiff, layout, picture);
    if (layout.bits == 32) return decode_32_bits(job, tiff, layout, picture);
    return layout.bits == 16 ? decode_whole_numbers<std::uint16_t>(job, tiff, layout, picture)
                             : decode_whole_numbers<std::uint8_t>(job, tiff, layout, picture);
}

struct OpenedPage {
    TiffLayout layout;
    int pages = 0;
};

Expected<OpenedPage> open_page(const PictureJob& job, TiffFile& tiff) {
    if (!tiff.ok()) return damage(job, tiff);
    OpenedPage page;
    page.pages = tiff.go_to_first_full_page();
    if (page.pages == 0) return job.damaged("no whole picture is in it");
    if (tiff.lost_a_tag()) return job.damaged("it is cut short: a part of its description is missing");
    page.layout = tiff.layout();
    if (const auto fine = check_layout(job, page.layout); !fine) return pass_on(fine);
    if (page.layout.photometric == PHOTOMETRIC_YCBCR)
        TIFFSetField(tiff.handle(), TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
    return page;
}

void note_tags(const TiffFile& tiff, const TiffLayout& layout, PictureMetadata& metadata) {
    metadata.orientation_in_file = layout.orientation >= 1 && layout.orientation <= 8 ? layout.orientation : 1;
    if (const double per_inch = tiff.pixels_per_inch(); per_inch > 0.0) metadata.pixels_per_inch = per_inch;
}

}  // namespace

Expected<Picture> decode_tiff(const PictureJob& job) {
    TiffFile tiff(job.file);
    const auto page = open_page(job, tiff);
    if (!page) return pass_on(page);
    const TiffLayout& layout = page->layout;
    Picture picture{.kind = job.kind};
    picture.icc_profile = tiff.icc_profile();
    note_tags(tiff, layout, picture.metadata);
    if (page->pages > 1) picture.notes.emplace_back("It holds several pages; the first was read.");
    if (const auto decoded = decode_page(job, tiff, layout, picture); !decoded) return pass_on(decoded);
    return picture;
}

Expected<PictureProbe> probe_tiff(const PictureJob& job) {
    TiffFile tiff(job.file);
    const auto page = open_page(job, tiff);
    if (!page) return pass_on(page);
    const TiffLayout& layout = page->layout;
    const bool grey = layout.photometric == PHOTOMETRIC_MINISBLACK || layout.photometric == PHOTOMETRIC_MINISWHITE;
    PictureProbe probe{.kind = job.kind,
                       .size = {static_cast<int>(layout.width), static_cast<int>(layout.height)},
                       .channels = grey ? 1 : 3,
                       .bits = layout.bits > 8 || layout.is_lab() ? 16 : 8};
    probe.has_icc_profile =
        layout.photometric != PHOTOMETRIC_SEPARATED && !layout.is_lab() && !tiff.icc_profile().empty();
    note_tags(tiff, layout, probe.metadata);
    return probe;
}

}  // namespace tedge::imaging
