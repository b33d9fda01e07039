// Pictures as they were last drawn, cell by cell: what has not moved and got no tile since is not drawn again. So a
// frame that comes only because tiles have come, or the pointer has moved, costs what has changed, and no more than its
// time.
#pragma once

#include <QElapsedTimer>
#include <QRect>
#include <vector>

#include "easel/easel.hpp"
#include "easel/viewport_renderer.hpp"

namespace tedge::desk {

class RenderedCells {
public:
    // Of the 16 ms of a frame, by default; the cell that is begun before may take as long again.
    static constexpr qint64 usual_ms = 6;
    explicit RenderedCells(TileStore& tiles, qint64 enough_ms = usual_ms) : tiles_(tiles), enough_ms_(enough_ms) {}

    // Begins the time of a frame.
    void begin_frame();
    // `part` of a cell, in whose pixels `frame` is. One that did not move but got tiles is drawn as it was once this
    // frame has taken its time: then are_late() says so, and it is asked for again.
    [[nodiscard]] const Rendered& picture(std::size_t cell, const ShownPhotograph& shown, const ViewFrame& frame,
                                          const QRect& part);
    [[nodiscard]] bool are_late() const { return are_late_; }
    void forget() { cells_.clear(); }

private:
    struct Cell {
        ViewFrame frame;
        QRect part;
        std::uint64_t tiles_come = 0;
        bool was_readable = false;
        Rendered rendered;
    };
    TileStore& tiles_;
    qint64 enough_ms_;
    std::vector<Cell> cells_;
    QElapsedTimer frame_time_;
    bool are_late_ = false;
};

}  // namespace tedge::desk
