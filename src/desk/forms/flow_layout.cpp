#include "forms/flow_layout.hpp"

#include <algorithm>

namespace tedge::desk {

namespace {

constexpr int narrowest_line = 160;

}  // namespace

FlowLayout::FlowLayout(QWidget* parent) : QLayout(parent) {
    setContentsMargins(0, 0, 0, 0);
}

FlowLayout::~FlowLayout() {
    qDeleteAll(items_);
}

QLayoutItem* FlowLayout::takeAt(int index) {
    return index >= 0 && index < items_.size() ? items_.takeAt(index) : nullptr;
}

QSize FlowLayout::minimumSize() const {
    QSize size;
    for (const QLayoutItem* item : items_) size = size.expandedTo(item->minimumSize());
    // One long button must not widen the sheet: it is cut to the line instead.
    return {std::min(size.width(), narrowest_line), size.height()};
}

void FlowLayout::setGeometry(const QRect& rect) {
    QLayout::setGeometry(rect);
    arranged(rect, true);
}

int FlowLayout::arranged(const QRect& rect, bool moves) const {
    int x = rect.x();
    int y = rect.y();
    int line = 0;
    for (QLayoutItem* item : items_) {
        if (item->isEmpty()) continue;
        const QSize size(std::min(item->sizeHint().width(), std::max(rect.width(), 1)), item->sizeHint().height());
        if (x > rect.x() && x + size.width() > rect.x() + rect.width()) {
            x = rect.x();
            y += line + gap_px;
            line = 0;
        }
        if (moves) item->setGeometry({QPoint(x, y), size});
        x += size.width() + gap_px;
        line = std::max(line, size.height());
    }
    return y + line - rect.y();
}

}  // namespace tedge::desk
