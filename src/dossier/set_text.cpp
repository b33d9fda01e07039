#include "set_text.hpp"

#include <algorithm>

namespace tedge::dossier::page {

namespace {

QTextOption option_for(Align align) {
    QTextOption option;
    // A word longer than the line is broken anywhere rather than run over the edge.
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    option.setUseDesignMetrics(true);
    option.setAlignment(align == Align::right ? Qt::AlignRight : Qt::AlignLeft);
    return option;
}

QString one_layout_text(const std::string& utf8) {
    QString text = QString::fromStdString(utf8);
    text.replace(QStringLiteral("\r\n"), QStringLiteral("\n"));
    text.replace(u'\n', QChar(QChar::LineSeparator));
    text.replace(u'\r', QChar(QChar::LineSeparator));
    // Control characters have no glyph; an unset glyph is not allowed in an archival document.
    text.removeIf([](QChar c) { return c.category() == QChar::Other_Control && c != u'\t'; });
    return text;
}

}  // namespace

SetText::SetText(const std::string& utf8, const Type& type, double width, QPaintDevice* device, Align align)
    : layout_(std::make_shared<QTextLayout>(one_layout_text(utf8), type.font, device)),
      leading_(type.leading),
      colour_(type.colour) {
    layout_->setTextOption(option_for(align));
    layout_->setCacheEnabled(true);
    layout_->beginLayout();
    double y = 0.0;
    for (QTextLine line = layout_->createLine(); line.isValid(); line = layout_->createLine()) {
        line.setLineWidth(width);
        line.setPosition(QPointF(0.0, y + (leading_ - line.height()) / 2.0));
        y += leading_;
    }
    layout_->endLayout();
}

double SetText::natural_width() const {
    double widest = 0.0;
    for (int i = 0; i < lines(); ++i) widest = std::max(widest, layout_->lineAt(i).naturalTextWidth());
    return widest;
}

void SetText::draw(QPainter& painter, QPointF at, int first, int count) const {
    painter.setPen(colour_);
    for (int i = first; i < std::min(first + count, lines()); ++i)
        layout_->lineAt(i).draw(&painter, at - QPointF(0.0, first * leading_));
}

}  // namespace tedge::dossier::page
