// The 24-patch colour chart in a photograph: where it lies, to a fraction of a pixel, and what its patches measure.
//
// The chart has four rows of six patches: dark skin first, the six neutrals from white to black last (McCamy, Marcus
// and Davidson, J. Appl. Photogr. Eng. 2(3), 1976). Its frame ("chart frame") counts in patches: the centre of the
// patch in column c and row r, both from 0, stands at (c, r), x along the rows.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

inline constexpr std::size_t chart_columns = 6;
inline constexpr std::size_t chart_rows = 4;
inline constexpr std::size_t chart_patches = chart_columns * chart_rows;
inline constexpr std::size_t chart_white = 18;  // the patches from here on are the neutrals
inline constexpr std::size_t chart_black = 23;

// Whose red, green and blue the pixels are.
enum class ChartLight {
    camera,  // linear sensor values of a raw file, white balance of the camera applied
    srgb     // developed by the camera or a program, brought to sRGB through its profile and made linear again
};

// A photograph in linear light, 3 channels, 65535 full scale.
struct ChartPicture {
    Raster16 linear{};
    ChartLight light = ChartLight::srgb;
};

// Errors: chart.grey (one channel), picture.colour-profile, cancelled.
[[nodiscard]] Expected<ChartPicture> chart_picture(const Picture& picture, const Progress& progress = {});
// The same for what asks for no colour (a ruler, an edge): a grey photograph comes with three equal channels. Errors:
// picture.colour-profile, cancelled.
[[nodiscard]] Expected<ChartPicture> linear_picture(const Picture& picture, const Progress& progress = {});

// From here up a linear sample counts as clipped: 254 of 255 as sRGB encodes it. Sensors clip softly after
// interpolation between colour filters.
inline constexpr std::uint16_t clipped_from = 64880;

// Corners in the order of the printed chart: dark skin, bluish green, black, white, each at that patch's outer corner.
using ChartCorners = std::array<PointPx, 4>;

struct ChartPlace {
    Homography photo_from_chart;
    ChartCorners corners_px{};
    double patch_share = 0.0;  // side of a patch over the distance between patch centres, as seen
    double patch_px = 0.0;     // distance between patch centres, the mean over the chart
    double misfit_px = 0.0;    // root mean square distance of the patch centres from the plane map
    int patches_found = 0;     // whose edges took part in the fit, of 24
};

// What the inner part of one patch measures; linear, full scale 1.
struct PatchReading {
    std::array<PointPx, 4> outline_px{};  // of the part that was read
    Rgb mean{};
    Rgb deviation{};             // standard deviation over the pixels
    double clipped_share = 0.0;  // of the pixels, in any channel
    double dark_share = 0.0;     // of the pixels at zero in any channel
    int pixels = 0;
};

struct ChartReading {
    ChartLight light = ChartLight::srgb;
    ChartPlace place{};
    std::array<PatchReading, chart_patches> patches{};
    std::vector<std::string> notes{};  // what a person should know, one sentence each
};

// Finds the chart at any turn, in perspective, small in the frame, and reads it. Errors, each one sentence:
//   chart.not-found      no chart, or too little of it
//   chart.out-of-frame   part of it lies outside the photograph
//   chart.too-small      fewer than 8 px between patch centres
//   chart.white-clipped  the white patch is overexposed: nothing can be measured from it
//   chart.too-dark       the white patch reaches less than 2 % of full scale
//   cancelled
[[nodiscard]] Expected<ChartReading> find_chart(const ChartPicture& picture, const Progress& progress = {});

// The same from the outer corners of the four corner patches as a person points at them (within a third of a patch),
// in any order. More errors: chart.corners (they make no quadrilateral, or no chart lies there).
[[nodiscard]] Expected<ChartReading> read_chart_at(const ChartPicture& picture, const ChartCorners& corners_px,
                                                   const Progress& progress = {});

}  // namespace tedge::imaging
