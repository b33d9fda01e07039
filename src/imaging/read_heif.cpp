// HEIC, HEIF and AVIF by libheif, which turns and mirrors the picture itself as the file asks.
#include <fmt/format.h>
#include <libheif/heif.h>

#include <algorithm>
#include <memory>

#include "colour_profile.hpp"
#include "picture_alpha.hpp"
#include "picture_codecs.hpp"

namespace tedge::imaging {
namespace {

struct FreeContext {
    void operator()(heif_context* context) const { heif_context_free(context); }
};
struct ReleaseHandle {
    void operator()(heif_image_handle* handle) const { heif_image_handle_release(handle); }
};
struct ReleaseImage {
    void operator()(heif_image* image) const { heif_image_release(image); }
};
using Context = std::unique_ptr<heif_context, FreeContext>;
using Handle = std::unique_ptr<heif_image_handle, ReleaseHandle>;
using Image = std::unique_ptr<heif_image, ReleaseImage>;

std::unexpected<Error> refusal(const PictureJob& job, const heif_error& error) {
    if (error.code == heif_error_Unsupported_feature || error.code == heif_error_Unsupported_filetype)
        return job.unsupported(fmt::format("the decoder says \"{}\"", error.message));
    if (error.code == heif_error_Memory_allocation_error && error.subcode != heif_suberror_Security_limit_exceeded)
        return out_of_memory(job.name);
    return job.damaged(fmt::format("it is cut short or corrupt, the decoder says \"{}\"", error.message));
}

struct Opened {
    Context context;
    Handle primary;
};

Expected<Opened> opened_primary(const PictureJob& job) {
    Opened opened{Context(heif_context_alloc()), nullptr};
    heif_context_set_maximum_image_size_limit(opened.context.get(), 65535);
    heif_error error =
        heif_context_read_from_memory_without_copy(opened.context.get(), job.bytes.data(), job.bytes.size(), nullptr);
    if (error.code != heif_error_Ok) return refusal(job, error);
    heif_image_handle* handle = nullptr;
    error = heif_context_get_primary_image_handle(opened.context.get(), &handle);
    if (error.code != heif_error_Ok) return refusal(job, error);
    opened.primary.reset(handle);
    const auto sized = job.check_size(static_cast<std::uint64_t>(std::max(0, heif_image_handle_get_width(handle))),
                                      static_cast<std::uint64_t>(std::max(0, heif_image_handle_get_height(handle))));
    if (!sized) return pass_on(sized);
    return opened;
}

// Coded colour description (ITU-T H.273) instead of a profile: primaries alone are taken from it.
ProfileBytes profile_from_code_points(const heif_image_handle* handle, std::vector<std::string>& notes) {
    heif_color_profile_nclx* nclx = nullptr;
    if (heif_image_handle_get_nclx_color_profile(handle, &nclx).code != heif_error_Ok || nclx == nullptr) return {};
    const std::unique_ptr<heif_color_profile_nclx, void (*)(heif_color_profile_nclx*)> owner(
        nclx, heif_nclx_color_profile_free);
    const auto transfer = nclx->transfer_characteristics;
    if (transfer == heif_transfer_characteristic_ITU_R_BT_2100_0_PQ ||
        transfer == heif_transfer_characteristic_ITU_R_BT_2100_0_HLG)
        notes.emplace_back(
            "It has a high-dynamic-range curve, which was read as if it were sRGB: tones are not to be measured.");
    const auto primaries = nclx->color_primaries;
    if (primaries != heif_color_primaries_SMPTE_EG_432_1 &&
        primaries != heif_color_primaries_ITU_R_BT_2020_2_and_2100_0)
        return {};
    return rgb_profile({nclx->color_primary_white_x, nclx->color_primary_white_y},
                       {nclx->color_primary_red_x, nclx->color_primary_red_y},
                       {nclx->color_primary_green_x, nclx->color_primary_green_y},
                       {nclx->color_primary_blue_x, nclx->color_primary_blue_y}, 0.0);
}

ProfileBytes profile_of(const heif_image_handle* handle, std::vector<std::string>& notes) {
    const std::size_t size = heif_image_handle_get_raw_color_profile_size(handle);
    if (size == 0) return profile_from_code_points(handle, notes);
    ProfileBytes profile(size);
    if (heif_image_handle_get_raw_color_profile(handle, profile.data()).code != heif_error_Ok) return {};
    return profile;
}

template <class T>
Raster<T> copied(const heif_image* image, int channels, int bits) {
    int stride = 0;
    const std::uint8_t* plane = heif_image_get_plane_readonly(image, heif_channel_interleaved, &stride);
    const int width = heif_image_get_width(image, heif_channel_interleaved);
    const int height = heif_image_get_height(image, heif_channel_interleaved);
    if (plane == nullptr || width <= 0 || height <= 0) return {};
    Raster<T> pixels(width, height, channels);
    const std::uint32_t top = (1U << static_cast<unsigned>(bits)) - 1U;
    for (int y = 0; y < height; ++y) {
        const std::uint8_t* from = plane + static_cast<std::ptrdiff_t>(stride) * y;
        T* to = pixels.row(y);
        if constexpr (sizeof(T) == 1) {
            std::copy_n(from, pixels.row_samples(), to);
        } else {
            for (std::size_t i = 0; i < pixels.row_samples(); ++i) {
                const auto value = static_cast<std::uint32_t>(from[2 * i] | (from[2 * i + 1] << 8));
                to[i] = static_cast<T>((std::min(value, top) * 65535U + top / 2U) / top);
            }
        }
    }
    return pixels;
}

template <class T>
Expected<Picture> from_image(const PictureJob& job, const heif_image* image, bool alpha, int bits) {
    Raster<T> pixels = copied<T>(image, alpha ? 4 : 3, bits);
    if (pixels.empty()) return job.damaged("it holds no pixels");
    Picture picture{.kind = job.kind};
    if (!alpha) {
        picture.pixels = std::move(pixels);
        return picture;
    }
    auto opaque = lay_on_white(pixels, 3, false);
    picture.pixels = std::move(opaque.pixels);
    if (opaque.had_transparency) picture.notes.emplace_back(laid_on_white_note);
    return picture;
}

// The coded picture inside need not have the size that the file's head says; what was promised by the head is kept.
Expected<void> check_decoded_size(const PictureJob& job, const heif_image_handle* head, const heif_image* image) {
    const int width = heif_image_get_width(image, heif_channel_interleaved);
    const int height = heif_image_get_height(image, heif_channel_interleaved);
    if (width == heif_image_handle_get_width(head) && height == heif_image_handle_get_height(head)) return {};
    return job.damaged(fmt::format("its head says {} x {} pixels, and {} x {} are in it",
                                   heif_image_handle_get_width(head), heif_image_handle_get_height(head), width,
                                   height));
}

heif_chroma chroma_for(bool deep, bool alpha) {
    if (deep) return alpha ? heif_chroma_interleaved_RRGGBBAA_LE : heif_chroma_interleaved_RRGGBB_LE;
    return alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB;
}

}  // namespace

Expected<Picture> decode_heif(const PictureJob& job) {
    const auto opened = opened_primary(job);
    if (!opened) return pass_on(opened);
    const heif_image_handle* handle = opened->primary.get();
    const bool deep = heif_image_handle_get_luma_bits_per_pixel(handle) > 8;
    const bool alpha = heif_image_handle_has_alpha_channel(handle) != 0;
    heif_image* decoded = nullptr;
    const heif_error error = heif_decode_image(handle, &decoded, heif_colorspace_RGB, chroma_for(deep, alpha), nullptr);
    const Image image(decoded);
    if (error.code != heif_error_Ok) return refusal(job, error);
    if (job.progress.stopped()) return cancelled();
    if (const auto sized = check_decoded_size(job, handle, decoded); !sized) return pass_on(sized);
    const int bits = heif_image_get_bits_per_pixel_range(decoded, heif_channel_interleaved);
    if (bits < 8 || bits > 16) return job.unsupported(fmt::format("it has {} bits a sample", bits));
    auto picture = deep ? from_image<std::uint16_t>(job, decoded, alpha, bits)
                        : from_image<std::uint8_t>(job, decoded, alpha, bits);
    if (picture) picture->icc_profile = profile_of(handle, picture->notes);
    return picture;
}

Expected<PictureProbe> probe_heif(const PictureJob& job) {
    const auto opened = opened_primary(job);
    if (!opened) return pass_on(opened);
    const heif_image_handle* handle = opened->primary.get();
    PictureProbe probe{.kind = job.kind,
                       .size = {heif_image_handle_get_width(handle), heif_image_handle_get_height(handle)},
                       .bits = heif_image_handle_get_luma_bits_per_pixel(handle) > 8 ? 16 : 8};
    std::vector<std::string> notes;
    probe.has_icc_profile = !profile_of(handle, notes).empty();
    return probe;
}

}  // namespace tedge::imaging
