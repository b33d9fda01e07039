// JPEG by libjpeg-turbo: baseline, optimised tables off, so that bytes depend on the pixels and the quality alone.
#include <csetjmp>
#include <cstdio>
// jpeglib.h needs <cstdio> before it.
#include <jpeglib.h>

#include <cmath>
#include <cstdlib>

#include "picture_encoders.hpp"

namespace tedge::imaging {
namespace {

// libjpeg leaves by longjmp: every call goes through guarded(), whose frame holds nothing to destroy.
class JpegWriter {
public:
    JpegWriter() {
        info_.err = jpeg_std_error(&errors_);
        info_.client_data = this;
        errors_.error_exit = [](j_common_ptr info) {
            std::longjmp(static_cast<JpegWriter*>(info->client_data)->escape_, 1);
        };
        errors_.output_message = [](j_common_ptr) {};
        created_ = guarded([this] {
            jpeg_create_compress(&info_);
            jpeg_mem_dest(&info_, &bytes_, &size_);
        });
    }
    JpegWriter(const JpegWriter&) = delete;
    JpegWriter& operator=(const JpegWriter&) = delete;
    ~JpegWriter() {
        jpeg_destroy_compress(&info_);
        std::free(bytes_);
    }

    [[nodiscard]] bool start(const PixelBlock& block, const JpegOptions& options) {
        return created_ && guarded([&] {
                   info_.image_width = static_cast<JDIMENSION>(block.width);
                   info_.image_height = static_cast<JDIMENSION>(block.height);
                   info_.input_components = block.pixels->channels();
                   info_.in_color_space = block.pixels->channels() == 1 ? JCS_GRAYSCALE : JCS_RGB;
                   jpeg_set_defaults(&info_);
                   jpeg_set_quality(&info_, options.quality, TRUE);
                   if (options.full_chroma) info_.comp_info[0].h_samp_factor = info_.comp_info[0].v_samp_factor = 1;
                   set_density(options);
                   jpeg_start_compress(&info_, TRUE);
                   if (!options.description.empty())
                       jpeg_write_marker(&info_, JPEG_COM, reinterpret_cast<const JOCTET*>(options.description.data()),
                                         static_cast<unsigned>(options.description.size()));
                   if (!options.icc_profile.empty())
                       jpeg_write_icc_profile(&info_, options.icc_profile.data(),
                                              static_cast<unsigned>(options.icc_profile.size()));
               });
    }
    [[nodiscard]] bool write_rows(const PixelBlock& block) {
        return guarded([&] {
            const auto skip = static_cast<std::size_t>(block.x) * static_cast<std::size_t>(block.pixels->channels());
            for (int y = 0; y < block.height; ++y) {
                JSAMPROW rows[1] = {const_cast<JSAMPROW>(block.pixels->row(block.y + y) + skip)};  // only read
                jpeg_write_scanlines(&info_, rows, 1);
            }
            jpeg_finish_compress(&info_);
        });
    }
    [[nodiscard]] std::string bytes() const { return {reinterpret_cast<const char*>(bytes_), size_}; }

private:
    void set_density(const JpegOptions& options) {
        if (!options.pixels_per_inch) return;
        info_.density_unit = 1;
        info_.X_density = info_.Y_density = static_cast<UINT16>(std::lround(*options.pixels_per_inch));
    }

    template <class Call>
    [[nodiscard]] bool guarded(const Call& call) {
        if (setjmp(escape_) != 0) return false;
        call();
        return true;
    }

    jpeg_compress_struct info_{};
    jpeg_error_mgr errors_{};
    std::jmp_buf escape_{};
    unsigned char* bytes_ = nullptr;
    unsigned long size_ = 0;
    bool created_ = false;
};

}  // namespace

PixelBlock whole(const Raster8& pixels) {
    return {&pixels, 0, 0, pixels.width_px(), pixels.height_px()};
}

std::string jpeg_bytes(const PixelBlock& block, const JpegOptions& options) {
    JpegWriter writer;
    if (!writer.start(block, options) || !writer.write_rows(block)) return {};
    return writer.bytes();
}

}  // namespace tedge::imaging
