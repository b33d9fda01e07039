// The place of a record on the picture: drawn on the easel, told here with its size.
#pragma once

#include <QWidget>
#include <optional>

#include "tedge/casebook/record.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

struct DrawnPlace {
    Uuid face_frame;
    Region region;
};

// "14 × 9 mm, upper left": what a place is called in a line.
[[nodiscard]] QString size_text(const Region& region);

class PlaceRow : public QWidget {
    Q_OBJECT

public:
    // `required`: a record of this kind does not stand without its place.
    PlaceRow(bool required, bool recorded, QWidget* parent = nullptr);

    void set_place(const DrawnPlace& place, const QString& remark = {});
    [[nodiscard]] const std::optional<DrawnPlace>& place() const { return place_; }
    // False, with a word beside the button, where one is needed and none is there.
    [[nodiscard]] bool put_into(casebook::FieldValues& values);
    void set_read_only();

signals:
    void wanted();

private:
    bool required_;
    bool recorded_;
    std::optional<DrawnPlace> place_;
    QLabel* text_;
    QPushButton* draw_;
};

}  // namespace tedge::desk
