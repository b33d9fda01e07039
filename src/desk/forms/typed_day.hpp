// Days and moments as people type them.
#pragma once

#include <QString>
#include <optional>
#include <string>

namespace tedge::desk {

// ISO day of "2026-03-31", "31 March 2026", "31 Mar 2026", "today", "yesterday". 3/4/26 is nobody's date: refused.
[[nodiscard]] std::optional<std::string> read_day(const QString& text, const std::string& today);
// ISO instant of a day and a time: "5 March 2026 14:30", "2026-03-05 14:30", "2026-03-05T14:30:00Z"; as if all were
// UTC.
[[nodiscard]] std::optional<std::string> read_instant(const QString& text, const std::string& today);

}  // namespace tedge::desk
