// Between millimetres of a face and pixels of the screen: one scale, one shift.
#pragma once

#include <QPointF>
#include <QSizeF>

#include "tedge/geometry/coordinates.hpp"

namespace tedge::desk {

class ViewFrame {
public:
    [[nodiscard]] QPointF to_screen(PointMm p) const {
        return {p.x_mm * scale_ + shift_.x(), p.y_mm * scale_ + shift_.y()};
    }
    [[nodiscard]] PointMm to_face(QPointF s) const {
        return {(s.x() - shift_.x()) / scale_, (s.y() - shift_.y()) / scale_};
    }
    [[nodiscard]] double screen_px_per_mm() const { return scale_; }

    void fit(SizeMm face, QSizeF screen);
    // The point under `at` stays under it.
    void zoom(double factor, QPointF at);
    void pan(QPointF by) { shift_ += by; }
    void centre_on(PointMm point, QSizeF screen);
    friend bool operator==(const ViewFrame& a, const ViewFrame& b) = default;

private:
    double scale_ = 1.0;
    QPointF shift_;
};

// The round length (1, 2 or 5 times a power of ten) that a scale bar of about `wanted_px` shows.
[[nodiscard]] double round_length(double wanted_px, double screen_px_per_unit);

}  // namespace tedge::desk
