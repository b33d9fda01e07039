#include "picture_job.hpp"

#include <fmt/format.h>

#include "row_progress.hpp"

namespace tedge::imaging {
namespace {

constexpr std::uint64_t longest_side_px = 65535;
constexpr std::uint64_t most_bytes_a_pixel = 8;  // 16-bit RGBA
constexpr const char* smaller_first =
    "If it is really that large, cut it into parts or make it smaller first; otherwise the file is damaged.";

std::map<std::string, std::string> values_of(const PictureJob& job, std::string_view what) {
    return {{"name", job.name}, {"kind", std::string(name_of(job.kind))}, {"what", std::string(what)}};
}

}  // namespace

std::unexpected<Error> PictureJob::damaged(std::string_view what) const {
    return fail(
        "picture.damaged", fmt::format("{} is a damaged {} file: {}.", name, name_of(kind), what),
        "Copy it again from the camera, or ask the sender for it again; the damaged file itself may still be kept.",
        values_of(*this, what));
}

std::unexpected<Error> PictureJob::unsupported(std::string_view what) const {
    return fail("picture.unsupported",
                fmt::format("{} is a {} file of a sort that is not read: {}.", name, name_of(kind), what),
                "Save it as an RGB or grey TIFF, PNG or JPEG in the program it comes from, and take that in.",
                values_of(*this, what));
}

std::unexpected<Error> PictureJob::cut_short_at_row(int row, int rows) const {
    return damaged(fmt::format("its pixels end in row {} of {}", row, rows));
}

Expected<void> PictureJob::check_size(std::uint64_t width_px, std::uint64_t height_px) const {
    if (width_px == 0 || height_px == 0) return damaged("it says that it has no pixels");
    const bool long_side = width_px > longest_side_px || height_px > longest_side_px;
    if (!long_side && width_px * height_px <= options.max_pixels) return {};
    const std::string most = long_side ? fmt::format("more than the {} on a side", longest_side_px)
                                       : fmt::format("more than the {} megapixels", options.max_pixels / 1'000'000);
    return fail("picture.too-large",
                fmt::format("{} says that it has {} × {} pixels, {} that are read.", name, width_px, height_px, most),
                smaller_first,
                {{"name", name}, {"width_px", fmt::to_string(width_px)}, {"height_px", fmt::to_string(height_px)}});
}

Expected<void> PictureJob::check_room(std::uint64_t pixel_bytes) const {
    const std::uint64_t most = options.max_pixels * most_bytes_a_pixel;
    if (pixel_bytes <= most) return {};
    return fail("picture.too-large",
                fmt::format("{} says that its pixels take {} MB, more than the {} MB that are read.", name,
                            pixel_bytes / 1'000'000, most / 1'000'000),
                smaller_first, {{"name", name}, {"bytes", fmt::to_string(pixel_bytes)}});
}

bool PictureJob::stopped_at_row(int row, int rows) const {
    return imaging::stopped_at_row(progress, row, rows, "reading pixels");
}

std::unexpected<Error> out_of_memory(std::string_view name) {
    return fail("picture.no-memory", fmt::format("There is not enough memory to open {}.", name),
                "Close other programs, or make the picture smaller first.", {{"name", std::string(name)}});
}

}  // namespace tedge::imaging
