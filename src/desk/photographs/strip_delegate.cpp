#include "photographs/strip_delegate.hpp"

#include <QPainter>

#include "photographs/film_strip_model.hpp"
#include "photographs/small_pictures.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int strip_line_height = 17;
constexpr int strip_margin = 5;

void paint_line(QPainter& painter, const QRect& at, const QString& text, const QFont& font, const QColor& colour) {
    painter.setFont(font);
    painter.setPen(colour);
    const QFontMetrics metrics(font);
    painter.drawText(at, Qt::AlignCenter, metrics.elidedText(text, Qt::ElideRight, at.width()));
}

// On the picture, so in black on white like the places on the easel.
void paint_word(QPainter& painter, const QRect& picture, const QString& word, bool left) {
    if (word.isEmpty()) return;
    QFont font = StripDelegate::what_font();
    font.setBold(true);
    painter.setFont(font);
    const int width = QFontMetrics(font).horizontalAdvance(word) + 8;
    const QRect box(left ? picture.left() : picture.right() - width + 1, picture.top(), width, strip_line_height);
    painter.fillRect(box, Qt::white);
    painter.setPen(Qt::black);
    painter.drawText(box, Qt::AlignCenter, word);
}

}  // namespace

QFont StripDelegate::when_font() {
    QFont font = text_font();
    font.setPointSizeF(9);
    font.setWeight(QFont::DemiBold);
    return font;
}

QFont StripDelegate::what_font() {
    QFont font = text_font();
    font.setPointSizeF(8.5);
    return font;
}

QSize StripDelegate::sizeHint(const QStyleOptionViewItem& /*option*/, const QModelIndex& /*index*/) const {
    return {width, picture_height_ + 2 * strip_line_height + 2 * strip_margin + 2};
}

void StripDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const FilmStripModel*>(index.model());
    if (model == nullptr) return;
    const StripItem& item = model->item(index.row());
    const Theme& t = theme();
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    const QRect box = option.rect.adjusted(2, 2, -2, -2);
    const bool chosen = option.state.testFlag(QStyle::State_Selected);
    const bool current = option.state.testFlag(QStyle::State_HasFocus);
    painter->setPen(QPen(chosen || current ? t.done : t.edge, current ? 3 : chosen ? 2 : 1));
    painter->setBrush(t.sheet);
    painter->drawRoundedRect(box, 4, 4);
    const QRect picture(box.left() + strip_margin, box.top() + strip_margin, box.width() - 2 * strip_margin,
                        picture_height_);
    paint_fitted(*painter, picture, model->small_picture(index.row()));
    paint_word(*painter, picture, model->place_of(index.row()), true);
    const QString state = item.damaged ? tr("damaged") : item.placed ? tr("mm") : QString();
    paint_word(*painter, picture, item.has_notes && !item.damaged ? (QStringLiteral("△ ") + state).trimmed() : state,
               false);
    const QRect line(box.left() + 2, picture.bottom() + 1, box.width() - 4, strip_line_height);
    paint_line(*painter, line, item.when, when_font(), t.ink);
    paint_line(*painter, line.translated(0, strip_line_height - 2), item.what, what_font(), t.faded_ink);
    painter->restore();
}

}  // namespace tedge::desk
