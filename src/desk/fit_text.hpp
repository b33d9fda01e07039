// Words cut to the room there is, so that the beginning of each part stays to be read.
#pragma once

#include <QFontMetrics>
#include <QString>
#include <QStringList>

namespace tedge::desk {

// The parts with " · " between them. Where they do not fit, the longest are cut first and all that are cut get the same
// room: three long names show three beginnings, not one name.
[[nodiscard]] QString fit_parts(const QStringList& parts, const QFontMetrics& metrics, int width_px);

}  // namespace tedge::desk
