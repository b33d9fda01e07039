// An open TIFF file with the tags of the picture in it that counts. Errors stay with the file: nothing is global.
#pragma once

#include <tiffio.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tedge::imaging {

enum class TiffAlpha { none, premultiplied, straight };

struct TiffLayout {
    std::uint32_t width = 0;
    std::uint32_t height = 0;
    std::uint16_t bits = 1;
    std::uint16_t samples = 1;
    std::uint16_t photometric = PHOTOMETRIC_MINISBLACK;
    std::uint16_t sample_format = SAMPLEFORMAT_UINT;
    std::uint16_t compression = COMPRESSION_NONE;
    std::uint16_t orientation = ORIENTATION_TOPLEFT;
    bool planes_apart = false;
    bool tiled = false;
    TiffAlpha alpha = TiffAlpha::none;

    // Channels that carry colour: the rest is alpha or unknown.
    [[nodiscard]] int colours() const {
        if (photometric == PHOTOMETRIC_SEPARATED) return 4;
        return photometric == PHOTOMETRIC_RGB || photometric == PHOTOMETRIC_YCBCR || is_lab() ? 3 : 1;
    }
    [[nodiscard]] bool is_lab() const { return photometric == PHOTOMETRIC_CIELAB || photometric == PHOTOMETRIC_ICCLAB; }
};

// Strips or tiles, plane by plane, each plane row by row.
struct PieceGrid {
    std::uint32_t count = 0;
    std::uint32_t across = 1;
    std::uint32_t down = 1;
    std::uint32_t rows_each = 0;
};

class TiffFile {
public:
    explicit TiffFile(const std::filesystem::path& file);
    TiffFile(const TiffFile&) = delete;
    TiffFile& operator=(const TiffFile&) = delete;

    [[nodiscard]] bool ok() const { return handle_ != nullptr; }
    [[nodiscard]] TIFF* handle() const { return handle_.get(); }
    [[nodiscard]] const std::string& last_error() const { return last_error_; }
    // A tag whose value lies beyond the end of the file: the library would go on without it, without its colours say.
    [[nodiscard]] bool lost_a_tag() const { return lost_a_tag_; }

    // Goes to the first page that is a whole picture, not a small copy or a mask; answers how many such pages there
    // are.
    int go_to_first_full_page();
    [[nodiscard]] TiffLayout layout() const;
    [[nodiscard]] std::vector<std::uint8_t> icc_profile() const;
    [[nodiscard]] double pixels_per_inch() const;  // 0: not said
    // Where the first strip or tile lies that the file is too short for: known before any room is made for pixels.
    [[nodiscard]] std::optional<int> first_row_beyond_the_end();

private:
    struct Close {
        void operator()(TIFF* tiff) const { TIFFClose(tiff); }
    };
    [[nodiscard]] bool is_full_page() const;
    [[nodiscard]] PieceGrid pieces() const;

    std::ifstream stream_;
    std::string last_error_;
    bool lost_a_tag_ = false;
    std::unique_ptr<TIFF, Close> handle_;
};

}  // namespace tedge::imaging
