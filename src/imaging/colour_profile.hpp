// ICC profiles by Little CMS. Transforms keep no cache, so one transform may serve several threads.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

using ProfileBytes = std::vector<std::uint8_t>;

enum class SampleLayout { grey8, grey16, rgb8, rgb16, cmyk8, cmyk8_inverted, cmyk16 };

// From a profile's colours to sRGB, relative colorimetric.
class SrgbTransform {
public:
    // target: rgb8 or rgb16. Errors: picture.colour-profile (unreadable, or for another number of channels).
    [[nodiscard]] static Expected<SrgbTransform> make(std::span<const std::uint8_t> profile, SampleLayout source,
                                                      SampleLayout target);
    void apply(const void* from, void* to, std::size_t pixels) const;

private:
    struct Handles;
    std::shared_ptr<const Handles> handles_;
};

// How many channels the profile is for (1, 3, 4), 0 when it cannot be read.
[[nodiscard]] int profile_channels(std::span<const std::uint8_t> profile);

// True when the RGB or grey profile moves no colour by as much as an 8-bit step from sRGB.
[[nodiscard]] bool profile_is_srgb(std::span<const std::uint8_t> profile);

struct Chromaticity {
    double x = 0.0;
    double y = 0.0;
};

// Empty when the description is impossible. Encoded^gamma is linear light; gamma 0 stands for the sRGB curve.
[[nodiscard]] ProfileBytes rgb_profile(Chromaticity white, Chromaticity red, Chromaticity green, Chromaticity blue,
                                       double gamma);
[[nodiscard]] ProfileBytes grey_profile(double gamma);

// A profile for the channels of a picture, or empty with `fits` false when it is for something else.
[[nodiscard]] bool profile_fits(std::span<const std::uint8_t> profile, int channels);
inline constexpr const char* profile_left_out_note =
    "Its colour profile does not fit its pixels and was left out; sRGB is assumed.";

}  // namespace tedge::imaging
