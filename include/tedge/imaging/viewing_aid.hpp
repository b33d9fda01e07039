// A dirty picture made easier to look at before it is bought: contrast lifted, an even tone of dirt and varnish taken
// off by a slider. A look and nothing more: it is no measurement, no forecast and no evidence, and says so in its
// pixels.
//
// Tone: dirt and yellowed varnish are taken for an even coat that scatters a little light and filters the rest. What it
// scatters is read from the darkest parts of each channel, what it filters from the lightest (percentiles of linear
// light, so a picture without a dark or a light neutral part is misjudged). Contrast: lightness stretched between its
// percentiles, then equalised by tiles with a limit (Zuiderveld, Graphics Gems IV (1994) 474-485; from memory).
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct ViewingAid {
    double contrast = 0.5;  // 0 leaves it, 1 lifts it as far as is of use
    double tone = 0.5;      // 0 leaves it, 1 takes the whole even tone off
};

// srgb: 1 or 3 channels; of a grey picture only the contrast is lifted. The answer has three channels, the size of the
// picture and NOT EVIDENCE written over it in rows, so that a part of it bears the words as well; a picture under 60
// pixels wide or high is too small for them and refused. The picture itself is not touched. The same bytes on any
// number of threads. Errors: viewing-aid.too-small, viewing-aid.slider (a slider outside 0 to 1; values.slider).
[[nodiscard]] Expected<Raster8> viewing_aid(const Raster8& srgb, const ViewingAid& wanted);

}  // namespace tedge::imaging
