#include "rack/card_delegate.hpp"

#include <QPainter>

#include "rack/rack_model.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int card_height = 134;
constexpr int margin = 10;
constexpr int picture_side = 64;
constexpr int line_height = 22;

// "at the restorer · Ute Hain · insured by Morven & Lisle"; names and insurers are nobody's business while a client
// looks.
QString whereabouts(const usecases::CaseCard& card, bool client_looks) {
    QStringList parts;
    if (!card.place.empty()) parts << shown(card.place);
    if (!client_looks && !card.holder.empty()) parts << shown(card.holder);
    if (!client_looks && !card.insured_by.empty()) parts << QObject::tr("insured by %1").arg(shown(card.insured_by));
    return parts.isEmpty() ? QObject::tr("whereabouts not recorded") : parts.join(QStringLiteral(" · "));
}

QString next_line(const usecases::CaseCard& card, bool client_looks) {
    QString stage = shown(to_text(card.stages.now));
    if (card.next_deadline_on.empty() || client_looks) return stage;
    // The day first: what does not fit the card is cut at the end.
    return QStringLiteral("%1 · %2: %3").arg(stage, day_text(card.next_deadline_on), shown(card.next_deadline_what));
}

void paint_picture(QPainter& painter, const QRect& into, const QImage& image) {
    painter.fillRect(into, picture_surround);
    if (image.isNull()) return;
    const QSize fitted = image.size().scaled(into.size(), Qt::KeepAspectRatio);
    QRect at(QPoint(), fitted);
    at.moveCenter(into.center());
    painter.drawImage(at, image);
}

void paint_line(QPainter& painter, const QRect& at, const QString& text, const QFont& font, const QColor& colour) {
    painter.setFont(font);
    painter.setPen(colour);
    painter.drawText(at, Qt::AlignVCenter | Qt::AlignLeft,
                     QFontMetrics(font).elidedText(text, Qt::ElideRight, at.width()));
}

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
    const QRect picture(box.left() + margin, box.top() + margin, picture_side, picture_side);
    paint_picture(*painter, picture, model->small_picture(index.row()));

    QFont title = text_font();
    title.setWeight(QFont::DemiBold);
    QFont small = text_font();
    small.setPointSizeF(9.5);
    QRect line(picture.right() + margin, box.top() + 7, box.right() - picture.right() - 2 * margin, line_height);
    // A title may take two lines: by it the picture is known.
    line.setHeight(2 * line_height);
    paint_title(*painter, line, shown(card.card.title), title, t.ink);
    line.translate(0, 2 * line_height);
    line.setHeight(line_height);
    paint_line(*painter, line, whereabouts(card.card, model->client_looks()), small, t.faded_ink);
    line.translate(0, line_height);
    if (card.contested > 0 && !model->client_looks()) {
        paint_line(*painter, line, QStringLiteral("△ ") + contested_words(card.contested), small, t.warning);
    } else {
        paint_line(*painter, line, next_line(card.card, model->client_looks()), small, t.done);
    }
    paint_tacks(*painter, QRectF(box.left() + margin, box.bottom() - 24, box.width() - 2 * margin, 18),
                card.card.stages, model->closed_shown(index.row()), false);
    painter->restore();
}

}  // namespace tedge::desk
