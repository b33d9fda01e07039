// Between the core's UTF-8 and Qt's text, and from what records hold to what people read.
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

// A word of a list as people say it: "tinted-varnish" is tinted varnish, "edge-top" is top edge.
[[nodiscard]] QString spoken(std::string_view word);
// "2026-03-31" is 31 March 2026; what is no day of the calendar stays as it is.
[[nodiscard]] QString day_text(std::string_view iso_day);
// The same where room is short: 31 Mar, with its year when that is not the year of `today`.
[[nodiscard]] QString short_day_text(std::string_view iso_day, std::string_view iso_today);
// "2026-03-05T14:30:00Z" is 5 March 2026, 14:30 UTC.
[[nodiscard]] QString instant_text(std::string_view iso_instant);
// "1847~" is about 1847; what is no EDTF stays as it is.
[[nodiscard]] QString date_words(std::string_view edtf);
// The first letter large.
[[nodiscard]] QString capital(QString text);

}  // namespace tedge::desk
