// Paints one photograph of the strip: picture, when and what in two lines, whether it is placed and on the easel.
#pragma once

#include <QStyledItemDelegate>

namespace tedge::desk {

class StripDelegate : public QStyledItemDelegate {
    Q_OBJECT

public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void set_picture_height(int px) { picture_height_ = px; }
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    // The lines are in full width there, for the longest word of a stage, a face or a light.
    [[nodiscard]] static QFont when_font();
    [[nodiscard]] static QFont what_font();
    static constexpr int width = 160;

private:
    int picture_height_ = 64;
};

}  // namespace tedge::desk
