#include "forms/place_row.hpp"

#include <QLabel>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

QString size_text(const Region& region) {
    const BoxMm box = region.bounds();
    const double width = box.max.x_mm - box.min.x_mm;
    const double height = box.max.y_mm - box.min.y_mm;
    return QObject::tr("%1 × %2 mm").arg(shown(format_fixed(height, 0)), shown(format_fixed(width, 0)));
}

PlaceRow::PlaceRow(bool required, bool recorded, QWidget* parent)
    : QWidget(parent),
      required_(required),
      recorded_(recorded),
      text_(new QLabel(this)),
      draw_(new QPushButton(tr("&Draw the place on the picture"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 6);
    column->setSpacing(3);
    text_->setWordWrap(true);
    text_->setText(recorded_ ? tr("Place as drawn before")
                             : (required_ ? tr("Place *: not drawn yet") : tr("Place: not drawn")));
    draw_->setMinimumHeight(target_px);
    column->addWidget(text_);
    column->addWidget(draw_);
    connect(draw_, &QPushButton::clicked, this, &PlaceRow::wanted);
}

void PlaceRow::set_place(const DrawnPlace& place, const QString& remark) {
    place_ = place;
    text_->setProperty("role", "plain");
    text_->style()->unpolish(text_);
    text_->style()->polish(text_);
    text_->setText(tr("Place drawn, %1, %2 cm²")
                       .arg(size_text(place.region), shown(format_fixed(place.region.area_mm2() / 100, 1))) +
                   (remark.isEmpty() ? QString() : QStringLiteral(". ") + remark));
}

bool PlaceRow::put_into(casebook::FieldValues& values) {
    if (place_) values.record("face_frame", place_->face_frame).region("region", place_->region);
    if (place_ || recorded_ || !required_) return true;
    text_->setProperty("role", "closed");
    text_->style()->unpolish(text_);
    text_->style()->polish(text_);
    text_->setText(tr("⊘ Place: draw it on the picture first."));
    return false;
}

void PlaceRow::set_read_only() {
    draw_->hide();
}

}  // namespace tedge::desk
