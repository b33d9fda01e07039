#include "page_flow.hpp"

namespace tedge::dossier::page {

void PageFlow::new_page() {
    pages_.emplace_back();
    y_ = frame.top();
}

void PageFlow::draw_plain(std::function<void(QPainter&)> drawing) {
    draw([drawing = std::move(drawing)](QPainter& painter) -> Expected<void> {
        drawing(painter);
        return {};
    });
}

void PageFlow::put(const SetText& text, double x) {
    draw_plain([text, at = QPointF(x, y_)](QPainter& painter) { text.draw(painter, at); });
    advance(text.height());
}

void PageFlow::rule(double x, double rule_width, double thickness_pt, const QColor& colour) {
    const QRectF line(x, y_, rule_width, pt(thickness_pt));
    draw_plain([line, colour](QPainter& painter) { painter.fillRect(line, colour); });
}

}  // namespace tedge::dossier::page
