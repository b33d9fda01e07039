// How a row of the intake is painted and edited: the picture with its name and what became of it, words with a mark
// where they are guesses, and a list of the words to choose from.
#pragma once

#include <QStyledItemDelegate>

namespace tedge::desk {

class IntakeDelegate : public QStyledItemDelegate {
    Q_OBJECT

public:
    static constexpr int row_height = 62;

    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    void setEditorData(QWidget* editor, const QModelIndex& index) const override;
    void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override;

signals:
    void chosen(const QModelIndex& index, const QString& word) const;

protected:
    void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const override;
};

}  // namespace tedge::desk
