#include "tedge/imaging/crack_drawing.hpp"

#include <algorithm>

#include "luminance.hpp"

namespace tedge::imaging {
namespace {

// Half way to white, in grey: what stays of the picture tells where one is.
Raster8 paled(const Raster8& srgb) {
    Raster8 out(srgb.width_px(), srgb.height_px(), 3);
    const auto step = static_cast<std::size_t>(srgb.channels());
    const auto from = srgb.samples();
    const auto to = out.samples();
    for (std::size_t i = 0; i < to.size() / 3; ++i) {
        const std::uint8_t* pixel = &from[i * step];
        const int light = encoded_lightness(pixel, static_cast<int>(step));
        std::fill_n(&to[i * 3], 3, static_cast<std::uint8_t>(127 + light / 2));
    }
    return out;
}

void paint(Raster8& picture, PixelXY at, int reach, const LineColour& colour) {
    for (int y = std::max(0, at.y - reach); y <= std::min(picture.height_px() - 1, at.y + reach); ++y)
        for (int x = std::max(0, at.x - reach); x <= std::min(picture.width_px() - 1, at.x + reach); ++x)
            std::ranges::copy(colour, picture.row(y) + 3 * x);
}

const LineColour& colour_of(CrackFate fate) {
    switch (fate) {
        case CrackFate::appeared:
            return appeared_crack_colour;
        case CrackFate::gone:
            return gone_crack_colour;
        case CrackFate::undecided:
            return undecided_crack_colour;
        case CrackFate::same:
            break;
    }
    return same_crack_colour;
}

Expected<void> check(const Raster8& srgb, SizePx size) {
    if (srgb.size() == size && (srgb.channels() == 1 || srgb.channels() == 3)) return {};
    return fail("cracks.sizes-differ", "The picture has another size than the map of its cracks.",
                "Draw them on the picture they were found in.");
}

}  // namespace

Expected<Raster8> draw_cracks(const Raster8& srgb, const CrackMap& map) {
    if (const auto fine = check(srgb, map.size); !fine) return pass_on(fine);
    Raster8 out = paled(srgb);
    for (const Crack& crack : map.cracks)
        for (const CrackPixel& pixel : crack.pixels) paint(out, pixel.at, 0, crack_colour);
    return out;
}

Expected<Raster8> draw_crack_change(const Raster8& srgb, const CrackChange& change) {
    if (const auto fine = check(srgb, change.size); !fine) return pass_on(fine);
    Raster8 out = paled(srgb);
    // What changed lies on top.
    for (const CrackFate fate : {CrackFate::same, CrackFate::undecided, CrackFate::gone, CrackFate::appeared})
        for (const CrackPiece& piece : change.pieces)
            if (piece.fate == fate)
                for (const PixelXY at : piece.pixels)
                    paint(out, at, fate == CrackFate::same || fate == CrackFate::undecided ? 0 : 1, colour_of(fate));
    return out;
}

}  // namespace tedge::imaging
