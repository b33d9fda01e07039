// JPEG by libjpeg-turbo. Its warnings are taken seriously: a picture with grey where pixels should be is refused.
#include <csetjmp>
#include <cstdio>
// jpeglib.h needs <cstdio> before it.
#include <fmt/format.h>
#include <jpeglib.h>
// The numbers of the warnings depend on what jpeglib.h says of the library: jerror.h read before it numbers them wrong.
#include <jerror.h>

#include <algorithm>
#include <memory>

#include "colour_profile.hpp"
#include "picture_codecs.hpp"

namespace tedge::imaging {
namespace {

constexpr int most_scans = 500;  // a progressive file may repeat scans without end

bool is_harmless(int warning) {
    return warning == JWRN_EXTRANEOUS_DATA || warning == JWRN_TOO_MUCH_DATA || warning == JWRN_ADOBE_XFORM ||
           warning == JWRN_JFIF_MAJOR || warning == JWRN_BOGUS_ICC;
}

// libjpeg leaves by longjmp: every call goes through guarded(), whose frame holds nothing to destroy.
class JpegReader {
public:
    JpegReader(std::string_view bytes, const Progress& progress) : stop_asked_(progress) {
        info_.err = jpeg_std_error(&errors_);
        info_.client_data = this;
        errors_.error_exit = [](j_common_ptr info) { std::longjmp(self(info).escape_, 1); };
        errors_.emit_message = [](j_common_ptr info, int level) {
            if (level >= 0) return;
            if (info->err->msg_code == JWRN_BOGUS_ICC) self(info).broken_profile_ = true;
            if (!is_harmless(info->err->msg_code)) self(info).take_as_damage();
        };
        errors_.output_message = [](j_common_ptr) {};
        progress_.progress_monitor = [](j_common_ptr info) {
            JpegReader& reader = self(info);
            reader.too_many_scans_ = reader.info_.input_scan_number > most_scans;
            if (reader.too_many_scans_ || reader.stop_asked_.stopped()) std::longjmp(reader.escape_, 1);
        };
        created_ = guarded([this, bytes] {
            jpeg_create_decompress(&info_);
            info_.progress = &progress_;
            jpeg_mem_src(&info_, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
        });
    }
    JpegReader(const JpegReader&) = delete;
    JpegReader& operator=(const JpegReader&) = delete;
    ~JpegReader() { jpeg_destroy_decompress(&info_); }

    [[nodiscard]] bool read_header() {
        return created_ && guarded([this] {
                   jpeg_save_markers(&info_, JPEG_APP0 + 2, 0xFFFF);
                   jpeg_read_header(&info_, TRUE);
               });
    }
    [[nodiscard]] bool start() {
        decoding_ = true;
        return guarded([this] { jpeg_start_decompress(&info_); }) && !damage_;
    }
    [[nodiscard]] bool read_row(std::uint8_t* row) {
        return guarded([this, row] {
                   JSAMPROW rows[1] = {row};
                   jpeg_read_scanlines(&info_, rows, 1);
               }) &&
               !damage_;
    }
    [[nodiscard]] bool finish() {
        return guarded([this] { jpeg_finish_decompress(&info_); }) && !damage_;
    }
    [[nodiscard]] ProfileBytes profile() {
        JOCTET* data = nullptr;
        unsigned int size = 0;
        if (!guarded([&] { jpeg_read_icc_profile(&info_, &data, &size); }) || data == nullptr) return {};
        ProfileBytes bytes(data, data + size);
        std::free(data);
        return bytes;
    }
    [[nodiscard]] bool has_broken_profile() const { return broken_profile_; }
    [[nodiscard]] std::string reason() {
        if (damage_) return "its compressed pixels are cut short or corrupt";
        if (too_many_scans_) return fmt::format("its pixels come in more than {} passes", most_scans);
        char text[JMSG_LENGTH_MAX] = {};
        errors_.format_message(reinterpret_cast<j_common_ptr>(&info_), text);
        return fmt::format("the decoder says \"{}\"", text);
    }
    // A whole file of a sort that the library leaves out: 12 or 16 bits a sample, lossless, inks of its own.
    [[nodiscard]] bool is_of_unread_sort() const {
        const int code = errors_.msg_code;
        if (damage_ || too_many_scans_) return false;
        if (code == JERR_BAD_PRECISION) return errors_.msg_parm.i[0] == 12 || errors_.msg_parm.i[0] == 16;
        return code == JERR_SOF_UNSUPPORTED || code == JERR_CONVERSION_NOTIMPL || code == JERR_FRACT_SAMPLE_NOTIMPL;
    }
    [[nodiscard]] jpeg_decompress_struct& info() { return info_; }

private:
    static JpegReader& self(j_common_ptr info) { return *static_cast<JpegReader*>(info->client_data); }

    // Once pixels are damaged they are not looked at further: a progressive file would go through all its passes yet.
    void take_as_damage() {
        damage_ = true;
        if (decoding_) std::longjmp(escape_, 1);
    }

    template <class Call>
    [[nodiscard]] bool guarded(const Call& call) {
        if (setjmp(escape_) != 0) return false;
        call();
        return true;
    }

    jpeg_decompress_struct info_{};
    jpeg_error_mgr errors_{};
    jpeg_progress_mgr progress_{};
    std::jmp_buf escape_{};
    Progress stop_asked_;
    bool decoding_ = false;
    bool damage_ = false;
    bool too_many_scans_ = false;
    bool broken_profile_ = false;
    bool created_ = false;
};

bool is_cmyk(const jpeg_decompress_struct& info) {
    return info.jpeg_color_space == JCS_CMYK || info.jpeg_color_space == JCS_YCCK;
}

Expected<void> open_header(JpegReader& reader, const PictureJob& job) {
    if (!reader.read_header()) {
        if (reader.is_of_unread_sort()) return job.unsupported(reader.reason());
        return job.damaged("its head is cut short or corrupt, " + reader.reason());
    }
    return job.check_size(reader.info().image_width, reader.info().image_height);
}

void note_density(const jpeg_decompress_struct& info, PictureMetadata& metadata) {
    if (info.X_density <= 1) return;
    if (info.density_unit == 1) metadata.pixels_per_inch = info.X_density;
    if (info.density_unit == 2) metadata.pixels_per_inch = info.X_density * 2.54;
}

std::unexpected<Error> refusal(JpegReader& reader, const PictureJob& job) {
    if (job.progress.stopped()) return cancelled();
    return reader.is_of_unread_sort() ? job.unsupported(reader.reason()) : job.damaged(reader.reason());
}

Expected<void> read_row(JpegReader& reader, const PictureJob& job, int y, int height, std::uint8_t* row) {
    if (job.stopped_at_row(y, height)) return cancelled();
    if (reader.read_row(row)) return {};
    if (job.progress.stopped()) return cancelled();
    return job.cut_short_at_row(y, height);
}

Expected<Raster8> decoded_rows(JpegReader& reader, const PictureJob& job) {
    auto& info = reader.info();
    if (!reader.start()) return refusal(reader, job);
    const int height = static_cast<int>(info.output_height);
    // Room for all rows is made when there is a first one: a head alone may claim any size.
    std::vector<std::uint8_t> first(std::size_t{info.output_width} * static_cast<std::size_t>(info.output_components));
    if (const auto read = read_row(reader, job, 0, height, first.data()); !read) return pass_on(read);
    Raster8 pixels(static_cast<int>(info.output_width), height, info.output_components);
    std::ranges::copy(first, pixels.row(0));
    for (int y = 1; y < height; ++y)
        if (const auto read = read_row(reader, job, y, height, pixels.row(y)); !read) return pass_on(read);
    if (!reader.finish()) return refusal(reader, job);
    return pixels;
}

// Printers' files: turned into sRGB by their own profile, for nothing else here speaks ink.
Expected<Picture> from_cmyk(const PictureJob& job, const Raster8& inks, const ProfileBytes& profile, bool inverted) {
    if (profile.empty()) return job.unsupported("it is in printing inks (CMYK) and says nothing of which");
    const auto transform =
        SrgbTransform::make(profile, inverted ? SampleLayout::cmyk8_inverted : SampleLayout::cmyk8, SampleLayout::rgb8);
    if (!transform) return pass_on(transform);
    Raster8 rgb(inks.width_px(), inks.height_px(), 3);
    for (int y = 0; y < inks.height_px(); ++y)
        transform->apply(inks.row(y), rgb.row(y), static_cast<std::size_t>(inks.width_px()));
    Picture picture{.kind = job.kind, .pixels = std::move(rgb)};
    picture.notes.emplace_back("It was in printing inks (CMYK) and was turned into sRGB by its own profile.");
    return picture;
}

}  // namespace

Expected<Picture> decode_jpeg(const PictureJob& job) {
    const auto reader = std::make_unique<JpegReader>(job.bytes, job.progress);
    if (const auto opened = open_header(*reader, job); !opened) return pass_on(opened);
    auto& info = reader->info();
    const bool cmyk = is_cmyk(info);
    info.out_color_space = cmyk ? JCS_CMYK : info.num_components == 1 ? JCS_GRAYSCALE : JCS_RGB;
    ProfileBytes profile = reader->profile();
    auto pixels = decoded_rows(*reader, job);
    if (!pixels) return pass_on(pixels);

    Picture picture{.kind = job.kind};
    if (cmyk) {
        auto converted = from_cmyk(job, *pixels, profile, info.saw_Adobe_marker != 0);
        if (!converted) return converted;
        picture = std::move(*converted);
    } else {
        picture.pixels = std::move(*pixels);
        picture.icc_profile = std::move(profile);
        if (reader->has_broken_profile()) picture.notes.emplace_back(profile_left_out_note);
    }
    note_density(info, picture.metadata);
    return picture;
}

Expected<PictureProbe> probe_jpeg(const PictureJob& job) {
    const auto reader = std::make_unique<JpegReader>(job.bytes, job.progress);
    if (const auto opened = open_header(*reader, job); !opened) return pass_on(opened);
    auto& info = reader->info();
    PictureProbe probe{.kind = job.kind,
                       .size = {static_cast<int>(info.image_width), static_cast<int>(info.image_height)},
                       .channels = info.num_components == 1 ? 1 : 3};
    probe.has_icc_profile = !is_cmyk(info) && !reader->profile().empty();
    note_density(info, probe.metadata);
    return probe;
}

}  // namespace tedge::imaging
