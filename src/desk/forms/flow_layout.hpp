// Things beside one another as far as there is room, then on the next line: buttons of a narrow sheet.
#pragma once

#include <QLayout>
#include <QList>

namespace tedge::desk {

class FlowLayout : public QLayout {
public:
    static constexpr int gap_px = 6;
    explicit FlowLayout(QWidget* parent = nullptr);
    ~FlowLayout() override;
    Q_DISABLE_COPY_MOVE(FlowLayout)

    void addItem(QLayoutItem* item) override { items_.append(item); }
    [[nodiscard]] int count() const override { return static_cast<int>(items_.size()); }
    [[nodiscard]] QLayoutItem* itemAt(int index) const override { return items_.value(index); }
    QLayoutItem* takeAt(int index) override;
    [[nodiscard]] Qt::Orientations expandingDirections() const override { return {}; }
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override { return arranged({0, 0, width, 0}, false); }
    [[nodiscard]] QSize sizeHint() const override { return minimumSize(); }
    [[nodiscard]] QSize minimumSize() const override;
    void setGeometry(const QRect& rect) override;

private:
    // Height used; moves the items when asked to.
    int arranged(const QRect& rect, bool moves) const;
    QList<QLayoutItem*> items_;
};

}  // namespace tedge::desk
