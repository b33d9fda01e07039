#include "forms/typed_day.hpp"

#include <QRegularExpression>
#include <QStringList>
#include <array>
#include <chrono>

#include "tedge/base/clock.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// English, whatever the machine's language: labels are English too, and output does not depend on a locale.
constexpr std::array months{"january", "february", "march",     "april",   "may",      "june",
                            "july",    "august",   "september", "october", "november", "december"};
constexpr int letters_that_tell = 3;

std::optional<unsigned> month_of(const QString& word) {
    const QString lowered = word.toLower();
    if (lowered.size() < letters_that_tell) return std::nullopt;
    for (unsigned i = 0; i < months.size(); ++i) {
        if (QString::fromLatin1(months.at(i)).startsWith(lowered)) return i + 1;
    }
    return std::nullopt;
}

std::optional<std::string> day_before(const std::string& iso_day) {
    const auto day = parse_date(iso_day);
    if (!day) return std::nullopt;
    return to_text(std::chrono::year_month_day(std::chrono::sys_days(*day) - std::chrono::days(1)));
}

}  // namespace

std::optional<std::string> read_day(const QString& text, const std::string& today) {
    const QString written = text.simplified();
    if (written.compare(QStringLiteral("today"), Qt::CaseInsensitive) == 0) return today;
    if (written.compare(QStringLiteral("yesterday"), Qt::CaseInsensitive) == 0) return day_before(today);
    if (parse_date(plain(written))) return plain(written);
    static const QRegularExpression spelled(QStringLiteral("^(\\d{1,2})\\.? ([A-Za-z]+)\\.?,? (\\d{4})$"));
    const auto match = spelled.match(written);
    const auto month = match.hasMatch() ? month_of(match.captured(2)) : std::nullopt;
    if (!month) return std::nullopt;
    const QString iso = QStringLiteral("%1-%2-%3")
                            .arg(match.captured(3))
                            .arg(*month, 2, 10, QLatin1Char('0'))
                            .arg(match.captured(1).toInt(), 2, 10, QLatin1Char('0'));
    return parse_date(plain(iso)) ? std::optional(plain(iso)) : std::nullopt;
}

std::optional<std::string> read_instant(const QString& text, const std::string& today) {
    if (const auto instant = parse_instant(plain(text.trimmed()))) return to_text(*instant);
    static const QRegularExpression timed(QStringLiteral("^(.+?)[ ,T]+(\\d{1,2}:\\d{2})(?: ?UTC| ?Z)?$"));
    const auto match = timed.match(text.simplified());
    if (!match.hasMatch()) return std::nullopt;
    const auto day = read_day(match.captured(1), today);
    if (!day) return std::nullopt;
    const std::string time = plain(match.captured(2).rightJustified(5, QLatin1Char('0')));
    const auto instant = parse_instant(*day + "T" + time + ":00Z");
    return instant ? std::optional(to_text(*instant)) : std::nullopt;
}

}  // namespace tedge::desk
