// Row by row down the picture: each level keeps one band of tiles and one row that waits for its partner.
#include <memory>

#include "linear_light.hpp"
#include "picture_encoders.hpp"
#include "pyramid_file.hpp"
#include "registration_workers.hpp"
#include "srgb_rows.hpp"
#include "tedge/base/files.hpp"

namespace tedge::imaging {
namespace {

using LinearRow = std::vector<std::uint16_t>;

class LevelBuilder {
public:
    LevelBuilder(const PyramidShape& shape, int level, int jpeg_quality, PyramidFileWriter& file)
        : shape_(shape),
          level_(level),
          jpeg_quality_(jpeg_quality),
          file_(&file),
          size_(shape.level_size(level)),
          band_(size_.width_px, std::min(shape.tile_px, size_.height_px), 3) {
        if (level + 1 == shape.levels) return;
        next_ = std::make_unique<LevelBuilder>(shape, level + 1, jpeg_quality, file);
        waiting_.resize(row_samples(size_));
        halved_.resize(row_samples(shape.level_size(level + 1)));
    }

    // srgb and linear hold the same row.
    void push(const std::uint8_t* srgb, const std::uint16_t* linear) {
        std::copy_n(srgb, band_.row_samples(), band_.row(row_ % shape_.tile_px));
        hand_down(linear);
        ++row_;
        if (row_ % shape_.tile_px == 0 || row_ == size_.height_px) write_band();
    }

private:
    static std::size_t row_samples(SizePx size) { return static_cast<std::size_t>(size.width_px) * 3; }

    void push_linear(const LinearRow& linear) {
        const auto& to_srgb8 = linear_light().to_srgb8;
        srgb_.resize(linear.size());
        for (std::size_t i = 0; i < linear.size(); ++i) srgb_[i] = to_srgb8[linear[i]];
        push(srgb_.data(), linear.data());
    }

    void hand_down(const std::uint16_t* linear) {
        if (!next_) return;
        const bool first_of_two = row_ % 2 == 0;
        if (first_of_two) std::copy_n(linear, waiting_.size(), waiting_.begin());
        if (first_of_two && row_ + 1 < size_.height_px) return;
        halve(waiting_.data(), first_of_two ? waiting_.data() : linear);
        next_->push_linear(halved_);
    }

    // Two rows to one of half the width; a last odd column is averaged with itself.
    void halve(const std::uint16_t* upper, const std::uint16_t* lower) {
        const std::size_t pairs = static_cast<std::size_t>(size_.width_px / 2);
        std::uint16_t* to = halved_.data();
        for (std::size_t i = 0; i < pairs; ++i)
            for (std::size_t c = 0; c < 3; ++c) {
                const std::size_t at = 6 * i + c;
                to[3 * i + c] = static_cast<std::uint16_t>(
                    (std::uint32_t{upper[at]} + upper[at + 3] + lower[at] + lower[at + 3] + 2U) / 4U);
            }
        if (size_.width_px % 2 == 0) return;
        for (std::size_t c = 0; c < 3; ++c)
            to[3 * pairs + c] =
                static_cast<std::uint16_t>((std::uint32_t{upper[6 * pairs + c]} + lower[6 * pairs + c] + 1U) / 2U);
    }

    // Tiles are packed side by side on all processors and put into the file in order.
    void write_band() {
        const int row = (row_ - 1) / shape_.tile_px;
        const int columns = shape_.tile_count(level_).width_px;
        std::vector<std::string> tiles(static_cast<std::size_t>(columns));
        const auto never = [] { return false; };
        for_each_index(columns, worker_count(0), never, [&](int column, int) {
            const SizePx size = shape_.tile_size(level_, column, row);
            const PixelBlock block{&band_, column * shape_.tile_px, 0, size.width_px, size.height_px};
            tiles[static_cast<std::size_t>(column)] = jpeg_bytes(block, {.quality = jpeg_quality_});
        });
        for (int column = 0; column < columns; ++column)
            file_->add(level_, column, row, tiles[static_cast<std::size_t>(column)]);
    }

    PyramidShape shape_;
    int level_;
    int jpeg_quality_;
    PyramidFileWriter* file_;
    SizePx size_;
    Raster8 band_;
    std::unique_ptr<LevelBuilder> next_;
    LinearRow waiting_;
    LinearRow halved_;
    std::vector<std::uint8_t> srgb_;
    int row_ = 0;
};

Expected<void> check(const Picture& picture, const PyramidOptions& options) {
    const bool fine = options.tile_px >= 64 && options.tile_px <= 1024 && options.jpeg_quality >= 1 &&
                      options.jpeg_quality <= 100 && picture.size().width_px > 0 && picture.size().height_px > 0;
    if (fine) return {};
    return fail("pyramid.options", "A pyramid needs a picture, tiles of 64 to 1024 pixels and a quality of 1 to 100.",
                "Choose other values.");
}

// Every row once through all levels. False: stopped.
bool push_all(const Picture& picture, const SrgbRows<std::uint8_t>& rows, LevelBuilder& level,
              const Progress& progress) {
    const SizePx size = picture.size();
    const auto& from_srgb8 = linear_light().from_srgb8;
    const std::size_t samples = static_cast<std::size_t>(size.width_px) * 3;
    std::vector<std::uint8_t> room(samples);
    LinearRow linear(samples);
    for (int y = 0; y < size.height_px; ++y) {
        if (progress.stopped()) return false;
        if (y % 64 == 0) progress.at(static_cast<double>(y) / size.height_px, "preparing the picture for zooming");
        const std::uint8_t* srgb = rows.row_or_copy(y, room.data());
        for (std::size_t i = 0; i < samples; ++i) linear[i] = from_srgb8[srgb[i]];
        level.push(srgb, linear.data());
    }
    return true;
}

}  // namespace

Expected<void> build_pyramid(const Picture& picture, const std::filesystem::path& file, const PyramidOptions& options,
                             const Progress& progress) {
    if (auto fine = check(picture, options); !fine) return fine;
    const auto rows = SrgbRows<std::uint8_t>::of(picture);
    if (!rows) return pass_on(rows);
    const PyramidShape shape = PyramidShape::of(picture.size(), options.tile_px);
    PyramidFileWriter writer(shape);
    LevelBuilder full_size(shape, 0, options.jpeg_quality, writer);
    if (!push_all(picture, *rows, full_size, progress)) return cancelled();
    return write_file_durably(file, writer.finish());
}

}  // namespace tedge::imaging
