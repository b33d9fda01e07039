// Evenness of the light, from a photograph of an even board in the place of the picture.
#pragma once

#include <array>

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// How the light falls off over the frame, each channel a smooth surface of its own, 1 in the middle of the frame.
class FlatField {
public:
    static constexpr std::size_t terms = 15;  // of a polynomial of degree 4 in x and y, of the logarithm of light
    using Surface = std::array<double, terms>;

    // What the surfaces leave of the board, over blocks; see below.
    struct Left {
        double misfit_percent = 0.0;
        double range_percent = 0.0;
    };

    FlatField(SizePx size, const std::array<Surface, 3>& surfaces, const Left& left);

    [[nodiscard]] SizePx size() const { return size_; }
    [[nodiscard]] Rgb light(const PointPx& at) const;  // relative to the middle of the frame
    // 100 · (1 - darkest / brightest) of the green surface, the corners of the frame included.
    [[nodiscard]] double non_uniformity_percent() const { return non_uniformity_percent_; }
    // Root mean square of what the smooth surface leaves, over blocks: texture and dust of the board.
    [[nodiscard]] double misfit_percent() const { return left_.misfit_percent; }
    // The same non-uniformity of the board once it is evened: 100 · (1 - darkest / brightest block), specks left out.
    [[nodiscard]] double evened_percent() const { return left_.range_percent; }

private:
    SizePx size_{};
    std::array<Surface, 3> surfaces_{};
    double non_uniformity_percent_ = 0.0;
    Left left_{};
};

// Errors: flat-field.too-small (under 64 px), flat-field.clipped (more than a thousandth of the pixels),
// flat-field.too-dark (under 2 % of full scale), flat-field.not-even (more than a picture of an even board leaves:
// 2 % root mean square about the surface).
[[nodiscard]] Expected<FlatField> flat_field_of(const ChartPicture& board);

// Evened out: divided by the light that fell there; clipped at full scale. Errors: flat-field.size (another size).
[[nodiscard]] Expected<ChartPicture> evened(const ChartPicture& picture, const FlatField& light);
// sRGB pixels, 3 channels, evened in linear light. What is white already stays white.
[[nodiscard]] Expected<Raster8> evened(const Raster8& srgb, const FlatField& light);

}  // namespace tedge::imaging
