// From what was typed to values, with the reason where it does not fit.
#include <QFileInfo>
#include <QLocale>
#include <QObject>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "forms/band_text.hpp"
#include "forms/figure_text.hpp"
#include "forms/local_time.hpp"
#include "forms/typed_day.hpp"
#include "forms/typed_value.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/provenance/edtf.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Field;
using casebook::FieldType;
using casebook::FieldValues;

namespace {

Typed refused(const QString& reason) {
    return {reason, {}, std::nullopt};
}
Typed refused(const Error& error) {
    return refused(shown(error.next.empty() ? error.message : error.message + " " + error.next));
}
std::optional<Typed> out_of_range(const Field& field, double value) {
    const casebook::ValueRange range = casebook::range_of(field);
    if (range.contains(value)) return std::nullopt;
    return refused(QObject::tr("A number %1.").arg(shown(casebook::to_text(range, field.unit))));
}
Typed meaning(const QString& text) {
    return {{}, text, std::nullopt};
}

Typed read_number(const Field& field, const QString& text, FieldValues& into) {
    const std::string written = plain(text);
    // Lengths may be typed as on the tape: "32 1/4 in".
    const bool is_length = field.unit == "mm";
    const auto number = is_length ? parse_length_mm(written) : parse_number(written);
    if (!number) return refused(number.error());
    if (auto outside = out_of_range(field, *number)) return *std::move(outside);
    into.number(field.name, *number);
    const bool as_is = !is_length || parse_number(written).has_value();
    return meaning(as_is ? QString() : shown(format_length_mm(*number)));
}

Typed read_integer(const Field& field, const QString& text, FieldValues& into) {
    const auto number = parse_integer(plain(text));
    if (!number) return refused(number.error());
    if (auto outside = out_of_range(field, static_cast<double>(*number))) return *std::move(outside);
    into.integer(field.name, *number);
    return {};
}

Expected<Money> read_amount(const QString& figure, const QString& code) {
    const auto currency = Currency::parse(plain(code));
    if (!currency) return pass_on(currency);
    auto money = parse_money(plain(ungrouped(figure)), *currency);
    if (money && money->minor < 0) return fail("money.negative", "An amount here is not below nought.");
    return money;
}

Typed read_money(const Field& field, const QString& text, FieldValues& into) {
    const QStringList parts = parts_of_amount(text);
    const auto money = read_amount(parts.front(), parts.back());
    if (parts.size() != 2) return refused(QObject::tr("One amount."));
    if (!money) return refused(money.error());
    into.money(field.name, *money);
    return meaning(shown(to_display_text(*money)));
}

Typed read_estimate(const Field& field, const QString& text, FieldValues& into) {
    QStringList parts = parts_of_amount(text);
    const QString code = parts.takeLast();
    std::vector<Money> amounts;
    for (const QString& part : parts) {
        if (part.isEmpty()) return refused(QObject::tr("All three: low, likely and high; or the first alone."));
        const auto money = read_amount(part, code);
        if (!money) return refused(money.error());
        amounts.push_back(*money);
    }
    if (amounts.size() == 1) amounts.assign(3, amounts.front());
    if (amounts.size() != 3) return refused(QObject::tr("All three: low, likely and high; or the first alone."));
    const Estimate<std::int64_t> minor{amounts[0].minor, amounts[1].minor, amounts[2].minor};
    if (!minor.in_order()) return refused(QObject::tr("Low, likely and high are to rise in this order."));
    into.money_estimate(field.name, minor, amounts[0].currency);
    if (minor.is_certain()) return meaning(shown(to_display_text(amounts[1])));
    return meaning(QObject::tr("%1 likely, between %2 and %3")
                       .arg(shown(to_display_text(amounts[1])), shown(to_display_text(amounts[0])),
                            shown(to_display_text(amounts[2]))));
}

Typed read_date(const Field& field, const QString& text, const FormContext& context, FieldValues& into) {
    const auto day = read_day(text, context.today);
    if (!day) return refused(QObject::tr("Write the day as 31 March 2026 or 2026-03-31."));
    into.text(field.name, *day);
    const QString words = day_text(*day);
    return meaning(words == text ? QString() : words);
}

Typed read_moment(const Field& field, const QString& text, const FormContext& context, FieldValues& into) {
    const bool has_zone = context.kind != nullptr && zone_field_of(*context.kind) != nullptr;
    const auto instant = read_local(text, has_zone ? context.zone : QStringLiteral("UTC"), context.today);
    if (!instant) return refused(instant.error());
    into.text(field.name, *instant);
    const QString in_utc = instant_text(*instant);
    if (!has_zone || !is_zone(context.zone)) return meaning(in_utc);
    return meaning(QObject::tr("%1, which is %2").arg(local_text_with_zone(*instant, context.zone), in_utc));
}

Typed read_edtf(const Field& field, const QString& text, FieldValues& into) {
    // Life dates may stand with a dash, as printed.
    const std::string written = plain(QString(text).replace(QStringLiteral("–"), QStringLiteral("/")));
    const auto date = provenance::parse_edtf(written);
    if (!date) return refused(date.error());
    into.text(field.name, written);
    const QString words = date_words(written);
    return meaning(words == text ? QString() : words);
}

Typed read_zone(const Field& field, const QString& text, FieldValues& into) {
    if (!is_zone(text)) return refused(QObject::tr("There is no time zone of that name; write it as Europe/London."));
    into.text(field.name, plain(text));
    return {};
}

Typed read_record(const Field& field, const QString& text, const FormContext& context, FieldValues& into) {
    if (field.of != "person") {
        const auto id = parse_uuid(plain(text));
        if (!id) return refused(QObject::tr("Choose one of the list."));
        into.record(field.name, *id);
        return {};
    }
    const auto known = std::ranges::find_if(context.snapshot.people, [&](const casebook::Record& person) {
        return person.body.text_or("name") == plain(text);
    });
    if (known != context.snapshot.people.end()) {
        into.record(field.name, known->id);
        return {};
    }
    into.record(field.name, Uuid{});
    return {{}, QObject::tr("New in this casebook."), text};
}

Typed read_answer(const Field& field, const QString& text, FieldValues& into) {
    const Answered answered = parts_of_answer(text);
    const auto words = words_of(field);
    if (std::ranges::find(words, plain(answered.word)) == words.end())
        return refused(QObject::tr("Answer yes, no or not seen beside the remark."));
    nlohmann::json item{{"answer", plain(answered.word)}};
    if (!answered.remark.isEmpty()) item["note"] = plain(answered.remark);
    into.value(field.name, item);
    return {};
}

Typed read_premium(const Field& field, const QString& text, FieldValues& into) {
    const auto bands = read_bands(text);
    if (!bands) return refused(bands.error());
    into.value(field.name, *bands);
    return meaning(bands_in_words(*bands));
}

Typed read_file_kept(const Field& field, const QString& text, FieldValues& into) {
    constexpr qsizetype digest_letters = 64;
    const QFileInfo file(text);
    if (!file.isAbsolute()) {
        into.text(field.name, plain(text));
        return {};
    }
    if (!file.isFile() || !file.isReadable())
        return refused(QObject::tr("%1 cannot be read. Choose another file.").arg(file.fileName()));
    into.text(field.name, std::string(digest_letters, '0'));
    Typed read = meaning(QObject::tr("A copy of %1 (%2) is kept in the casebook.")
                             .arg(file.fileName(), QLocale::c().formattedDataSize(file.size())));
    read.file = text;
    return read;
}

}  // namespace

Typed read_typed(const Field& field, const QString& text, const FormContext& context, FieldValues& into) {
    switch (field.type) {
        case FieldType::number:
            return read_number(field, text, into);
        case FieldType::integer:
            return read_integer(field, text, into);
        case FieldType::flag:
            into.flag(field.name, text == QStringLiteral("yes"));
            return {};
        case FieldType::money:
            return read_money(field, text, into);
        case FieldType::money_estimate:
            return read_estimate(field, text, into);
        case FieldType::date:
            return read_date(field, text, context, into);
        case FieldType::instant:
            return read_moment(field, text, context, into);
        case FieldType::edtf:
            return read_edtf(field, text, into);
        case FieldType::zone:
            return read_zone(field, text, into);
        case FieldType::values:
            return field.unit == "bands" ? read_premium(field, text, into) : read_answer(field, text, into);
        case FieldType::sha256:
            return read_file_kept(field, text, into);
        case FieldType::record:
            return read_record(field, text, context, into);
        default:
            into.text(field.name, plain(text));
            return {};
    }
}

}  // namespace tedge::desk
