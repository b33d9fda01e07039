// A text broken into lines of one width.
#pragma once

#include <QPaintDevice>
#include <QPainter>
#include <QTextLayout>
#include <memory>
#include <string>

#include "page_style.hpp"

namespace tedge::dossier::page {

// Copies share the lines.
class SetText {
public:
    SetText() = default;
    SetText(const std::string& utf8, const Type& type, double width, QPaintDevice* device, Align align = Align::left);

    [[nodiscard]] int lines() const { return layout_ ? layout_->lineCount() : 0; }
    [[nodiscard]] double leading() const { return leading_; }
    [[nodiscard]] double height() const { return lines() * leading_; }
    [[nodiscard]] double natural_width() const;

    // Lines [first, first + count) with the top of the first at `at`.
    void draw(QPainter& painter, QPointF at, int first, int count) const;
    void draw(QPainter& painter, QPointF at) const { draw(painter, at, 0, lines()); }

private:
    std::shared_ptr<QTextLayout> layout_;
    double leading_ = 0.0;
    QColor colour_;
};

}  // namespace tedge::dossier::page
