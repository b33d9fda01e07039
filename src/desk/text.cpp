#include "text.hpp"

#include <array>

#include "tedge/base/clock.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::desk {

QString spoken(std::string_view word) {
    if (word.starts_with("edge-")) return shown(word.substr(5)) + QStringLiteral(" edge");
    if (word == "1933-1945") return QStringLiteral("1933 to 1945");
    if (word == "vat-on-hammer") return QStringLiteral("VAT on hammer");
    return shown(word).replace(QLatin1Char('-'), QLatin1Char(' '));
}

QString date_words(std::string_view edtf) {
    const auto date = provenance::parse_edtf(edtf);
    return date ? shown(provenance::words_for(*date)) : shown(edtf);
}

QString day_text(std::string_view iso_day) {
    return shown(provenance::words_for_day(iso_day));
}

QString short_day_text(std::string_view iso_day, std::string_view iso_today) {
    const auto day = parse_date(iso_day);
    if (!day) return shown(iso_day);
    constexpr std::array months{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const QString text = QStringLiteral("%1 %2")
                             .arg(static_cast<unsigned>(day->day()))
                             .arg(QLatin1String(months.at(static_cast<unsigned>(day->month()) - 1)));
    if (iso_day.substr(0, 4) == iso_today.substr(0, 4)) return text;
    return text + QLatin1Char(' ') + shown(iso_day.substr(0, 4));
}

QString instant_text(std::string_view iso_instant) {
    const auto instant = parse_instant(iso_instant);
    if (!instant) return shown(iso_instant);
    const std::string text = to_text(*instant);  // 2026-03-05T14:30:00.000Z
    return day_text(std::string_view(text).substr(0, 10)) + QStringLiteral(", ") + shown(text.substr(11, 5)) +
           QStringLiteral(" UTC");
}

QString capital(QString text) {
    if (!text.isEmpty()) text[0] = text[0].toUpper();
    return text;
}

}  // namespace tedge::desk
