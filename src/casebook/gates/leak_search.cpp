#include "gates/leak_search.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>

#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

constexpr std::size_t shortest_word = 3;       // shorter texts occur in any page by chance
constexpr std::size_t shortest_sentence = 12;  // a part of a note that tells something

// Lower case and single blanks: a page breaks its lines where it likes.
std::string plain(std::string_view text) {
    std::string out;
    for (const char c : lowered_ascii(text)) {
        const bool blank = c == ' ' || c == '\n' || c == '\t' || c == '\r';
        if (!blank) out += c;
        if (blank && !out.empty() && out.back() != ' ') out += ' ';
    }
    return std::string(trimmed(out));
}

bool is_part_of_word(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || byte >= 0x80;
}

// Found as whole words: "Li" is not in "lining", 1,200 is not in 11,200.
bool occurs(const std::string& text, const std::string& wanted) {
    for (std::size_t at = text.find(wanted); at != std::string::npos; at = text.find(wanted, at + 1)) {
        const std::size_t end = at + wanted.size();
        const bool free_before = at == 0 || !is_part_of_word(wanted.front()) || !is_part_of_word(text[at - 1]);
        const bool free_after = end == text.size() || !is_part_of_word(wanted.back()) || !is_part_of_word(text[end]);
        if (free_before && free_after) return true;
    }
    return false;
}

// The whole text, and of a long one every sentence: half a note is a note.
std::vector<std::string> telling_parts(const std::string& text) {
    std::vector<std::string> parts;
    const std::string whole = plain(text);
    if (whole.size() >= shortest_word) parts.push_back(whole);
    std::string sentence;
    const auto end_sentence = [&] {
        std::string part = plain(sentence);
        if (part.size() >= shortest_sentence && part != whole) parts.push_back(std::move(part));
        sentence.clear();
    };
    for (const char c : text) {
        if (c == '.' || c == ';' || c == '\n') {
            end_sentence();
        } else {
            sentence += c;
        }
    }
    end_sentence();
    return parts;
}

std::string grouped(const std::string& digits, std::string_view separator) {
    std::string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) out += separator;
        out += digits[i];
    }
    return out;
}

// 1,640 · 1 640 · 1.640 · 1640.00 · GBP 1640; a bare 1640 may be a year, a bare 450 a width in mm.
std::vector<std::string> written_amounts(std::int64_t minor, const Currency& currency) {
    if (minor == 0) return {};
    const std::string decimal = to_decimal_text({minor < 0 ? -minor : minor, currency});
    const std::string whole = decimal.substr(0, decimal.find('.'));
    const std::string fraction = decimal.substr(whole.size());
    const std::string code = lowered_ascii(currency.code());
    std::vector<std::string> forms;
    const auto with_code = [&](const std::string& form) {
        for (const std::string_view sign : {"£", "€", "$"}) forms.push_back(std::string(sign) + form);
        forms.push_back(code + " " + form);
        forms.push_back(form + " " + code);
    };
    for (const std::string_view separator : {"", ",", " ", "."}) {
        const std::string form = grouped(whole, separator);
        with_code(form);
        if (!fraction.empty() && separator != ".") forms.push_back(form + fraction);
        if (whole.size() > 4 || (whole.size() == 4 && !separator.empty())) forms.push_back(form);
    }
    return forms;
}

void add_amount(const json& value, const char* name, std::vector<std::string>& wanted) {
    if (!value.is_object() || !value.contains(name) || !value[name].is_number_integer()) return;
    const auto code = value.find("currency");
    const auto currency =
        code != value.end() && code->is_string() ? Currency::parse(code->get<std::string>()) : Currency::parse("GBP");
    if (!currency) return;
    for (std::string& form : written_amounts(value[name].get<std::int64_t>(), *currency)) wanted.push_back(form);
}

void add_strings(const json& value, std::vector<std::string>& wanted) {
    if (value.is_string()) {
        for (std::string& part : telling_parts(value.get<std::string>())) wanted.push_back(std::move(part));
    } else if (value.is_structured()) {
        for (const json& item : value) add_strings(item, wanted);
    }
}

// How a value would look on a page.
std::vector<std::string> written_forms(const Field& field, const json& value) {
    std::vector<std::string> wanted;
    switch (field.type) {
        case FieldType::text:
        case FieldType::long_text:
            add_strings(value, wanted);
            break;
        case FieldType::values:
            // The settings of a plan are single words that any page may hold ("common", "risk"); its phrases tell.
            add_strings(value, wanted);
            std::erase_if(wanted, [](const std::string& part) { return part.find(' ') == std::string::npos; });
            break;
        case FieldType::money:
            add_amount(value, "minor", wanted);
            break;
        case FieldType::money_estimate:
            for (const char* point : {"low", "likely", "high"}) add_amount(value, point, wanted);
            break;
        default:  // days, words and ids tell nothing by themselves
            break;
    }
    return wanted;
}

using Visit = std::function<void(const Kind&, const Field&, const json&)>;

void visit_fields(const Record& record, const Visit& visit) {
    const Kind* kind = find_kind(record.kind);
    if (kind == nullptr) return;
    for (const Field& field : kind->fields) {
        const auto value = record.body.as_json().find(field.name);
        if (value != record.body.as_json().end()) visit(*kind, field, *value);
    }
}

void visit_case(const CaseSnapshot& snapshot, const Visit& visit) {
    visit_fields(snapshot.picture, visit);
    for (const auto* records : {&snapshot.records, &snapshot.people}) {
        for (const Record& record : *records) visit_fields(record, visit);
    }
}

// Everything this reader may be given: what stands there too is no secret.
std::string allowed_text(const CaseSnapshot& snapshot, Reader reader) {
    std::string allowed;
    visit_case(snapshot, [&](const Kind&, const Field& field, const json& value) {
        if (!field.readers.contains(reader)) return;
        for (const std::string& form : written_forms(field, value)) allowed += form + "\n";
    });
    return allowed;
}

}  // namespace

std::vector<std::string> leaks_in(std::string_view leaving_text, const CaseSnapshot& snapshot, Reader reader) {
    const std::string text = plain(leaving_text);
    const std::string allowed = allowed_text(snapshot, reader);
    std::set<std::string> found;
    visit_case(snapshot, [&](const Kind& kind, const Field& field, const json& value) {
        if (field.readers.contains(reader)) return;
        const auto forms = written_forms(field, value);
        const bool leaks = std::ranges::any_of(
            forms, [&](const std::string& form) { return occurs(text, form) && !occurs(allowed, form); });
        if (leaks) found.insert(fmt::format("\"{}\" ({})", field.label, kind.label));
    });
    return {found.begin(), found.end()};
}

}  // namespace tedge::casebook
