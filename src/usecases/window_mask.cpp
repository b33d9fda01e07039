#include "window_mask.hpp"

#include <algorithm>

#include "tedge/imaging/difference_regions.hpp"

namespace tedge::usecases {

Expected<imaging::Raster8> window_mask(const std::vector<Region>& windows, const Placement& face_from_photo,
                                       SizePx photo) {
    constexpr std::size_t most = 255;
    imaging::Raster8 numbered(photo.width_px, photo.height_px, 1);
    for (std::size_t i = 0; i < std::min(most, windows.size()); ++i) {
        const auto inside = imaging::region_mask(windows[i], face_from_photo, photo);
        if (!inside) return pass_on(inside);
        std::ranges::transform(inside->samples(), numbered.samples(), numbered.samples().begin(),
                               [number = static_cast<std::uint8_t>(i + 1)](std::uint8_t in, std::uint8_t before) {
                                   return in != 0 ? number : before;
                               });
    }
    return numbered;
}

}  // namespace tedge::usecases
