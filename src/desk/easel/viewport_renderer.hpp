// A placed photograph as it appears in the view: screen pixel → millimetre → photograph pixel → one level of its
// pyramid.
#pragma once

#include <QImage>
#include <optional>

#include "easel/tile_store.hpp"
#include "easel/view_frame.hpp"
#include "tedge/geometry/placement.hpp"

namespace tedge::desk {

struct Rendered {
    QImage image;           // of the size asked for; the surround where the photograph does not reach
    bool complete = false;  // every tile was there
};

// Without a placement the photograph's pixels are taken for the units of the view.
//
// The level is chosen so that what is left to shrink is at most √2: more would show patterns in fine weave that are not
// there. The exact inverse of the placement is asked at nodes 32 px apart and is straight in between.
[[nodiscard]] Rendered render_photograph(TileStore& tiles, const std::filesystem::path& pyramid,
                                         const std::optional<Placement>& placement, const ViewFrame& frame,
                                         QSize screen);

}  // namespace tedge::desk
