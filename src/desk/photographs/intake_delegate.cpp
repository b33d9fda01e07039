#include "photographs/intake_delegate.hpp"

#include <QApplication>
#include <QComboBox>
#include <QFileInfo>
#include <QPainter>

#include "photographs/intake_model.hpp"
#include "photographs/small_pictures.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int row_margin = 4;
constexpr double word_size = 0.88;
constexpr int picture_width = 48;
constexpr int room_for_both = 130;

void paint_line(QPainter& painter, const QRect& at, const QString& text, Qt::TextElideMode elide) {
    painter.drawText(at, Qt::AlignVCenter | Qt::AlignLeft, painter.fontMetrics().elidedText(text, elide, at.width()));
}

}  // namespace

namespace {

// "verso ?" where it is a guess.
QString marked_word(const QModelIndex& index) {
    const QString mark = index.data(IntakeModel::guess_role).toBool() ? QStringLiteral(" ?") : QString();
    return index.data().toString() + mark;
}

QString words_below_each_other(const QModelIndex& light) {
    QStringList lines;
    for (const int column : {IntakeModel::face_column, IntakeModel::light_column, IntakeModel::stage_column})
        lines << marked_word(light.siblingAtColumn(column));
    return lines.join(QChar::LineSeparator);
}

bool is_of_one_column(const QModelIndex& index) {
    const auto* model = qobject_cast<const IntakeModel*>(index.model());
    return index.column() == IntakeModel::light_column && model != nullptr && model->in_one_column();
}

}  // namespace

void IntakeDelegate::initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const {
    QStyledItemDelegate::initStyleOption(option, index);
    option->font.setPointSizeF(option->font.pointSizeF() * word_size);
    if (field_of(index.column()).empty()) return;
    option->text = is_of_one_column(index) ? words_below_each_other(index) : marked_word(index);
    option->font.setItalic(index.data(IntakeModel::guess_role).toBool());
}

namespace {

QFont smaller(QFont font) {
    font.setPointSizeF(font.pointSizeF() * word_size);
    return font;
}

// Room for both: the picture, and beside it the name above what became of it.
void paint_beside(QPainter& painter, const QRect& inside, const QModelIndex& index) {
    const QRect picture(inside.topLeft(), QSize(picture_width, inside.height()));
    paint_fitted(painter, picture, index.data(IntakeModel::small_role).value<QImage>());
    const QRect words = inside.adjusted(picture_width + 2 * row_margin, 0, 0, 0);
    const QRect upper(words.topLeft(), QSize(words.width(), words.height() / 2));
    paint_line(painter, upper, index.data().toString(), Qt::ElideLeft);  // cameras count at the end
    painter.setFont(smaller(painter.font()));
    paint_line(painter, upper.translated(0, words.height() / 2), index.data(IntakeModel::state_role).toString(),
               Qt::ElideRight);
}

// A narrow sheet: the name stands below its picture, after the mark of what became of it.
void paint_below(QPainter& painter, const QRect& inside, const QModelIndex& index) {
    const int line = painter.fontMetrics().height();
    paint_fitted(painter, inside.adjusted(0, 0, 0, -line), index.data(IntakeModel::small_role).value<QImage>());
    const QRect below = inside.adjusted(0, inside.height() - line, 0, 0);
    const QString state = index.data(IntakeModel::state_role).toString();
    const bool has_mark = !state.isEmpty() && !state.at(0).isLetter();
    const QString mark = has_mark ? state.left(1) + u' ' : QString();
    const int mark_width = painter.fontMetrics().horizontalAdvance(mark);
    paint_line(painter, below, mark, Qt::ElideNone);
    paint_line(painter, below.adjusted(mark_width, 0, 0, 0), QFileInfo(index.data().toString()).completeBaseName(),
               Qt::ElideLeft);
}

}  // namespace

void IntakeDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    if (index.column() != IntakeModel::file_column) return QStyledItemDelegate::paint(painter, option, index);
    QStyleOptionViewItem cell(option);
    QStyledItemDelegate::initStyleOption(&cell, index);
    cell.text.clear();
    const QStyle* style = cell.widget != nullptr ? cell.widget->style() : QApplication::style();
    style->drawControl(QStyle::CE_ItemViewItem, &cell, painter, cell.widget);
    painter->save();
    const QRect inside = cell.rect.adjusted(row_margin, row_margin, -row_margin, -row_margin);
    const bool is_chosen = cell.state.testFlag(QStyle::State_Selected);
    painter->setPen(cell.palette.color(is_chosen ? QPalette::HighlightedText : QPalette::Text));
    painter->setFont(smaller(cell.font));
    if (inside.width() < room_for_both) {
        paint_below(*painter, inside, index);
    } else {
        paint_beside(*painter, inside, index);
    }
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
