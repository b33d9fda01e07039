// PNG by libpng: 1 to 16 bits, grey, palette and RGB, with or without alpha, interlaced or not.
#include <png.h>

#include <algorithm>
#include <bit>
#include <csetjmp>
#include <cstring>
#include <memory>
#include <optional>

#include "colour_profile.hpp"
#include "picture_alpha.hpp"
#include "picture_codecs.hpp"
#include "picture_metadata.hpp"

namespace tedge::imaging {
namespace {

constexpr png_alloc_size_t largest_side_chunk = 64U << 20U;  // a profile or a text, inflated

// libpng leaves by longjmp: every call goes through guarded(), whose frame holds nothing to destroy.
class PngReader {
public:
    explicit PngReader(std::string_view bytes) : bytes_(bytes) {
        png_ = png_create_read_struct(
            PNG_LIBPNG_VER_STRING, this,
            [](png_structp png, png_const_charp) { std::longjmp(self(png_get_error_ptr(png)).escape_, 1); },
            [](png_structp, png_const_charp) {});
        info_ = png_ != nullptr ? png_create_info_struct(png_) : nullptr;
        if (info_ == nullptr) return;
        png_set_user_limits(png_, 0x7fffffffU, 0x7fffffffU);  // sizes are ours to refuse, with a sentence
        png_set_chunk_malloc_max(png_, largest_side_chunk);
        png_set_read_fn(png_, this, [](png_structp png, png_bytep to, std::size_t count) {
            self(png_get_io_ptr(png)).give(png, to, count);
        });
        if (!pass_over_what_is_not_asked()) png_destroy_info_struct(png_, &info_);
    }
    PngReader(const PngReader&) = delete;
    PngReader& operator=(const PngReader&) = delete;
    ~PngReader() { png_destroy_read_struct(&png_, &info_, nullptr); }

    template <class Call>
    [[nodiscard]] bool guarded(const Call& call) {
        if (info_ == nullptr || setjmp(escape_) != 0) return false;
        call();
        return true;
    }
    [[nodiscard]] bool ran_out() const { return ran_out_; }
    [[nodiscard]] png_structp png() const { return png_; }
    [[nodiscard]] png_infop info() const { return info_; }

private:
    static PngReader& self(png_voidp pointer) { return *static_cast<PngReader*>(pointer); }

    // Texts are read by the metadata's own reader, Exif by exif_of. Here texts would all be inflated and kept: a few
    // kilobytes of them fill any memory.
    [[nodiscard]] bool pass_over_what_is_not_asked() {
        static constexpr char names[] = "eXIf\0tEXt\0zTXt\0iTXt\0sPLT\0hIST\0pCAL\0sCAL";  // each with its zero
        return guarded([this] {
            png_set_keep_unknown_chunks(png_, PNG_HANDLE_CHUNK_NEVER, reinterpret_cast<png_const_bytep>(names),
                                        static_cast<int>(sizeof names / 5));
        });
    }

    void give(png_structp png, png_bytep to, std::size_t count) {
        if (count > bytes_.size()) {
            ran_out_ = true;
            png_error(png, "end of file");
        }
        std::memcpy(to, bytes_.data(), count);
        bytes_.remove_prefix(count);
    }

    std::string_view bytes_;
    png_structp png_ = nullptr;
    png_infop info_ = nullptr;
    std::jmp_buf escape_{};
    bool ran_out_ = false;
};

std::unexpected<Error> damage(const PictureJob& job, const PngReader& reader) {
    return job.damaged(reader.ran_out() ? "it is cut short" : "its checksums or its compressed pixels are wrong");
}

struct Chunk {
    std::string_view name;
    std::string_view data;
    bool is_whole = true;  // false where it claims more than the file has
};

// The chunk at the beginning of `rest`, which is taken off it. Nothing at the file's end.
std::optional<Chunk> take_chunk(std::string_view& rest) {
    constexpr std::size_t head = 8, around = 12;  // length and name; with the checksum behind
    if (rest.size() < around) return std::nullopt;
    const auto byte = [rest](std::size_t i) { return std::size_t{static_cast<std::uint8_t>(rest[i])}; };
    const std::size_t length = byte(0) << 24U | byte(1) << 16U | byte(2) << 8U | byte(3);
    const std::size_t there = std::min(length, rest.size() - around);
    const Chunk chunk{rest.substr(4, 4), rest.substr(head, there), there == length};
    rest.remove_prefix(around + there);
    return chunk;
}

std::string_view chunks_of(std::string_view bytes) {
    constexpr std::size_t signature = 8;
    return bytes.substr(std::min(signature, bytes.size()));
}

// libpng makes room for a chunk of the length that it claims. Pixels are read piece by piece, and how many of them are
// there is told by row.
bool side_chunks_fit(std::string_view bytes) {
    std::string_view rest = chunks_of(bytes);
    while (const auto chunk = take_chunk(rest)) {
        if (chunk->name == "IEND") return true;
        if (!chunk->is_whole) return chunk->name == "IDAT";
    }
    return true;
}

// It may stand before the pixels or behind them: who reads only the head is to know as well which way up they are.
std::string_view exif_of(std::string_view bytes) {
    std::string_view rest = chunks_of(bytes);
    while (const auto chunk = take_chunk(rest)) {
        if (chunk->name == "eXIf" && chunk->is_whole) return chunk->data;
        if (chunk->name == "IEND") break;
    }
    return {};
}

Expected<void> open_header(PngReader& reader, const PictureJob& job) {
    if (!side_chunks_fit(job.bytes)) return job.damaged("it is cut short");
    if (!reader.guarded([&] { png_read_info(reader.png(), reader.info()); })) return damage(job, reader);
    return job.check_size(png_get_image_width(reader.png(), reader.info()),
                          png_get_image_height(reader.png(), reader.info()));
}

// 8 or 16 bits a sample, no palette, alpha where there is transparency.
[[nodiscard]] bool ask_for_plain_samples(PngReader& reader) {
    return reader.guarded([&] {
        png_set_expand(reader.png());
        if (std::endian::native == std::endian::little && png_get_bit_depth(reader.png(), reader.info()) == 16)
            png_set_swap(reader.png());
        png_set_interlace_handling(reader.png());
        png_read_update_info(reader.png(), reader.info());
    });
}

bool near(double a, double b, double tolerance) {
    return std::abs(a - b) <= tolerance;
}

// Chunks gAMA and cHRM, for files without a profile: PNG specification (W3C 2003), 11.3.3.
ProfileBytes profile_from_gamma(PngReader& reader, int channels) {
    double file_gamma = 0.0;
    if (png_get_gAMA(reader.png(), reader.info(), &file_gamma) == 0 || file_gamma <= 0.05) return {};
    double wx = 0.3127, wy = 0.3290, rx = 0.64, ry = 0.33, gx = 0.30, gy = 0.60, bx = 0.15, by = 0.06;
    png_get_cHRM(reader.png(), reader.info(), &wx, &wy, &rx, &ry, &gx, &gy, &bx, &by);
    const bool srgb_primaries = near(wx, 0.3127, 0.002) && near(wy, 0.3290, 0.002) && near(rx, 0.64, 0.002) &&
                                near(ry, 0.33, 0.002) && near(gx, 0.30, 0.002) && near(gy, 0.60, 0.002) &&
                                near(bx, 0.15, 0.002) && near(by, 0.06, 0.002);
    const bool srgb_gamma = near(file_gamma, 0.45455, 0.001);
    if (srgb_gamma && (srgb_primaries || channels == 1)) return {};
    const double gamma = srgb_gamma ? 0.0 : 1.0 / file_gamma;
    return channels == 1 ? grey_profile(gamma) : rgb_profile({wx, wy}, {rx, ry}, {gx, gy}, {bx, by}, gamma);
}

ProfileBytes profile_of(PngReader& reader, int channels) {
    png_charp name = nullptr;
    png_bytep data = nullptr;
    png_uint_32 size = 0;
    int method = 0;
    if (png_get_iCCP(reader.png(), reader.info(), &name, &method, &data, &size) != 0) return {data, data + size};
    int intent = 0;
    if (png_get_sRGB(reader.png(), reader.info(), &intent) != 0) return {};
    return profile_from_gamma(reader, channels);
}

void note_side_chunks(PngReader& reader, const PictureJob& job, PictureMetadata& metadata) {
    const png_uint_32 per_metre = png_get_pixels_per_meter(reader.png(), reader.info());
    if (per_metre > 0) metadata.pixels_per_inch = per_metre * 0.0254;
    const std::string_view exif = exif_of(job.bytes);
    if (!exif.empty()) add_exif_bytes({reinterpret_cast<const std::uint8_t*>(exif.data()), exif.size()}, metadata);
}

// Row `row_read` of all rows of all passes.
Expected<void> read_row(PngReader& reader, const PictureJob& job, int row_read, int rows, int height, png_bytep to) {
    if (job.stopped_at_row(row_read, rows)) return cancelled();
    if (reader.guarded([&] { png_read_row(reader.png(), to, nullptr); })) return {};
    if (reader.ran_out()) return job.cut_short_at_row(row_read % height, height);
    return damage(job, reader);
}

template <class T>
Expected<Raster<T>> read_samples(PngReader& reader, const PictureJob& job) {
    const int width = static_cast<int>(png_get_image_width(reader.png(), reader.info()));
    const int height = static_cast<int>(png_get_image_height(reader.png(), reader.info()));
    const int channels = png_get_channels(reader.png(), reader.info());
    const int rows = height * (png_get_interlace_type(reader.png(), reader.info()) == PNG_INTERLACE_ADAM7 ? 7 : 1);
    // Room for all rows is made when there is a first one: a head alone may claim any size.
    Raster<T> first(width, 1, channels);
    const auto read_into = [&](T* to, int row) {
        return read_row(reader, job, row, rows, height, reinterpret_cast<png_bytep>(to));
    };
    if (const auto read = read_into(first.row(0), 0); !read) return pass_on(read);
    Raster<T> samples(width, height, channels);
    std::ranges::copy(first.samples(), samples.row(0));
    for (int row = 1; row < rows; ++row)
        if (const auto read = read_into(samples.row(row % height), row); !read) return pass_on(read);
    if (!reader.guarded([&] { png_read_end(reader.png(), reader.info()); })) return damage(job, reader);
    return samples;
}

template <class T>
Expected<Picture> decode_samples(PngReader& reader, const PictureJob& job) {
    auto samples = read_samples<T>(reader, job);
    if (!samples) return pass_on(samples);
    Picture picture{.kind = job.kind};
    if (samples->channels() % 2 == 1) {
        picture.pixels = std::move(*samples);
        return picture;
    }
    auto opaque = lay_on_white(*samples, samples->channels() - 1, false);
    picture.pixels = std::move(opaque.pixels);
    if (opaque.had_transparency) picture.notes.emplace_back(laid_on_white_note);
    return picture;
}

}  // namespace

Expected<Picture> decode_png(const PictureJob& job) {
    const auto reader = std::make_unique<PngReader>(job.bytes);
    if (const auto opened = open_header(*reader, job); !opened) return pass_on(opened);
    if (!ask_for_plain_samples(*reader)) return damage(job, *reader);
    auto picture = png_get_bit_depth(reader->png(), reader->info()) == 16 ? decode_samples<std::uint16_t>(*reader, job)
                                                                          : decode_samples<std::uint8_t>(*reader, job);
    if (!picture) return picture;
    picture->icc_profile = profile_of(*reader, picture->channels());
    note_side_chunks(*reader, job, picture->metadata);
    return picture;
}

Expected<PictureProbe> probe_png(const PictureJob& job) {
    const auto reader = std::make_unique<PngReader>(job.bytes);
    if (const auto opened = open_header(*reader, job); !opened) return pass_on(opened);
    const bool grey =
        (png_get_color_type(reader->png(), reader->info()) & (PNG_COLOR_MASK_COLOR | PNG_COLOR_MASK_PALETTE)) == 0;
    PictureProbe probe{.kind = job.kind,
                       .size = {static_cast<int>(png_get_image_width(reader->png(), reader->info())),
                                static_cast<int>(png_get_image_height(reader->png(), reader->info()))},
                       .channels = grey ? 1 : 3,
                       .bits = png_get_bit_depth(reader->png(), reader->info()) == 16 ? 16 : 8};
    probe.has_icc_profile = !profile_of(*reader, probe.channels).empty();
    note_side_chunks(*reader, job, probe.metadata);
    return probe;
}

}  // namespace tedge::imaging
