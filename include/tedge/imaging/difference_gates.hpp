// Which pixels of a comparison count, and why the others do not.
//
// An edge that lies beside itself looks like a change of colour. What a misfit could make at a pixel is taken from the
// pictures themselves: the largest ΔE00 between the pixel and its four neighbours, in either picture, is the difference
// that a shift by one pixel makes; times twice the estimated error (two standard deviations, in pixels) it is what the
// misfit could make. Where the error is more than half a pixel, the largest such step within reach of it is taken. A
// pixel does not count when that is as much as the difference found there and above the floor. (Below the floor
// nothing is evidence either way, and leaving out small differences alone would raise every mean.)
//
// Glare is where one picture is burnt out to white (no channel below 240, one at 250 or more, of 255) and the other is
// clearly not (a channel below 235); two pixels around it go with it, for the highlight's rim is bright as well. Where
// both are burnt out, nothing was measured.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

enum class NotCounted : std::uint8_t {
    counts,
    not_shown,  // one of the two does not show the face there
    glare,      // burnt out in one of them
    clipped,    // burnt out in both
    misfit      // an edge that lies beside itself could make the difference
};
inline constexpr std::array<NotCounted, 4> reasons_not_counted{NotCounted::not_shown, NotCounted::glare,
                                                               NotCounted::clipped, NotCounted::misfit};

// "glare" …: the words of the command line.
[[nodiscard]] std::string_view to_text(NotCounted reason);
// "burnt out in one of the two" …
[[nodiscard]] std::string_view sentence_of(NotCounted reason);

struct DifferenceGates {
    // 1 channel, the size of the pictures: 0 where one of the two does not show the face. Null: both do everywhere.
    const Raster8* shown = nullptr;
    // Estimated error of where the two lie on each other, one standard deviation, pixels of the reference: one for all,
    // and maps as registering gave them. All join in quadrature.
    double error_px = 0.0;
    std::vector<const RegistrationErrorMap*> error_maps{};
    // ΔE00 that a misfit may make without a pixel being left out.
    double floor_delta_e00 = 1.0;
};

// For every pixel a NotCounted, 1 channel. Errors: those of colour_difference, cancelled.
[[nodiscard]] Expected<Raster8> gate_differences(const Raster8& reference_srgb, const Raster8& registered_srgb,
                                                 const RasterF& delta_e00, const DifferenceGates& gates,
                                                 const Progress& progress = {});

// 255 where a pixel counts: what statistics and drawing ask for.
[[nodiscard]] Raster8 counted_of(const Raster8& gated);

}  // namespace tedge::imaging
