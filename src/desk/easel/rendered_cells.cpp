#include "easel/rendered_cells.hpp"

namespace tedge::desk {

void RenderedCells::begin_frame() {
    frame_time_.start();
    are_late_ = false;
}

const Rendered& RenderedCells::picture(std::size_t cell, const ShownPhotograph& shown, const ViewFrame& frame,
                                       const QRect& part) {
    if (cells_.size() <= cell) cells_.resize(cell + 1);
    Cell& kept = cells_[cell];
    const bool has_not_moved = kept.was_readable && kept.frame == frame && kept.part == part;
    const std::uint64_t come = tiles_.come_of(shown.pyramid);
    if (has_not_moved && (kept.tiles_come == come || kept.rendered.complete)) return kept.rendered;
    if (has_not_moved && frame_time_.elapsed() >= enough_ms_) {
        are_late_ = true;
        return kept.rendered;
    }
    ViewFrame moved = frame;
    moved.pan(-QPointF(part.topLeft()));
    kept = {frame, part, come, tiles_.reader(shown.pyramid) != nullptr,
            render_photograph(tiles_, shown.pyramid, shown.placement, moved, part.size())};
    return kept.rendered;
}

}  // namespace tedge::desk
