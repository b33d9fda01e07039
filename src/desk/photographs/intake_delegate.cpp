#include "photographs/intake_delegate.hpp"

#include <QApplication>
#include <QComboBox>
#include <QPainter>

#include "photographs/intake_model.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int margin = 4;
constexpr int picture_width = 52;

void paint_small(QPainter& painter, const QRect& into, const QImage& image) {
    painter.fillRect(into, picture_surround);
    if (image.isNull()) return;
    QRect at(QPoint(), image.size().scaled(into.size(), Qt::KeepAspectRatio));
    at.moveCenter(into.center());
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawImage(at, image);
}

void paint_line(QPainter& painter, const QRect& at, const QString& text, Qt::TextElideMode elide) {
    painter.drawText(at, Qt::AlignVCenter | Qt::AlignLeft, painter.fontMetrics().elidedText(text, elide, at.width()));
}

}  // namespace

void IntakeDelegate::initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const {
    QStyledItemDelegate::initStyleOption(option, index);
    if (!index.data(IntakeModel::guess_role).toBool()) return;
    option->text += QStringLiteral(" ?");
    option->font.setItalic(true);
}

void IntakeDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    if (index.column() != IntakeModel::file_column) return QStyledItemDelegate::paint(painter, option, index);
    QStyleOptionViewItem cell(option);
    QStyledItemDelegate::initStyleOption(&cell, index);
    cell.text.clear();
    const QStyle* style = cell.widget != nullptr ? cell.widget->style() : QApplication::style();
    style->drawControl(QStyle::CE_ItemViewItem, &cell, painter, cell.widget);
    painter->save();
    const QRect inside = cell.rect.adjusted(margin, margin, -margin, -margin);
    const QRect picture(inside.topLeft(), QSize(picture_width, inside.height()));
    paint_small(*painter, picture, index.data(IntakeModel::small_role).value<QImage>());
    const bool is_chosen = cell.state.testFlag(QStyle::State_Selected);
    painter->setPen(cell.palette.color(is_chosen ? QPalette::HighlightedText : QPalette::Text));
    const QRect words = inside.adjusted(picture_width + 2 * margin, 0, 0, 0);
    const QRect upper(words.topLeft(), QSize(words.width(), words.height() / 2));
    painter->setFont(cell.font);
    paint_line(*painter, upper, index.data().toString(), Qt::ElideMiddle);
    QFont second = cell.font;
    second.setPointSizeF(second.pointSizeF() * 0.85);
    painter->setFont(second);
    paint_line(*painter, upper.translated(0, words.height() / 2), index.data(IntakeModel::state_role).toString(),
               Qt::ElideRight);
    painter->restore();
}

QWidget* IntakeDelegate::createEditor(QWidget* parent, const QStyleOptionViewItem& /*option*/,
                                      const QModelIndex& index) const {
    const std::string_view field = field_of(index.column());
    if (field.empty()) return nullptr;
    auto* box = new QComboBox(parent);
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field)))
        box->addItem(spoken(word), shown(word));
    box->setAccessibleName(
        tr("%1 of %2").arg(shown(field), index.siblingAtColumn(IntakeModel::file_column).data().toString()));
    return box;
}

void IntakeDelegate::setEditorData(QWidget* editor, const QModelIndex& index) const {
    qobject_cast<QComboBox*>(editor)->setCurrentText(index.data(Qt::EditRole).toString());
}

void IntakeDelegate::setModelData(QWidget* editor, QAbstractItemModel* /*model*/, const QModelIndex& index) const {
    emit chosen(index, qobject_cast<QComboBox*>(editor)->currentData().toString());
}

}  // namespace tedge::desk
