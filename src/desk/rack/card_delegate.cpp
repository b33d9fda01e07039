#include "rack/card_delegate.hpp"

#include <QPainter>

#include "fit_text.hpp"
#include "photographs/small_pictures.hpp"
#include "rack/rack_model.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int card_height = 178;
constexpr int card_margin = 10;
constexpr int picture_side = 64;
constexpr int card_line_height = 21;

// One below the other, as wide as the card.
class Lines {
public:
    Lines(QPainter& painter, const QRect& first) : painter_(painter), at_(first) {}
    void add(const QStringList& parts, const QFont& font, const QColor& colour) {
        painter_.setFont(font);
        painter_.setPen(colour);
        painter_.drawText(at_, Qt::AlignVCenter | Qt::AlignLeft, fit_parts(parts, QFontMetrics(font), at_.width()));
        at_.translate(0, card_line_height);
    }

private:
    QPainter& painter_;
    QRect at_;
};

void paint_title(QPainter& painter, const QRect& at, const QString& text, const QFont& font, const QColor& colour) {
    painter.setFont(font);
    painter.setPen(colour);
    const QFontMetrics metrics(font);
    // As much as two lines hold; a word is not cut.
    QString fitting = text;
    while (metrics.boundingRect(at, Qt::TextWordWrap, fitting).height() > at.height() && fitting.contains(u' '))
        fitting = fitting.left(fitting.lastIndexOf(u' ', fitting.endsWith(u'…') ? -3 : -1)) + QStringLiteral(" …");
    painter.drawText(at, Qt::TextWordWrap | Qt::AlignLeft | Qt::AlignVCenter, fitting);
}

void paint_words(QPainter& painter, const RackModel& model, int row, const QRect& box) {
    const RackCard& card = model.card(row);
    const Theme& t = theme();
    QFont title = text_font();
    title.setWeight(QFont::DemiBold);
    QFont small = text_font();
    small.setPointSizeF(9.5);
    const int beside = box.left() + 2 * card_margin + picture_side;
    // A title may take two lines: by it the picture is known.
    const QRect beside_picture(beside, box.top() + 7, box.right() - card_margin - beside, 2 * card_line_height + 2);
    paint_title(painter, beside_picture, shown(card.card.title), title, t.ink);
    Lines stage(painter, {beside, beside_picture.bottom() + 1, beside_picture.width(), card_line_height});
    stage.add({shown(to_text(card.card.stages.now))}, small, t.done);

    Lines below(painter, {box.left() + card_margin, box.top() + card_margin + picture_side + 4,
                          box.width() - 2 * card_margin, card_line_height});
    const QStringList where = whereabouts(card.card, model.client_looks());
    // Who insures it has a line of its own: of three in one not even the beginnings would be read.
    below.add(where.mid(0, where.size() > 2 ? 2 : 1), small, t.faded_ink);
    below.add(where.mid(where.size() > 2 ? 2 : 1), small, t.faded_ink);
    if (card.contested > 0 && !model.client_looks()) {
        below.add({QStringLiteral("△ ") + contested_words(card.contested)}, small, t.warning);
    } else {
        below.add({model.deadline_shown(row)}, small, model.is_overdue(row) ? t.warning : t.ink);
    }
}

}  // namespace

QSize CardDelegate::sizeHint(const QStyleOptionViewItem& /*option*/, const QModelIndex& /*index*/) const {
    return {150, card_height};
}

void CardDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const RackModel*>(index.model());
    if (model == nullptr) return;
    const RackCard& card = model->card(index.row());
    const Theme& t = theme();
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    painter->setRenderHint(QPainter::SmoothPixmapTransform);
    const QRect box = option.rect.adjusted(4, 4, -4, -4);
    const bool chosen = option.state.testFlag(QStyle::State_Selected);
    painter->setPen(QPen(chosen ? t.done : t.edge, chosen ? 2 : 1));
    painter->setBrush(t.sheet);
    painter->drawRoundedRect(box, 5, 5);
    const QRect picture(box.left() + card_margin, box.top() + card_margin, picture_side, picture_side);
    paint_fitted(*painter, picture, model->small_picture(index.row()));

    paint_words(*painter, *model, index.row(), box);
    paint_tacks(*painter, QRectF(box.left() + card_margin, box.bottom() - 24, box.width() - 2 * card_margin, 18),
                card.card.stages, model->closed_shown(index.row()), false);
    painter->restore();
}

}  // namespace tedge::desk
