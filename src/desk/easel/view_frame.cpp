#include "easel/view_frame.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::desk {

namespace {

constexpr double smallest_scale = 0.005;
constexpr double largest_scale = 400.0;
constexpr double margin_share = 0.04;

}  // namespace

void ViewFrame::fit(SizeMm face, QSizeF screen) {
    if (face.width_mm <= 0 || face.height_mm <= 0 || screen.isEmpty()) return;
    const double room = 1.0 - 2 * margin_share;
    scale_ = std::min(screen.width() * room / face.width_mm, screen.height() * room / face.height_mm);
    shift_ = {(screen.width() - face.width_mm * scale_) / 2, (screen.height() - face.height_mm * scale_) / 2};
}

void ViewFrame::zoom(double factor, QPointF at) {
    const double limited = std::clamp(scale_ * factor, smallest_scale, largest_scale);
    shift_ = at - (at - shift_) * (limited / scale_);
    scale_ = limited;
}

void ViewFrame::centre_on(PointMm point, QSizeF screen) {
    shift_ += QPointF(screen.width() / 2, screen.height() / 2) - to_screen(point);
}

double round_length(double wanted_px, double screen_px_per_unit) {
    const double wanted = wanted_px / screen_px_per_unit;
    const double power = std::pow(10.0, std::floor(std::log10(wanted)));
    const double lead = wanted / power;
    return power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
}

}  // namespace tedge::desk
