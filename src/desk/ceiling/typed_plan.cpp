#include "ceiling/typed_plan.hpp"

#include <QRegularExpression>
#include <QStringList>
#include <cmath>
#include <nlohmann/json.hpp>

#include "forms/figure_text.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;

json number_or_words(const std::string& typed) {
    const json parsed = json::parse(typed, nullptr, false);
    return parsed.is_number() ? parsed : json(typed);
}

// Exactly, so that 55 % and 45 % make one.
json hundredth(const QString& percent) {
    const std::string text = plain(ungrouped(percent.trimmed()).remove(u'%').trimmed());
    const auto value = parse_number(text);
    return value ? json(*value / 100.0) : json(text);
}

json between(const QString& typed, json (*one)(const QString&)) {
    static const QRegularExpression parting(QStringLiteral("\\s*–\\s*|\\s+-\\s+|\\s+to\\s+|\\s*;\\s*"));
    const QStringList parts = typed.trimmed().split(parting, Qt::SkipEmptyParts);
    if (parts.size() <= 1) return one(typed.trimmed());
    json list = json::array();
    for (const QString& part : parts) list.push_back(one(part));
    return list;
}

QString number_text(const json& number, double times) {
    if (!number.is_number()) return number.is_string() ? shown(number.get<std::string>()) : QString();
    return shown(format_number(std::round(number.get<double>() * times * 1e6) / 1e6));  // 0.55 is 55 %
}

QString joined(const json& value, double times) {
    if (!value.is_array()) return number_text(value, times);
    QStringList parts;
    for (const json& each : value) parts << number_text(each, times);
    return parts.join(QStringLiteral(" – "));
}

}  // namespace

json amount_typed(const QString& typed) {
    return number_or_words(plain(ungrouped(typed.trimmed())));
}

json estimate_typed(const QString& typed) {
    return between(typed, amount_typed);
}

json share_typed(const QString& percent) {
    return hundredth(percent);
}

json shares_typed(const QString& percents) {
    return between(percents, hundredth);
}

QString amount_text(const json& amount) {
    return number_text(amount, 1.0);
}

QString estimate_text(const json& estimate) {
    return joined(estimate, 1.0);
}

QString share_text(const json& share) {
    return number_text(share, 100.0);
}

QString shares_text(const json& shares) {
    return joined(shares, 100.0);
}

}  // namespace tedge::desk
