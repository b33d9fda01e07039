// A crack map with the evidence it rests on, which a comparison asks for traces of a crack that the map left out.
#pragma once

#include "tedge/imaging/crack_map.hpp"

namespace tedge::imaging {

struct FoundCracks {
    CrackMap map;
    Raster8 evidence;  // crack_evidence.hpp
};

// As crack_map.
[[nodiscard]] Expected<FoundCracks> find_cracks(const Raster8& srgb, const CrackOptions& options,
                                                const Progress& progress);

}  // namespace tedge::imaging
