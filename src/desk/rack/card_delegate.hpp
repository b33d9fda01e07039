// Paints one picture of the rack: small photograph, title, whereabouts, what is next, the tacks.
#pragma once

#include <QStyledItemDelegate>

namespace tedge::desk {

class CardDelegate : public QStyledItemDelegate {
    Q_OBJECT

public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

}  // namespace tedge::desk
