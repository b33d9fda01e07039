#include "forms/band_text.hpp"

#include <QRegularExpression>
#include <QStringList>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "forms/figure_text.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;

constexpr double hundred = 100.0;
constexpr double largest_whole = 9e15;

// A whole number without a point: a currency without minor units has no decimals to be read.
json number_of(double value) {
    const bool is_whole = std::abs(value) < largest_whole && std::trunc(value) == value;
    return is_whole ? json(static_cast<std::int64_t>(value)) : json(value);
}

QString number_text(const json& value) {
    return value.is_number() ? shown(format_number(value.get<double>())) : QString();
}

QString grouped(QString digits) {
    const qsizetype point = digits.indexOf(QLatin1Char('.'));
    for (qsizetype at = (point < 0 ? digits.size() : point) - 3; at > 0; at -= 3) digits.insert(at, QChar(0x202F));
    return digits;
}

std::optional<double> amount_of(QString text) {
    const double times = text.endsWith(QLatin1Char('k')) ? 1e3 : text.endsWith(QLatin1Char('m')) ? 1e6 : 1.0;
    if (times > 1) text.chop(1);
    const auto number = parse_number(plain(ungrouped(text)));
    return number ? std::optional(*number * times) : std::nullopt;
}

Expected<json> read_band(const QString& text) {
    const auto not_read = [] { return fail("bands.not-read", "Write the bands as 25 to 50000; 20 to 1000000; 14.5."); };
    static const QRegularExpression band(QStringLiteral("^([\\d.,]+)\\s*%?\\s*(?:(?:up\\s+)?to\\s+(.+))?$"));
    const auto match = band.match(text.toLower().simplified());
    if (!match.hasMatch()) return not_read();
    const auto percent = parse_number(plain(match.captured(1).replace(QLatin1Char(','), QLatin1Char('.'))));
    if (!percent) return not_read();
    if (*percent < 0 || *percent > hundred) return fail("bands.percent", "A percentage lies between 0 and 100.");
    json read{{"percent", number_of(*percent)}};
    if (match.captured(2).isEmpty()) return read;
    const auto up_to = amount_of(match.captured(2));
    if (!up_to) return not_read();
    read["up_to"] = number_of(*up_to);
    return read;
}

}  // namespace

QString bands_text(const json& bands) {
    if (!bands.is_array()) return {};
    QStringList parts;
    for (const json& band : bands) {
        if (!band.is_object() || !band.contains("percent")) return {};
        QString part = number_text(band["percent"]) + QStringLiteral(" %");
        if (band.contains("up_to")) part += QStringLiteral(" to ") + number_text(band["up_to"]);
        parts << part;
    }
    return parts.join(QStringLiteral("; "));
}

QString bands_in_words(const json& bands) {
    if (bands_text(bands).isEmpty()) return {};
    QStringList parts;
    for (const json& band : bands) {
        const QString percent = number_text(band["percent"]);
        parts << (band.contains("up_to")
                      ? QObject::tr("%1 % up to %2").arg(percent, grouped(number_text(band["up_to"])))
                      : QObject::tr("%1 %").arg(percent));
    }
    return parts.join(QObject::tr(", then "));
}

Expected<json> read_bands(const QString& text) {
    json bands = json::array();
    double end_before = 0.0;
    for (const QString& part : text.split(QLatin1Char(';'), Qt::SkipEmptyParts)) {
        if (part.trimmed().isEmpty()) continue;
        const bool after_open = !bands.empty() && !bands.back().contains("up_to");
        auto band = read_band(part);
        if (!band) return band;
        if (after_open) return fail("bands.not-rising", "A band without an end is the last one.");
        if (band->contains("up_to")) {
            const double end = (*band)["up_to"].get<double>();
            if (end <= end_before) return fail("bands.not-rising", "Each band is to end above the one before.");
            end_before = end;
        }
        bands.push_back(*std::move(band));
    }
    if (bands.empty()) return fail("bands.not-read", "Write the bands as 25 to 50000; 20 to 1000000; 14.5.");
    if (bands.back().contains("up_to"))
        return fail("bands.no-open-band", "Say what holds above the last end, as 14.5.");
    return bands;
}

}  // namespace tedge::desk
