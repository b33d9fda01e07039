#include "forms/local_time.hpp"

#include <QDateTime>
#include <QTimeZone>
#include <algorithm>

#include "forms/typed_day.hpp"
#include "tedge/base/clock.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

std::string iso_of(const QDateTime& utc) {
    return plain(utc.toString(QStringLiteral("yyyy-MM-ddTHH:mm:ss")) + QStringLiteral(".000Z"));
}

// Day and time as they stand there; whoever asks knows whether they are those of UTC or of a clock on the wall.
QDateTime as_it_stands(std::string_view iso_instant) {
    const auto instant = parse_instant(iso_instant);
    if (!instant) return {};
    const QString text = shown(to_text(*instant));  // 2026-03-05T14:30:00.000Z
    return {QDate::fromString(text.left(10), Qt::ISODate), QTime::fromString(text.mid(11, 8), Qt::ISODate), Qt::UTC};
}

bool says_utc(const QString& text) {
    return text.endsWith(QStringLiteral("UTC"), Qt::CaseInsensitive) || text.endsWith(QLatin1Char('Z'));
}

}  // namespace

const casebook::Field* zone_field_of(const casebook::Kind& kind) {
    const auto found = std::ranges::find(kind.fields, casebook::FieldType::zone, &casebook::Field::type);
    return found != kind.fields.end() ? &*found : nullptr;
}

QString zone_in(const casebook::Body& body, const casebook::Kind* kind) {
    const casebook::Field* field = kind != nullptr ? zone_field_of(*kind) : nullptr;
    return field != nullptr ? shown(body.text_or(field->name)) : QString();
}

bool is_zone(const QString& name) {
    return !name.isEmpty() && QTimeZone::isTimeZoneIdAvailable(name.toUtf8());
}

QString local_text(std::string_view iso_instant, const QString& zone) {
    if (!is_zone(zone) || !parse_instant(iso_instant)) return instant_text(iso_instant);
    const QDateTime there = as_it_stands(iso_instant).toTimeZone(QTimeZone(zone.toUtf8()));
    return day_text(plain(there.toString(QStringLiteral("yyyy-MM-dd")))) + QStringLiteral(", ") +
           there.toString(QStringLiteral("HH:mm"));
}

QString local_text_with_zone(std::string_view iso_instant, const QString& zone) {
    const QString text = local_text(iso_instant, zone);
    return is_zone(zone) ? text + QLatin1Char(' ') + zone : text;
}

Expected<std::string> read_local(const QString& text, const QString& zone, const std::string& today) {
    const auto as_written = read_instant(text, today);
    if (!as_written) return fail("time.not-read", "Write day and time as 5 March 2026 14:30.");
    if (says_utc(text.trimmed())) return *as_written;
    if (zone.isEmpty()) return fail("time.no-zone", "Say the time zone first, or write UTC behind the time.");
    if (!is_zone(zone))
        return fail("time.unknown-zone", "There is no time zone of that name; write it as Europe/London.");
    const QDateTime wall = as_it_stands(*as_written);
    const QTimeZone place(zone.toUtf8());
    const QDateTime there(wall.date(), wall.time(), place);
    if (!there.isValid() || there.time() != wall.time())
        return fail("time.left-out",
                    "The clocks of that place go forward over this time; there is none such that day.");
    return iso_of(there.toUTC());
}

}  // namespace tedge::desk
