#include "leaks/telling_values.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace tedge::casebook {

namespace {

using nlohmann::json;

std::size_t word_count(const Reading& text) {
    return text.size() == 0 ? 0 : static_cast<std::size_t>(std::ranges::count(text.written, U' ')) + 1;
}

bool has_digit(const Reading& text) {
    return std::ranges::any_of(text.written, is_digit);
}

// "Brandt & Lowe", not "Varnish removal": a later word with a capital names somebody or something.
bool has_later_capital(const Reading& text) {
    for (std::size_t i = text.written.find(U' '); i < text.size(); i = text.written.find(U' ', i + 1)) {
        if (i + 1 < text.size() && text.written[i + 1] != text.folded[i + 1]) return true;
    }
    return false;
}

// A single word that no dictionary holds.
bool is_code(const Reading& text) {
    if (word_count(text) != 1 || text.size() < 6) return false;
    const bool has_letter = text.written.find_first_not_of(U"0123456789.,-/:") != std::u32string::npos;
    const std::u32string_view inside = std::u32string_view(text.written).substr(1, text.size() - 2);
    return (has_letter && has_digit(text)) || inside.find_first_of(U"@_.") != std::u32string_view::npos;
}

bool is_telling_sentence(const Reading& text) {
    return word_count(text) >= 4 && text.size() >= 16;
}

bool is_telling_line(const Reading& text) {
    const bool names_something =
        word_count(text) >= 2 && text.size() >= 8 && (has_digit(text) || has_later_capital(text));
    return is_telling_sentence(text) || names_something || is_code(text);
}

bool is_telling_note(const Reading& text) {
    return (word_count(text) >= 3 && text.size() >= 12) || is_telling_line(text);
}

bool is_telling_name(const Reading& text) {
    const auto letters = std::ranges::count_if(text.written, is_word_character);
    const auto digits = std::ranges::count_if(text.written, is_digit);
    return letters > digits ? letters >= 3 : digits >= 6;
}

// At full stops before a blank, at other ends of sentences, and at line breaks.
std::vector<std::string> sentences_of(const std::string& text) {
    std::vector<std::string> sentences(1);
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool ends_word = i + 1 == text.size() || text[i + 1] == ' ' || text[i + 1] == '\n' || text[i + 1] == '\r';
        const bool ends = text[i] == '\n' || text[i] == ';' || text[i] == '!' || text[i] == '?';
        if (ends || (text[i] == '.' && ends_word)) {
            sentences.emplace_back();
        } else {
            sentences.back() += text[i];
        }
    }
    return sentences;
}

class Collector {
public:
    explicit Collector(bool everything) : everything_(everything) {}

    void add(const Kind& kind, const Field& field, const json& value) {
        switch (field.type) {
            case FieldType::text:
                if (value.is_string()) add_line(value.get<std::string>(), kind.name == "person");
                break;
            case FieldType::long_text:
                if (value.is_string()) add_note(value.get<std::string>(), field.personal);
                break;
            case FieldType::money:
                add_sum(value, "minor");
                break;
            case FieldType::money_estimate:
                for (const char* point : {"low", "likely", "high"}) add_sum(value, point);
                break;
            case FieldType::values:
                add_map(value, {});
                break;
            default:
                break;
        }
    }

    TellingValues take() { return std::move(values_); }

private:
    void add_words(Reading text, bool telling, bool as_written = false) {
        if (text.size() > 0 && (telling || everything_)) values_.words.push_back({std::move(text), as_written});
    }

    void add_line(const std::string& line, bool is_name) {
        Reading text = reading_of(line);
        const bool telling = is_name ? is_telling_name(text) : is_telling_line(text);
        const bool one_word = word_count(text) == 1 && !is_code(text);
        add_words(std::move(text), telling, is_name && one_word);
    }

    void add_note(const std::string& note, bool personal) {
        Reading whole = reading_of(note);
        const bool telling = is_telling_note(whole);
        add_words(std::move(whole), telling);
        for (const std::string& sentence : sentences_of(note)) {
            Reading text = reading_of(sentence);
            const bool tells = is_telling_sentence(text) || (personal && is_telling_line(text));
            add_words(std::move(text), tells);
        }
    }

    void add_sum(const json& value, const char* key) {
        if (!value.is_object() || !value.contains(key) || !value[key].is_number_integer()) return;
        const auto code = value.find("currency");
        const bool named = code != value.end() && code->is_string();
        const auto currency = Currency::parse(named ? code->get<std::string>() : "GBP");
        const auto minor = value[key].get<std::int64_t>();
        if (currency && minor != 0) values_.sums.push_back({{minor < 0 ? -minor : minor, *currency}});
    }

    // Plans and reports hold their amounts in major units, without a word on the currency.
    void add_number(double number) {
        constexpr double least = 100.0;
        constexpr double most = 1e12;
        if (std::abs(number) < least || std::abs(number) > most) return;
        const auto pennies = static_cast<std::int64_t>(std::llround(std::abs(number) * 100.0));
        values_.sums.push_back({{pennies, Currency::parse("GBP").value()}, true});
    }

    void add_map(const json& value, const std::string& key) {
        if (value.is_string()) {
            const auto text = value.get<std::string>();
            if (key == "note") return add_note(text, false);
            Reading words = reading_of(text);
            const bool telling = is_telling_sentence(words);
            add_words(std::move(words), telling);
        } else if (value.is_number()) {
            add_number(value.get<double>());
        } else if (value.is_object()) {
            for (const auto& [name, item] : value.items()) add_map(item, name);
        } else if (value.is_array()) {
            for (const json& item : value) add_map(item, key);
        }
    }

    bool everything_;
    TellingValues values_;
};

}  // namespace

TellingValues telling_values(const Kind& kind, const Field& field, const json& value) {
    Collector collector(false);
    collector.add(kind, field, value);
    return collector.take();
}

TellingValues told_values(const Kind& kind, const Field& field, const json& value) {
    Collector collector(true);
    collector.add(kind, field, value);
    return collector.take();
}

}  // namespace tedge::casebook
