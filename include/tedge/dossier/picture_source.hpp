// Where a dossier takes its pixels from.
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/base/uuid.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::dossier {

// Pictures of one case as people look at them: sRGB, 8 bits, three channels, upright. Reduced by averaging so that the
// longest side is at most what is asked for; never enlarged.
class PictureSource {
public:
    virtual ~PictureSource() = default;

    [[nodiscard]] virtual Expected<imaging::Raster8> photograph(const Uuid& photograph, int longest_side_px) = 0;

    // The moving photograph laid over the reference one: same cut, same shape as the reference reduced alike.
    [[nodiscard]] virtual Expected<imaging::Raster8> registered(const Uuid& moving, const Uuid& reference,
                                                                int longest_side_px) = 0;
};

}  // namespace tedge::dossier
