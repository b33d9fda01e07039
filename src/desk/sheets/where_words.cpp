#include "sheets/where_words.hpp"

#include <QObject>
#include <algorithm>

#include "tedge/casebook/frames.hpp"
#include "text.hpp"

namespace tedge::desk {

QString ninth_of(PointMm point, SizeMm face) {
    const auto third = [](double at, double length) {
        return length > 0 ? std::clamp(static_cast<int>(3.0 * at / length), 0, 2) : 1;
    };
    const int column = third(point.x_mm, face.width_mm);
    const int row = third(point.y_mm, face.height_mm);
    if (row == 1 && column == 1) return QObject::tr("centre");
    const QString across = column == 0   ? QObject::tr("left")
                           : column == 2 ? QObject::tr("right")
                                         : QObject::tr("centre");
    if (row == 1) return QObject::tr("middle %1").arg(across);
    return (row == 0 ? QObject::tr("upper %1") : QObject::tr("lower %1")).arg(across);
}

QString where_words(const casebook::Record& record, const casebook::CaseSnapshot& snapshot) {
    const auto region = record.body.region("region");
    const auto on = record.body.record("face_frame");
    const casebook::Record* frame = on ? snapshot.find(*on) : nullptr;
    if (frame == nullptr) return {};
    const std::string face = frame->body.text_or("face");
    const SizeMm size = casebook::size_of_frame(*frame);
    QString ninth = region && !region->empty() ? ninth_of(region->label_point(), size) : QString();
    if (face == "recto") return ninth;
    return ninth.isEmpty() ? spoken(face) : spoken(face) + QStringLiteral(", ") + ninth;
}

}  // namespace tedge::desk
