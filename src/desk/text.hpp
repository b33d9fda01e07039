// Between the core's UTF-8 and Qt's text.
#pragma once

#include <QString>
#include <string>
#include <string_view>

namespace tedge::desk {

[[nodiscard]] inline QString shown(std::string_view text) {
    return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}
[[nodiscard]] inline std::string plain(const QString& text) {
    return text.toStdString();
}

}  // namespace tedge::desk
