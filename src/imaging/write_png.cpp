// PNG by libpng, 8 and 16 bits, grey and RGB.
#include <png.h>

#include <bit>
#include <cmath>
#include <csetjmp>

#include "picture_encoders.hpp"

namespace tedge::imaging {
namespace {

// libpng leaves by longjmp: every call goes through guarded(), whose frame holds nothing to destroy.
class PngWriter {
public:
    PngWriter() {
        png_ = png_create_write_struct(
            PNG_LIBPNG_VER_STRING, this,
            [](png_structp png, png_const_charp) {
                std::longjmp(static_cast<PngWriter*>(png_get_error_ptr(png))->escape_, 1);
            },
            [](png_structp, png_const_charp) {});
        info_ = png_ != nullptr ? png_create_info_struct(png_) : nullptr;
        if (info_ == nullptr) return;
        png_set_write_fn(
            png_, this,
            [](png_structp png, png_bytep from, std::size_t count) {
                static_cast<PngWriter*>(png_get_io_ptr(png))->bytes_.append(reinterpret_cast<const char*>(from), count);
            },
            [](png_structp) {});
    }
    PngWriter(const PngWriter&) = delete;
    PngWriter& operator=(const PngWriter&) = delete;
    ~PngWriter() { png_destroy_write_struct(&png_, &info_); }

    template <class T>
    [[nodiscard]] bool write(const Raster<T>& pixels, const PngOptions& options) {
        return guarded([&] {
            const int colour = pixels.channels() == 1 ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB;
            png_set_IHDR(png_, info_, static_cast<png_uint_32>(pixels.width_px()),
                         static_cast<png_uint_32>(pixels.height_px()), sizeof(T) * 8, colour, PNG_INTERLACE_NONE,
                         PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
            png_set_compression_level(png_, options.compression);
            describe(options);
            png_write_info(png_, info_);
            if (sizeof(T) == 2 && std::endian::native == std::endian::little) png_set_swap(png_);
            for (int y = 0; y < pixels.height_px(); ++y)
                png_write_row(png_, reinterpret_cast<png_const_bytep>(pixels.row(y)));
            png_write_end(png_, info_);
        });
    }
    [[nodiscard]] std::string take_bytes() { return std::move(bytes_); }

private:
    void describe(const PngOptions& options) {
        if (!options.description.empty()) {
            // libpng copies both.
            png_text text{};
            text.compression = PNG_TEXT_COMPRESSION_NONE;
            text.key = const_cast<png_charp>("Description");
            text.text = const_cast<png_charp>(options.description.c_str());
            png_set_text(png_, info_, &text, 1);
        }
        if (!options.icc_profile.empty())
            png_set_iCCP(png_, info_, "ICC profile", PNG_COMPRESSION_TYPE_BASE, options.icc_profile.data(),
                         static_cast<png_uint_32>(options.icc_profile.size()));
        else if (options.srgb_chunk)
            png_set_sRGB_gAMA_and_cHRM(png_, info_, PNG_sRGB_INTENT_RELATIVE);
        if (!options.pixels_per_inch) return;
        const auto per_metre = static_cast<png_uint_32>(std::lround(*options.pixels_per_inch / 0.0254));
        png_set_pHYs(png_, info_, per_metre, per_metre, PNG_RESOLUTION_METER);
    }

    template <class Call>
    [[nodiscard]] bool guarded(const Call& call) {
        if (info_ == nullptr || setjmp(escape_) != 0) return false;
        call();
        return true;
    }

    png_structp png_ = nullptr;
    png_infop info_ = nullptr;
    std::jmp_buf escape_{};
    std::string bytes_;
};

template <class T>
std::string encoded(const Raster<T>& pixels, const PngOptions& options) {
    PngWriter writer;
    if (!writer.write(pixels, options)) return {};
    return writer.take_bytes();
}

}  // namespace

std::string png_bytes(const Raster8& pixels, const PngOptions& options) {
    return encoded(pixels, options);
}
std::string png_bytes(const Raster16& pixels, const PngOptions& options) {
    return encoded(pixels, options);
}

}  // namespace tedge::imaging
