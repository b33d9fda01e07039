#include "tedge/imaging/picture.hpp"

#include <fmt/format.h>

#include <fstream>
#include <new>

#include "colour_profile.hpp"
#include "picture_codecs.hpp"
#include "picture_kind.hpp"
#include "picture_metadata.hpp"
#include "picture_orientation.hpp"
#include "tedge/base/files.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t head_bytes = 64;
// Far above what the largest picture needs; a file beyond it would fill the memory before any decoder looked at it.
constexpr std::uint64_t most_file_bytes = 4ULL << 30U;

// A file told by its content, with its bytes where the decoder wants them.
struct OpenedFile {
    PictureJob job;
    std::string bytes;
};

Expected<std::string> read_head(const std::filesystem::path& file) {
    if (auto is_file = check_is_file(file); !is_file) return pass_on(is_file);
    std::ifstream stream(file, std::ios::binary);
    // Whatever keeps it from being opened, files.hpp has the sentence for it.
    if (!stream) return read_file(file);
    std::string head(head_bytes, '\0');
    stream.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(stream.gcount()));
    return head;
}

Expected<std::string> read_whole(const PictureJob& job) {
    std::error_code unknown;
    const std::uintmax_t size = std::filesystem::file_size(job.file, unknown);
    if (unknown || size <= most_file_bytes) return read_file(job.file, most_file_bytes);
    return fail("picture.too-large",
                fmt::format("{} has {} bytes, more than any {} file that is read.", job.name, size, name_of(job.kind)),
                "Save it as a TIFF or make it smaller first; otherwise the file is damaged.",
                {{"name", job.name}, {"bytes", fmt::to_string(size)}});
}

// TIFF stays a TIFF unless its tags speak of sensor data and the raw decoder agrees.
Expected<void> settle_tiff_or_raw(OpenedFile& opened) {
    if (!tiff_tags_say_camera_raw(opened.job.file)) return {};
    auto bytes = read_whole(opened.job);
    if (!bytes) return pass_on(bytes);
    if (!opens_as_camera_raw(*bytes)) return {};
    opened.bytes = std::move(*bytes);
    opened.job.kind = PictureKind::camera_raw;
    return {};
}

Expected<std::unique_ptr<OpenedFile>> open_picture(const std::filesystem::path& file, const PictureReadOptions& options,
                                                   const Progress& progress) {
    const auto head = read_head(file);
    if (!head) return pass_on(head);
    auto opened = std::make_unique<OpenedFile>();
    opened->job = {
        .file = file, .name = to_utf8(file.filename()), .bytes = {}, .options = options, .progress = progress};
    const auto kind = kind_of_bytes(*head, opened->job.name);
    if (!kind) return pass_on(kind);
    opened->job.kind = *kind;
    if (*kind == PictureKind::tiff) {
        if (const auto settled = settle_tiff_or_raw(*opened); !settled) return pass_on(settled);
    } else {
        auto bytes = read_whole(opened->job);
        if (!bytes) return pass_on(bytes);
        opened->bytes = std::move(*bytes);
    }
    opened->job.bytes = opened->bytes;
    return opened;
}

Expected<Picture> decode(const PictureJob& job) {
    switch (job.kind) {
        case PictureKind::jpeg:
            return decode_jpeg(job);
        case PictureKind::png:
            return decode_png(job);
        case PictureKind::webp:
            return decode_webp(job);
        case PictureKind::heif:
            return decode_heif(job);
        case PictureKind::tiff:
            return decode_tiff(job);
        case PictureKind::camera_raw:
            return decode_raw(job);
    }
    return job.unsupported("its kind is unknown");
}

Expected<PictureProbe> probe(const PictureJob& job) {
    switch (job.kind) {
        case PictureKind::jpeg:
            return probe_jpeg(job);
        case PictureKind::png:
            return probe_png(job);
        case PictureKind::webp:
            return probe_webp(job);
        case PictureKind::heif:
            return probe_heif(job);
        case PictureKind::tiff:
            return probe_tiff(job);
        case PictureKind::camera_raw:
            return probe_raw(job);
    }
    return job.unsupported("its kind is unknown");
}

// These decoders give upright pixels themselves.
bool comes_upright(PictureKind kind) {
    return kind == PictureKind::heif || kind == PictureKind::camera_raw;
}

int orientation_to_apply(PictureKind kind, const PictureMetadata& metadata) {
    return comes_upright(kind) ? 1 : metadata.orientation_in_file;
}

// For TIFF the decoder's tag counts, for the page it read; Exif readers may answer for another page.
void complete_metadata(const PictureJob& job, PictureMetadata& metadata) {
    const int from_decoder = metadata.orientation_in_file;
    add_file_metadata(job.file, metadata);
    if (job.kind == PictureKind::tiff || job.kind == PictureKind::camera_raw)
        metadata.orientation_in_file = from_decoder;
}

ProfileBytes adobe_rgb() {
    // Adobe RGB (1998) Color Image Encoding, 2005-05: gamma 2 51/256.
    return rgb_profile({0.3127, 0.3290}, {0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}, 563.0 / 256.0);
}

bool asks_exif_for_colours(PictureKind kind, int channels, bool has_profile) {
    return kind == PictureKind::jpeg && channels == 3 && !has_profile;
}

// Where no profile stands. A picture with a note by now had one, or came from inks.
void take_colours_of_exif(Picture& picture) {
    if (!asks_exif_for_colours(picture.kind, picture.channels(), !picture.icc_profile.empty()) ||
        !picture.notes.empty())
        return;
    if (picture.metadata.colours == ExifColours::adobe_rgb) {
        picture.icc_profile = adobe_rgb();
        picture.notes.emplace_back("It has no colour profile; its Exif data say Adobe RGB, and so it was read.");
    } else if (picture.metadata.colours == ExifColours::another) {
        picture.notes.emplace_back(
            "Its Exif data say that its colours are not sRGB, but not which they are: sRGB is assumed.");
    }
}

void drop_profile_that_does_not_fit(Picture& picture) {
    if (picture.icc_profile.empty() || profile_fits(picture.icc_profile, picture.channels())) return;
    picture.icc_profile.clear();
    picture.notes.emplace_back(profile_left_out_note);
}

// Decoding libraries may throw, and so may allocation: the edge of this module is here.
template <class T, class Work>
Expected<T> guarded(const std::filesystem::path& file, const Work& work) {
    const std::string name = to_utf8(file.filename());
    try {
        return work();
    } catch (const std::bad_alloc&) {
        return out_of_memory(name);
    } catch (const std::length_error&) {
        return out_of_memory(name);
    }
}

}  // namespace

std::string_view name_of(PictureKind kind) {
    switch (kind) {
        case PictureKind::jpeg:
            return "JPEG";
        case PictureKind::png:
            return "PNG";
        case PictureKind::webp:
            return "WebP";
        case PictureKind::heif:
            return "HEIC/HEIF";
        case PictureKind::tiff:
            return "TIFF";
        case PictureKind::camera_raw:
            return "camera raw";
    }
    return "picture";
}

std::string_view media_type(PictureKind kind) {
    switch (kind) {
        case PictureKind::jpeg:
            return "image/jpeg";
        case PictureKind::png:
            return "image/png";
        case PictureKind::webp:
            return "image/webp";
        case PictureKind::heif:
            return "image/heif";
        case PictureKind::tiff:
            return "image/tiff";
        case PictureKind::camera_raw:
            return "image/x-dcraw";
    }
    return "application/octet-stream";
}

Expected<Picture> read_picture(const std::filesystem::path& file, const PictureReadOptions& options,
                               const Progress& progress) {
    return guarded<Picture>(file, [&]() -> Expected<Picture> {
        const auto opened = open_picture(file, options, progress);
        if (!opened) return pass_on(opened);
        const PictureJob& job = (*opened)->job;
        auto picture = decode(job);
        if (!picture) return picture;
        if (progress.stopped()) return cancelled();
        complete_metadata(job, picture->metadata);
        drop_profile_that_does_not_fit(*picture);
        take_colours_of_exif(*picture);
        turn_upright(*picture, orientation_to_apply(job.kind, picture->metadata));
        progress.at(1.0, "reading pixels");
        return picture;
    });
}

Expected<PictureProbe> probe_picture(const std::filesystem::path& file, const PictureReadOptions& options) {
    return guarded<PictureProbe>(file, [&]() -> Expected<PictureProbe> {
        const auto opened = open_picture(file, options, {});
        if (!opened) return pass_on(opened);
        const PictureJob& job = (*opened)->job;
        auto answer = probe(job);
        if (!answer) return answer;
        complete_metadata(job, answer->metadata);
        if (asks_exif_for_colours(answer->kind, answer->channels, answer->has_icc_profile))
            answer->has_icc_profile = answer->metadata.colours == ExifColours::adobe_rgb;
        answer->size = oriented_size(answer->size, orientation_to_apply(job.kind, answer->metadata));
        return answer;
    });
}

}  // namespace tedge::imaging
