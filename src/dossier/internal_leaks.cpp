#include <QString>
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "tedge/base/money.hpp"
#include "tedge/base/text.hpp"
#include "tedge/dossier/extract.hpp"

namespace tedge::dossier {

using casebook::CaseSnapshot;
using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Reader;
using casebook::Record;
using nlohmann::json;

namespace {

constexpr qsizetype least_letters = 8;           // a shorter text stands in any text
constexpr qsizetype least_letters_in_maps = 20;  // plans and answers are full of everyday labels
constexpr qsizetype least_name_letters = 3;

// Every run of blanks becomes one: a line broken in the layout still reads the same.
struct Searched {
    QString as_written;
    QString folded;
    explicit Searched(const std::string& text)
        : as_written(QString::fromStdString(text).simplified()), folded(as_written.toCaseFolded()) {}
};

struct Value {
    QString text;
    bool is_name = false;  // then letters count as they are written
    friend bool operator<(const Value& a, const Value& b) {
        return std::tie(a.text, a.is_name) < std::tie(b.text, b.is_name);
    }
};
using Values = std::set<Value>;

bool is_bare_number(const QString& text) {
    return std::ranges::none_of(text, [](QChar c) { return c.isLetter(); }) && text.size() < least_letters;
}

void add_text(const std::string& text, Values& values, qsizetype at_least = least_letters) {
    const QString value = Searched(text).folded;
    if (value.size() < at_least || is_bare_number(value)) return;
    values.insert({value, false});
}

void add_name(const std::string& text, Values& values) {
    const QString value = Searched(text).as_written;
    if (value.size() >= least_name_letters && !is_bare_number(value)) values.insert({value, true});
}

void add_strings(const json& value, Values& values) {
    if (value.is_string()) {
        add_text(value.get<std::string>(), values, least_letters_in_maps);
    } else if (value.is_structured()) {
        for (const auto& item : value) add_strings(item, values);
    }
}

void add_amount(const Money& money, Values& values) {
    if (money.minor == 0) return;
    const std::string display = to_display_text(money);
    for (const auto& form : {to_decimal_text(money), display, display.substr(display.find(' ') + 1)})
        values.insert({Searched(form).folded, false});
    values.insert({Searched("\"minor\":" + std::to_string(money.minor)).folded, false});
    values.insert({Searched("\"minor\": " + std::to_string(money.minor)).folded, false});
}

// The forms in which a value would stand in a text.
Values forms_of(const Record& record, const Field& field) {
    Values values;
    const std::string name(field.name);
    switch (field.type) {
        case FieldType::text:
            if (field.personal) {
                add_name(record.body.text_or(name), values);
            } else {
                add_text(record.body.text_or(name), values);
            }
            break;
        case FieldType::long_text:
            add_text(record.body.text_or(name), values);
            break;
        case FieldType::money:
            if (const auto money = record.body.money(name)) add_amount(*money, values);
            break;
        case FieldType::money_estimate:
            if (const auto estimate = record.body.money_estimate(name))
                for (const auto minor : {estimate->minor.low, estimate->minor.likely, estimate->minor.high})
                    add_amount(Money{minor, estimate->currency}, values);
            break;
        case FieldType::values:
            if (record.body.has(name)) add_strings(record.body.as_json()[name], values);
            break;
        default:
            break;
    }
    return values;
}

// What a buyer or a scholar may have is no secret, even where it is not this reader's business.
bool is_internal(const Field& field) {
    return !field.readers.contains(Reader::buyer) && !field.readers.contains(Reader::scholar);
}

template <class Visit>
void for_each_field(const CaseSnapshot& snapshot, Visit visit) {
    const auto visit_record = [&](const Record& record) {
        if (const Kind* kind = casebook::find_kind(record.kind))
            for (const Field& field : kind->fields) visit(record, field);
    };
    visit_record(snapshot.picture);
    for (const Record& record : snapshot.records) visit_record(record);
    for (const Record& person : snapshot.people) visit_record(person);
}

bool is_letter(const QString& text, qsizetype at) {
    return at >= 0 && at < text.size() && text[at].isLetterOrNumber();
}

// A single token ("trials.jpg") ends where blanks or quotes do: a longer name with hyphens is another name.
bool joins(const QString& value, const QString& text, qsizetype at) {
    const bool hyphenated = at >= 0 && at < text.size() && (text[at] == u'-' || text[at] == u'_');
    return is_letter(text, at) || (hyphenated && !value.contains(u' ') && value.contains(u'.'));
}

bool stands_in(const QString& value, const QString& text) {
    for (qsizetype at = text.indexOf(value); at >= 0; at = text.indexOf(value, at + 1)) {
        const bool joined_before = is_letter(value, 0) && joins(value, text, at - 1);
        const bool joined_after = is_letter(value, value.size() - 1) && joins(value, text, at + value.size());
        if (!joined_before && !joined_after) return true;
    }
    return false;
}

}  // namespace

std::vector<Leak> internal_leaks(const CaseSnapshot& snapshot, Reader reader,
                                 const std::vector<std::pair<std::string, std::string>>& texts) {
    std::set<QString> allowed;
    for_each_field(snapshot, [&](const Record& record, const Field& field) {
        if (!field.readers.contains(reader)) return;
        for (const auto& value : forms_of(record, field)) allowed.insert(value.text.toCaseFolded());
    });
    std::vector<std::pair<std::string, Searched>> outgoing;
    for (const auto& [name, text] : texts) outgoing.emplace_back(name, Searched(text));
    std::vector<Leak> leaks;
    for_each_field(snapshot, [&](const Record& record, const Field& field) {
        if (field.readers.contains(reader) || !is_internal(field)) return;
        for (const auto& value : forms_of(record, field)) {
            if (allowed.contains(value.text.toCaseFolded())) continue;
            for (const auto& [where, text] : outgoing)
                if (stands_in(value.text, value.is_name ? text.as_written : text.folded))
                    leaks.push_back({record.id, record.kind, std::string(field.name), where});
        }
    });
    return leaks;
}

}  // namespace tedge::dossier
