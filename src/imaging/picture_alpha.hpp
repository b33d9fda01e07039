// Transparent pixels are laid on white: a photograph has no holes, and white is what its sender saw on his screen.
#pragma once

#include <cstdint>
#include <limits>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

inline constexpr const char* laid_on_white_note = "Transparent parts were laid on white.";

template <class T>
struct Opaque {
    Raster<T> pixels;
    bool had_transparency = false;
};

// From `colours` (1 or 3) channels and alpha as channel `colours`; further channels are left out. `premultiplied`:
// colours already hold alpha's share. Fully opaque pixels keep their exact values.
template <class T>
[[nodiscard]] Opaque<T> lay_on_white(const Raster<T>& with_alpha, int colours, bool premultiplied) {
    constexpr std::uint64_t full = std::numeric_limits<T>::max();
    Opaque<T> out{Raster<T>(with_alpha.width_px(), with_alpha.height_px(), colours)};
    const auto step = static_cast<std::size_t>(with_alpha.channels());
    const auto channels = static_cast<std::size_t>(colours);
    const T* from = with_alpha.samples().data();
    for (T *to = out.pixels.samples().data(), *end = to + out.pixels.samples().size(); to != end; to += channels) {
        const std::uint64_t alpha = from[channels];
        for (std::size_t c = 0; c < channels; ++c) {
            const std::uint64_t own = premultiplied ? from[c] * full : from[c] * alpha;
            const std::uint64_t sum = (own + full * (full - alpha) + full / 2) / full;
            to[c] = static_cast<T>(sum < full ? sum : full);
        }
        out.had_transparency = out.had_transparency || alpha != full;
        from += step;
    }
    return out;
}

// The first `colours` channels alone.
template <class T>
[[nodiscard]] Raster<T> without_extra_channels(const Raster<T>& many, int colours) {
    Raster<T> out(many.width_px(), many.height_px(), colours);
    const auto step = static_cast<std::size_t>(many.channels());
    const auto channels = static_cast<std::size_t>(colours);
    const T* from = many.samples().data();
    for (T *to = out.samples().data(), *end = to + out.samples().size(); to != end; to += channels, from += step)
        for (std::size_t c = 0; c < channels; ++c) to[c] = from[c];
    return out;
}

}  // namespace tedge::imaging
