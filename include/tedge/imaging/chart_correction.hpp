// A photograph brought to the colours that the chart in it foretells.
//
// The linear light of every pixel goes through the chart's transform to XYZ D50 and from there to sRGB, where comparing
// begins. Two photographs with a chart each then lie on one scale, whatever their exposure, white balance or camera.
//
// Colours beyond sRGB are clipped channel by channel. Pixels that were burnt out in the photograph become white, for no
// transform knows what they were: gates leave them out (difference_gates.hpp). A chart tells of the light where it lay;
// light that falls off across the picture stays in it (flat_field.hpp).
#pragma once

#include "tedge/imaging/colour_fit.hpp"

namespace tedge::imaging {

// `light` is that in which the chart was read. Three channels, sRGB. Errors: chart.other-light (the picture is in
// another), cancelled.
[[nodiscard]] Expected<Raster8> corrected_by_chart(const ChartPicture& picture, const ColourTransform& transform,
                                                   ChartLight light, const Progress& progress = {});

}  // namespace tedge::imaging
