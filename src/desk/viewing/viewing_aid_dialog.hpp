// A dirty picture made easier to look at, by two sliders: a look, no evidence. Nothing of it is kept.
#pragma once

#include <QDialog>
#include <QImage>
#include <QTimer>
#include <memory>

#include "book_session.hpp"
#include "long_work.hpp"
#include "tedge/imaging/raster.hpp"

class QFormLayout;
class QLabel;
class QSlider;

namespace tedge::desk {

class ViewingAidDialog : public QDialog {
    Q_OBJECT

public:
    ViewingAidDialog(BookSession& session, const Uuid& photograph, QWidget* parent = nullptr);
    [[nodiscard]] const QImage& shown_image() const { return image_; }

signals:
    void looked();  // what the sliders say is shown

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QSlider* add_slider(QFormLayout& form, const QString& name, int at);
    void open(const Uuid& photograph);
    void look();
    void tell(const QString& text);

    BookSession& session_;
    std::shared_ptr<const imaging::Raster8> picture_;
    QImage image_;
    QWidget* canvas_;
    QLabel* told_;
    QSlider* contrast_ = nullptr;
    QSlider* tone_ = nullptr;
    QTimer pause_;
    LongWork* work_;
    bool moved_meanwhile_ = false;
};

}  // namespace tedge::desk
