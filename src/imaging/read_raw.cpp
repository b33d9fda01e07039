// Camera raw by LibRaw. The view is the camera's white balance and matrix under the sRGB curve, without automatic
// brightening, so that two exposures of one picture stay comparable.
#include <fmt/format.h>
#include <libraw/libraw.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <memory>

#include "picture_codecs.hpp"
#include "tedge/base/text.hpp"
#include "tiff_file.hpp"

namespace tedge::imaging {
namespace {

constexpr std::uint16_t photometric_colour_filter_array = 32803;  // TIFF/EP (ISO 12234-2)
constexpr std::uint16_t photometric_linear_raw = 34892;           // DNG 1.6

// LibRaw is too large for the stack.
std::unique_ptr<LibRaw> opened(std::string_view bytes, int& status) {
    auto raw = std::make_unique<LibRaw>(LIBRAW_OPIONS_NO_DATAERR_CALLBACK);
    // LibRaw only reads from the buffer; its parameter is not const for old callers.
    status = raw->open_buffer(const_cast<char*>(bytes.data()), bytes.size());
    return raw;
}

struct Watch {
    const PictureJob* job = nullptr;
    bool damaged = false;
};

void watch(LibRaw& raw, Watch& watch) {
    raw.set_dataerror_handler([](void* data, const char*, int) { static_cast<Watch*>(data)->damaged = true; }, &watch);
    raw.set_progress_handler(
        [](void* data, LibRaw_progress, int done, int expected) {
            const auto& job = *static_cast<Watch*>(data)->job;
            job.progress.at(expected > 0 ? static_cast<double>(done) / expected : 0.0, "developing the raw file");
            return job.progress.stopped() ? 1 : 0;
        },
        &watch);
}

std::unexpected<Error> refusal(const PictureJob& job, int status) {
    switch (status) {
        case LIBRAW_CANCELLED_BY_CALLBACK:
            return cancelled();
        case LIBRAW_UNSUFFICIENT_MEMORY:
        case LIBRAW_TOO_BIG:
            return out_of_memory(job.name);
        case LIBRAW_FILE_UNSUPPORTED:
        case LIBRAW_NOT_IMPLEMENTED:
            return job.unsupported("the decoder does not know this camera or this way of packing");
        default:
            return job.damaged("its sensor data are cut short or corrupt");
    }
}

// Whether pixels crowd at the brightest value that is there: a sensor that is full gives one value, light that is not
// thins out towards its brightest.
bool sensor_was_full(const LibRaw& raw) {
    const auto& sizes = raw.imgdata.sizes;
    const std::uint16_t* values = raw.imgdata.rawdata.raw_image;
    const std::size_t pitch = sizes.raw_pitch / sizeof(std::uint16_t);
    // Without a mosaic, or with one that does not fit its own margins, it is left to LibRaw.
    if (values == nullptr || sizes.top_margin + sizes.height > sizes.raw_height ||
        std::size_t{sizes.left_margin} + sizes.width > std::min<std::size_t>(pitch, sizes.raw_width))
        return true;
    const auto count = [&](double from, double below) {
        std::size_t found = 0;
        for (std::size_t y = 0; y < sizes.height; ++y) {
            const std::uint16_t* row = values + (y + sizes.top_margin) * pitch + sizes.left_margin;
            found += static_cast<std::size_t>(
                std::count_if(row, row + sizes.width, [=](std::uint16_t v) { return v >= from && v < below; }));
        }
        return found;
    };
    double brightest = 0.0;
    for (std::size_t y = 0; y < sizes.height; ++y) {
        const std::uint16_t* row = values + (y + sizes.top_margin) * pitch + sizes.left_margin;
        brightest = std::max(brightest, static_cast<double>(*std::max_element(row, row + sizes.width)));
    }
    constexpr std::size_t some_pixels = 50;
    return count(0.99 * brightest, 65536.0) > 2 * count(0.97 * brightest, 0.98 * brightest) + some_pixels;
}

bool has_camera_white_balance(const LibRaw& raw) {
    const float* multipliers = raw.imgdata.color.cam_mul;
    return multipliers[0] > 0.0F && multipliers[2] > 0.0F;
}

void ask_for(LibRaw& raw, RawRendering rendering) {
    auto& params = raw.imgdata.params;
    const bool view = rendering == RawRendering::view;
    params.output_bps = 16;
    // Where the camera wrote none, LibRaw would make the mean of the picture grey: it takes daylight when not asked.
    params.use_camera_wb = has_camera_white_balance(raw) ? 1 : 0;
    params.no_auto_bright = 1;
    // It takes the brightest value of a picture for the sensor's limit when that comes near it. Unless the sensor was
    // full, that brightens every picture by another factor, up to 4/3.
    if (!sensor_was_full(raw)) params.adjust_maximum_thr = 0.0F;
    params.output_color = view ? 1 : 0;  // sRGB, or the camera's own primaries
    params.gamm[0] = view ? 1.0 / 2.4 : 1.0;
    params.gamm[1] = view ? 12.92 : 1.0;
}

struct FreeImage {
    void operator()(libraw_processed_image_t* image) const { LibRaw::dcraw_clear_mem(image); }
};

Expected<Raster16> developed(const PictureJob& job, LibRaw& raw) {
    if (const int status = raw.dcraw_process(); status != LIBRAW_SUCCESS) return refusal(job, status);
    int status = LIBRAW_SUCCESS;
    const std::unique_ptr<libraw_processed_image_t, FreeImage> image(raw.dcraw_make_mem_image(&status));
    if (!image || status != LIBRAW_SUCCESS) return refusal(job, status);
    if (image->type != LIBRAW_IMAGE_BITMAP || image->bits != 16 || (image->colors != 1 && image->colors != 3))
        return job.unsupported("its sensor has an unusual number of colours");
    // Some sensors are turned or stretched into another size than they have.
    if (const auto sized = job.check_size(image->width, image->height); !sized) return pass_on(sized);
    Raster16 pixels(image->width, image->height, image->colors);
    const std::size_t bytes = pixels.samples().size() * sizeof(std::uint16_t);
    if (bytes > image->data_size) return job.damaged("its sensor data are cut short or corrupt");
    std::copy_n(image->data, bytes, reinterpret_cast<unsigned char*>(pixels.samples().data()));
    return pixels;
}

// LibRaw's flip counts as Exif orientation 1, 3, 8 (quarter anticlockwise) and 6 (quarter clockwise).
int exif_orientation(int flip) {
    return flip == 3 ? 3 : flip == 5 ? 8 : flip == 6 ? 6 : 1;
}

// A field of fixed size holds what the file holds: text or not, with a zero at its end or not.
template <std::size_t size>
std::string text_in(const char (&field)[size]) {
    const std::string_view text(field, static_cast<std::size_t>(std::ranges::find(field, '\0') - field));
    return is_valid_utf8(text) ? std::string(trimmed(text)) : std::string();
}

std::optional<double> figure_in(float said) {
    if (!std::isfinite(said) || !(said > 0.0F)) return std::nullopt;
    return static_cast<double>(said);
}

// What LibRaw itself read of the camera's words: some raw files are closed to Exiv2. Its time stamp went through the
// machine's time zone and is left out.
void note_words(const LibRaw& raw, PictureMetadata& metadata) {
    const auto& shot = raw.imgdata.other;
    metadata.camera_make = text_in(raw.imgdata.idata.make);
    metadata.camera_model = text_in(raw.imgdata.idata.model);
    metadata.lens = text_in(raw.imgdata.lens.Lens);
    metadata.exposure_s = figure_in(shot.shutter);
    metadata.f_number = figure_in(shot.aperture);
    metadata.iso = figure_in(shot.iso_speed);
    metadata.focal_length_mm = figure_in(shot.focal_len);
    metadata.orientation_in_file = exif_orientation(raw.imgdata.sizes.flip);
}

std::vector<double> white_balance_of(const LibRaw& raw) {
    const float* multipliers = raw.imgdata.color.pre_mul;
    const double green = multipliers[1] > 0.0F ? static_cast<double>(multipliers[1]) : 1.0;
    return {static_cast<double>(multipliers[0]) / green, 1.0, static_cast<double>(multipliers[2]) / green};
}

bool sub_pages_hold_sensor_data(const TiffFile& tiff) {
    std::uint16_t count = 0;
    const std::uint64_t* found = nullptr;
    if (TIFFGetField(tiff.handle(), TIFFTAG_SUBIFD, &count, &found) == 0 || found == nullptr) return false;
    const std::vector<std::uint64_t> offsets(found, found + std::min<std::uint16_t>(count, 16));
    return std::ranges::any_of(offsets, [&tiff](std::uint64_t offset) {
        std::uint16_t photometric = 0;
        return TIFFSetSubDirectory(tiff.handle(), offset) == 1 &&
               TIFFGetField(tiff.handle(), TIFFTAG_PHOTOMETRIC, &photometric) == 1 &&
               (photometric == photometric_colour_filter_array || photometric == photometric_linear_raw);
    });
}

bool has_maker_mark(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::string head(12, '\0');
    stream.read(head.data(), static_cast<std::streamsize>(head.size()));
    const std::string_view mark = std::string_view(head).substr(8);
    return mark.starts_with("CR") || mark == "IIII" || mark == "MMMM";  // Canon CR2, Phase One
}

}  // namespace

bool tiff_tags_say_camera_raw(const std::filesystem::path& file) {
    if (has_maker_mark(file)) return true;
    const TiffFile tiff(file);
    if (!tiff.ok()) return false;
    const std::uint8_t* version = nullptr;
    if (TIFFGetField(tiff.handle(), TIFFTAG_DNGVERSION, &version) == 1) return true;
    std::uint32_t kind = 0;
    TIFFGetField(tiff.handle(), TIFFTAG_SUBFILETYPE, &kind);
    const std::uint16_t photometric = tiff.layout().photometric;
    if (photometric == photometric_colour_filter_array || photometric == photometric_linear_raw) return true;
    return (kind & FILETYPE_REDUCEDIMAGE) != 0 || sub_pages_hold_sensor_data(tiff);
}

bool opens_as_camera_raw(std::string_view bytes) {
    int status = LIBRAW_SUCCESS;
    const auto raw = opened(bytes, status);
    return status == LIBRAW_SUCCESS && raw->imgdata.idata.raw_count > 0;
}

Expected<Picture> decode_raw(const PictureJob& job) {
    int status = LIBRAW_SUCCESS;
    const auto raw = opened(job.bytes, status);
    if (status != LIBRAW_SUCCESS) return refusal(job, status);
    if (const auto sized = job.check_size(raw->imgdata.sizes.raw_width, raw->imgdata.sizes.raw_height); !sized)
        return pass_on(sized);
    Watch watching{&job};
    watch(*raw, watching);
    status = raw->unpack();
    if (status == LIBRAW_SUCCESS && watching.damaged) status = LIBRAW_IO_ERROR;
    if (status != LIBRAW_SUCCESS) return refusal(job, status);
    ask_for(*raw, job.options.raw);
    auto pixels = developed(job, *raw);
    if (!pixels) return pass_on(pixels);
    Picture picture{.kind = job.kind, .pixels = std::move(*pixels)};
    note_words(*raw, picture.metadata);
    if (!has_camera_white_balance(*raw))
        picture.notes.emplace_back("The camera wrote no white balance into it: that of daylight was taken.");
    if (job.options.raw == RawRendering::camera_linear) picture.camera_space = CameraSpace{white_balance_of(*raw)};
    return picture;
}

Expected<PictureProbe> probe_raw(const PictureJob& job) {
    int status = LIBRAW_SUCCESS;
    const auto raw = opened(job.bytes, status);
    if (status != LIBRAW_SUCCESS) return refusal(job, status);
    if (const auto sized = job.check_size(raw->imgdata.sizes.raw_width, raw->imgdata.sizes.raw_height); !sized)
        return pass_on(sized);
    raw->adjust_sizes_info_only();
    PictureProbe probe{.kind = job.kind,
                       .size = {raw->imgdata.sizes.iwidth, raw->imgdata.sizes.iheight},
                       .channels = raw->imgdata.idata.colors == 1 ? 1 : 3,
                       .bits = 16};
    note_words(*raw, probe.metadata);
    return probe;
}

}  // namespace tedge::imaging
