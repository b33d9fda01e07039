// The easel: a face of the picture in millimetres, with photographs laid on it and places drawn over them.
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <QWidget>
#include <array>
#include <optional>

#include "easel/overlay_painter.hpp"
#include "easel/tile_store.hpp"
#include "easel/view_frame.hpp"
#include "easel/viewport_renderer.hpp"

namespace tedge::desk {

struct ShownPhotograph {
    Uuid id;
    std::filesystem::path pyramid;
    std::optional<Placement> placement;
    SizePx size;
    QString label;  // stage and light, at the side it is seen
};

// polygon: a place on the face, corner by corner, or dragged as a rectangle. The others in the photograph's own pixels:
// four corners, a box (two corners, or dragged), the two ends of a length.
enum class Tool { look, polygon, corners, pixel_box, pixel_length };
[[nodiscard]] constexpr bool is_in_pixels(Tool tool) {
    return tool == Tool::corners || tool == Tool::pixel_box || tool == Tool::pixel_length;
}
// framing: the second lies faintly over the first, frame on frame, both in pixels of the first, so that a photographer
// sees what to move; whether they are placed does not matter.
enum class Compare { none, half_and_half, turn_over, framing };

class Easel : public QWidget {
    Q_OBJECT

public:
    explicit Easel(QWidget* parent = nullptr);

    // {0, 0} where the size is not known: then the photograph's own pixels are the units.
    void show_face(SizeMm size);
    void show_photographs(std::optional<ShownPhotograph> first, std::optional<ShownPhotograph> second);
    void show_overlays(std::vector<Overlay> overlays);
    void highlight(const std::optional<Uuid>& record);  // and brings it into view
    // Without them the paint alone is seen; a record that is chosen then still shows its own, and what is being drawn
    // stays.
    void show_places(bool are_shown);
    [[nodiscard]] bool shows_places() const { return shows_places_; }
    void set_tool(Tool tool);
    void set_compare(Compare compare);
    [[nodiscard]] Compare compare() const { return compare_; }
    [[nodiscard]] Tool tool() const { return tool_; }
    // Otherwise the photograph's own pixels are the units: it is not placed, or its corners are being picked.
    [[nodiscard]] bool is_in_mm() const {
        return face_.width_mm > 0 && first_ && first_->placement && !is_in_pixels(tool_) &&
               compare_ != Compare::framing;
    }
    [[nodiscard]] const ViewFrame& frame() const { return frame_; }
    [[nodiscard]] bool waiting_for_tiles() const { return !complete_; }
    void fit();
    void zoom_by(double factor);

signals:
    void record_touched(const tedge::Uuid& record);
    void pointer_at(const QString& where);
    void region_drawn(const tedge::Region& region);
    // With the photograph's pixels that one of the screen held at the corner that was picked from farthest away.
    void corners_picked(const std::array<tedge::PointPx, 4>& corners, double screen_pixel_px);
    // A box by two opposite corners, or the two ends of a length, in the photograph's pixels.
    void pixels_picked(const std::vector<tedge::PointPx>& points);
    void corner_count(int corners);
    void drawing_given_up();
    void turn_wanted();
    void half_wanted();
    void difference_wanted();
    void places_wanted();
    void comparing_wanted();
    void framing_wanted();

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void keyReleaseEvent(QKeyEvent* event) override;

private:
    [[nodiscard]] SizeMm units() const;
    [[nodiscard]] QImage picture(const std::optional<ShownPhotograph>& photo);
    void paint_pictures(QPainter& painter);
    void paint_framing(QPainter& painter);
    void paint_scale(QPainter& painter) const;
    void paint_drawing(QPainter& painter) const;
    void paint_side_label(QPainter& painter, const QString& text, bool left) const;
    // easel_drawing.cpp
    void paint_dragged(QPainter& painter) const;
    void add_corner(QPointF at);
    void begin_dragging(QPointF at);
    void drag_to(QPointF at);
    [[nodiscard]] bool end_dragging(QPointF at);  // whether a rectangle came of it
    [[nodiscard]] QString dragged_size() const;
    [[nodiscard]] std::vector<PointPx> drawn_pixels() const;
    void finish_drawing();
    void give_up_drawing();
    void tell_pointer(QPointF at);
    void tell_moved_view();
    [[nodiscard]] bool comparable() const { return is_in_mm() && second_ && second_->placement; }
    void key_pressed_for_view(int key);

    SizeMm face_;
    std::optional<ShownPhotograph> first_;
    std::optional<ShownPhotograph> second_;
    ViewFrame frame_;
    TileStore tiles_;
    OverlayPainter overlays_;
    std::optional<Uuid> highlighted_;
    bool shows_places_ = true;
    Tool tool_ = Tool::look;
    Compare compare_ = Compare::none;
    double divider_share_ = 0.5;
    Compare before_turning_ = Compare::none;
    bool moving_divider_ = false;
    bool complete_ = true;
    bool fitted_ = true;
    std::optional<QPointF> dragged_from_;
    bool dragged_ = false;
    QPointF pointer_;
    std::vector<PointMm> drawn_;
    std::optional<QPointF> rectangle_from_;  // the first corner was pressed there and is still held
    bool dragging_rectangle_ = false;
    double coarsest_pick_ = 0;  // one pixel of the screen in the view's units, where a corner was picked
};

}  // namespace tedge::desk
