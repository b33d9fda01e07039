// Two to four photographs of one face, seen at one place: beside one another and moving together, or the first two in
// one another's place.
#pragma once

#include <QTimer>
#include <QWidget>
#include <functional>
#include <optional>
#include <vector>

#include "compare/comparison.hpp"
#include "easel/easel.hpp"
#include "easel/rendered_cells.hpp"
#include "easel/tile_store.hpp"
#include "easel/view_frame.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::desk {

// A photograph in the millimetres they share.
struct ComparedPhotograph {
    ShownPhotograph shown;  // placed
    // Shows the back: beside the others it is seen as it is, that is mirrored against the front.
    bool from_behind = false;
    bool shows_colour = false;
};

// The cells of `count` pictures of that shape, so that they come out as large as they can.
[[nodiscard]] std::vector<QRectF> cells_for(const QRectF& whole, int count, SizeMm face);

class CompareCanvas : public QWidget {
    Q_OBJECT

public:
    static constexpr double most_turns_per_s = 2.0;  // four turns make two flashes; WCAG 2.1, 2.3.1, allows three

    explicit CompareCanvas(QWidget* parent = nullptr);

    void show_photographs(SizeMm face, std::vector<ComparedPhotograph> photographs);
    void set_means(Means means);
    [[nodiscard]] Means means() const { return means_; }
    // The one that is compared with the first, where only two are seen: from 1.
    void set_other(std::size_t index);
    [[nodiscard]] std::size_t other() const { return other_; }
    void set_angle(double degrees);      // of the dividing line from upright, clockwise
    void set_fade(double share);         // 0: the first alone, 1: the other alone
    void set_turns_per_s(double turns);  // at most most_turns_per_s
    [[nodiscard]] double angle() const { return angle_degrees_; }

    void fit();
    void zoom_by(double factor);
    void look_again();   // more of the photographs may be there now
    void show_pixels();  // one pixel of the first photograph on one of the screen, in the middle
    [[nodiscard]] const ViewFrame& frame() const { return frame_; }
    [[nodiscard]] bool waiting_for_tiles() const { return !complete_; }
    // What is seen, painted so many times larger. Incomplete while tiles are fetched: then `tiles_arrived` tells when
    // to ask again.
    [[nodiscard]] QImage painted(double enlarged, bool& complete);

signals:
    // Where the pointer is, and how the colours of the two differ there ("" where light does not show colour).
    void pointer_at(const QString& where, const QString& colour);
    void tiles_arrived();
    void means_wanted(tedge::desk::Means means);
    void angle_changed(double degrees);

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    struct Look {
        double enlarged = 1.0;
        ViewFrame frame{};  // of one cell
        bool complete = true;
        bool with_pointer = false;
        bool on_screen = false;
    };
    [[nodiscard]] std::vector<QRectF> cells(double enlarged = 1.0) const;
    // The middle stays in the middle where the cells become others; what was seen whole is seen whole.
    void change_cells(const std::function<void()>& change);
    [[nodiscard]] std::optional<std::size_t> cell_at(QPointF at) const;
    // Within a cell, the back's turned round.
    [[nodiscard]] QPointF in_cell(QPointF at, std::size_t cell) const;
    [[nodiscard]] bool is_seen_mirrored(std::size_t photograph) const;
    [[nodiscard]] QImage picture(std::size_t photograph, const QRect& part_of_cell, Look& look);
    void paint(QPainter& painter, Look& look);
    void paint_beside(QPainter& painter, Look& look);
    void paint_over(QPainter& painter, Look& look);
    void paint_divided(QPainter& painter, QSize cell, Look& look);
    void paint_pointer(QPainter& painter, const QRectF& cell, bool mirrored) const;
    void paint_label(QPainter& painter, const QRectF& cell, std::size_t photograph, bool left, double enlarged) const;
    [[nodiscard]] QLineF divider(QSizeF size) const;
    void tell_pointer();
    [[nodiscard]] QString colour_at(QPointF in_cell);
    [[nodiscard]] std::optional<imaging::Lab> lab_at(std::size_t photograph, QPointF in_cell);

    SizeMm face_{};
    std::vector<ComparedPhotograph> photographs_;
    Means means_ = Means::side_by_side;
    std::size_t other_ = 1;
    double angle_degrees_ = 0.0;
    double divider_share_ = 0.5;
    double fade_share_ = 0.5;
    bool turned_ = false;
    ViewFrame frame_;
    bool fitted_ = true;
    bool complete_ = true;
    TileStore tiles_;
    RenderedCells rendered_{tiles_};
    QTimer turning_;
    enum class Held { nothing, picture, divider } held_ = Held::nothing;
    QPointF held_at_;
    std::optional<QPointF> pointer_;  // on the widget
};

}  // namespace tedge::desk
