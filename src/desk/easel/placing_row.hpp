// Asks for what four corners do not say: the size of the face in millimetres where nobody gave it, and from when and
// why it has another size.
#pragma once

#include <QWidget>

#include "tedge/usecases/photographs.hpp"

class QLabel;
class QLineEdit;
class QPushButton;

namespace tedge::desk {

class PlacingRow : public QWidget {
    Q_OBJECT

public:
    explicit PlacingRow(QWidget* parent = nullptr);

    // With `framed` the face has its size already and is asked for none.
    void begin(Face face, std::optional<SizeMm> size, bool framed, bool new_epoch);
    void show_count(int corners);
    // Nothing while the size is missing or cannot be read; then the fault is said in the row.
    [[nodiscard]] std::optional<usecases::FrameWanted> wanted();
    void end();

signals:
    void ready();  // the fields were filled in
    void given_up();

private:
    Face face_ = Face::recto;
    bool framed_ = false;
    bool new_epoch_ = false;
    QLabel* says_;
    QLabel* fault_;
    QWidget* fields_;
    QLineEdit* height_;
    QLineEdit* width_;
    QWidget* epoch_;
    QLabel* only_size_;
    QLineEdit* from_;
    QLineEdit* why_;
};

}  // namespace tedge::desk
