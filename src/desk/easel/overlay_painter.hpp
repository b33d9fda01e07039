// Places on the picture as outlines: light and dark at once, so that they read on any paint; the kind told by the
// dashes.
#pragma once

#include <QPainterPath>
#include <QString>
#include <optional>
#include <vector>

#include "easel/view_frame.hpp"
#include "tedge/base/uuid.hpp"
#include "tedge/geometry/region.hpp"

class QPainter;

namespace tedge::desk {

// `pending`: drawn, but of no record yet; it has no record to be touched.
enum class OverlayStyle { unstable, finding, trial, facing, inscription, treatment, pending };

struct Overlay {
    Uuid record;
    Region region;
    OverlayStyle style = OverlayStyle::finding;
    QString label;
    bool from_behind = false;  // lies on the other side; seen through
};

// Where the number of a place is painted: where it is wanted, but inside the window and beside those painted before, as
// far as there is room.
[[nodiscard]] QRectF label_box(QRectF wanted, const QRectF& window, const QList<QRectF>& taken);

class OverlayPainter {
public:
    void set(std::vector<Overlay> overlays);
    // Not `all`: only what is highlighted or not saved yet.
    void paint(QPainter& painter, const ViewFrame& frame, const std::optional<Uuid>& highlighted, bool all) const;
    // The smallest place under the point, within a few screen pixels; those of this side before those behind.
    [[nodiscard]] std::optional<Uuid> hit(PointMm point, const ViewFrame& frame) const;
    [[nodiscard]] const Overlay* find(const Uuid& record) const;

private:
    struct Drawn {
        Overlay overlay;
        QPainterPath path_mm;
        BoxMm bounds;
    };
    std::vector<Drawn> drawn_;
};

}  // namespace tedge::desk
