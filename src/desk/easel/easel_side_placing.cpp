// What is pointed at on the easel: corners of a face, a place for a form, what a photograph is measured by.
#include <algorithm>
#include <utility>

#include "easel/easel_side.hpp"
#include "easel/placing_row.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Record;

void EaselSide::begin_placing(bool new_epoch) {
    const Record* photo = record(first_);
    if (photo == nullptr || photo->kind != "photograph") return;
    const bool framed = usecases::current_frame(*snapshot_, face_) != nullptr;
    if (new_epoch && !framed) {
        return say(tr("The %1 has no size yet that could have changed: place it by its corners first.")
                       .arg(spoken(to_text(face_))),
                   "warning");
    }
    say({});
    corners_.reset();
    easel_->set_compare(Compare::none);
    placing_->begin(face_, usecases::known_size(*snapshot_, face_), framed, new_epoch);
    show_all();
    easel_->set_tool(Tool::corners);
}

void EaselSide::corners_picked(const std::array<PointPx, 4>& corners, double screen_pixel_px) {
    if (pointing_) return tell_pointed({corners.begin(), corners.end()});
    corners_ = corners;
    corner_error_px_ = std::max(usecases::corner_error_px, screen_pixel_px);
    place();
}

void EaselSide::place() {
    if (!first_ || !corners_) return;
    const auto wanted = placing_->wanted();
    if (!wanted) return;
    const auto placed = usecases::place_by_corners(session_.acting(), *first_, *corners_, *wanted, corner_error_px_);
    give_up_placing();
    if (!placed) {
        say(shown(placed.error().message + " " + placed.error().next), "closed");
        return;
    }
    session_.did(placed->done, tr("placing by corners"));
    QString text = tr("Placed by its corners, to ± %1 mm.").arg(shown(format_fixed(placed->placement.error_mm, 2)));
    if (corner_error_px_ > usecases::corner_error_px)
        text += u' ' + tr("Zoom in on each corner to place it more closely.");
    if (wanted->new_epoch) {
        text += u' ';
        text += placed->joined
                    ? tr("Places of the epoch before are carried over by this photograph.")
                    : tr("Places of the epoch before are not carried over: for that, lay the photograph over "
                         "one of that epoch first and place it then.");
    }
    say(text, "done");
}

void EaselSide::give_up_placing() {
    corners_.reset();
    placing_->end();
    if (easel_->tool() == Tool::corners) easel_->set_tool(Tool::look);
    end_pointing();
}

void EaselSide::draw_place() {
    if (!snapshot_ || usecases::frame_to_show(*snapshot_, face_, first_) == nullptr || !easel_->is_in_mm()) {
        return say(tr("Places are drawn in millimetres: show a photograph that is placed, or place this one by its "
                      "corners first."),
                   "warning");
    }
    easel_->set_tool(Tool::polygon);
    say(tr("Drag a rectangle, or click the corners one by one; Enter closes, Backspace takes one back, Esc gives up."));
}

// --- pointing at what is measured ------------------------------------------------------------------------------------

namespace {

QString how_to_point(PointedAt what) {
    switch (what) {
        case PointedAt::chart:
            return QObject::tr("Click the outer corners of the chart's four corner patches, zoomed in; Esc gives up.");
        case PointedAt::edge:
            return QObject::tr(
                "Drag a box over one straight edge, dark against light and slanted by a few degrees: the rim of a card "
                "or of a patch, and nothing else. Esc gives up.");
        case PointedAt::ruler:
            return QObject::tr("Click two marks of the ruler, far apart; zoom in on each. Esc gives up.");
        case PointedAt::patch:
            return QObject::tr(
                "Drag a box within a patch of one tone, a grey one of a chart or of a card, clear of its rim: paint is "
                "none. Esc gives up.");
    }
    return {};
}

Tool tool_for(PointedAt what) {
    switch (what) {
        case PointedAt::chart:
            return Tool::corners;
        case PointedAt::edge:
        case PointedAt::patch:
            return Tool::pixel_box;
        case PointedAt::ruler:
            return Tool::pixel_length;
    }
    return Tool::look;
}

}  // namespace

void EaselSide::point_at(PointedAt what, const Uuid& photograph) {
    const Record* photo = record(photograph);
    if (photo == nullptr || photo->kind != "photograph") return;
    give_up_placing();
    if (first_ != photograph) show_photograph(photograph);
    drawn_.reset();
    easel_->set_compare(Compare::none);
    pointing_ = what;
    show_all();
    say(how_to_point(what));
    easel_->set_tool(tool_for(what));
}

void EaselSide::end_pointing() {
    if (!pointing_) return;
    pointing_.reset();
    easel_->set_tool(Tool::look);
    say({});
    emit pointing_given_up();
}

void EaselSide::tell_pointed(const std::vector<PointPx>& points) {
    const auto what = std::exchange(pointing_, std::nullopt);
    say({});
    if (what && first_) emit pointed_at(*what, *first_, points);
}

}  // namespace tedge::desk
