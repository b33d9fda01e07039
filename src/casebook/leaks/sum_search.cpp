#include "leaks/sum_search.hpp"

#include <algorithm>
#include <array>
#include <string>

namespace tedge::casebook {

namespace {

std::u32string widened(std::string_view ascii) {
    return {ascii.begin(), ascii.end()};
}

std::u32string grouped(const std::u32string& digits, char32_t separator) {
    std::u32string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) out += separator;
        out += digits[i];
    }
    return out;
}

class SumSearch {
public:
    SumSearch(const TellingSum& sum, const Reading& text)
        : text_(text.folded), only_with_currency_(sum.only_with_currency), minor_(sum.money.minor) {
        const std::u32string decimal = widened(to_decimal_text(sum.money));
        const std::size_t point = decimal.find(U'.');
        whole_ = decimal.substr(0, point);
        if (point != std::u32string::npos) fraction_ = decimal.substr(point + 1);
        for (const char c : sum.money.currency.code()) code_ += folded_letter(static_cast<unsigned char>(c));
    }

    [[nodiscard]] bool found() const {
        if (stands_as(whole_, false, whole_.size() >= 5)) return true;
        if (whole_.size() >= 4) {
            if (stands_as(grouped(whole_, U','), true, true)) return true;
            for (const char32_t separator : {U' ', U'.', U'\''}) {
                if (stands_as(grouped(whole_, separator), true, whole_.size() >= 5)) return true;
            }
        }
        return !only_with_currency_ && stands_in_minor_units();
    }

private:
    [[nodiscard]] char32_t at(std::size_t i) const { return i < text_.size() ? text_[i] : U'\0'; }
    [[nodiscard]] char32_t before(std::size_t i, std::size_t steps) const {
        return i >= steps ? text_[i - steps] : U'\0';
    }

    // Not the tail of a longer number: 118,500 is not 18,500.
    [[nodiscard]] bool begins_number(std::size_t i) const {
        const char32_t c = before(i, 1);
        if (is_digit(c)) return false;
        return !((c == U'.' || c == U',' || c == U'\'') && is_digit(before(i, 2)));
    }

    // `tells_alone`: written like this it is a sum without any currency.
    [[nodiscard]] bool stands_as(const std::u32string& form, bool is_grouped, bool tells_alone) const {
        for (std::size_t i = text_.find(form); i != std::u32string::npos; i = text_.find(form, i + 1)) {
            if (begins_number(i) && tells(i, i + form.size(), is_grouped, tells_alone)) return true;
        }
        return false;
    }

    [[nodiscard]] bool tells(std::size_t from, std::size_t to, bool is_grouped, bool tells_alone) const {
        const bool goes_on = (at(to) == U'.' || at(to) == U',') && is_digit(at(to + 1));
        if (is_digit(at(to)) || (goes_on && !fraction_follows(to))) return false;
        const std::size_t end = goes_on ? to + 1 + fraction_.size() : to;
        if (has_currency(from, end)) return true;
        if (only_with_currency_ || joins_word(from, end)) return false;
        return tells_alone || (goes_on && (whole_.size() >= 3 || is_grouped));
    }

    [[nodiscard]] bool fraction_follows(std::size_t point) const {
        return !fraction_.empty() && text_.compare(point + 1, fraction_.size(), fraction_) == 0 &&
               !is_digit(at(point + 1 + fraction_.size()));
    }

    [[nodiscard]] bool joins_word(std::size_t from, std::size_t to) const {
        return (from > 0 && is_word_character(before(from, 1))) || is_word_character(at(to));
    }

    static bool is_currency_sign(char32_t c) { return c == U'£' || c == U'€' || c == U'$' || c == U'¥'; }

    [[nodiscard]] bool has_currency(std::size_t from, std::size_t to) const {
        const std::size_t gap_before = before(from, 1) == U' ' ? 1 : 0;
        const std::size_t gap_after = at(to) == U' ' ? 1 : 0;
        if (is_currency_sign(before(from, 1 + gap_before)) || is_currency_sign(at(to + gap_after))) return true;
        const std::size_t reach = gap_before + code_.size();
        const bool code_before = from >= reach && text_.compare(from - reach, code_.size(), code_) == 0 &&
                                 !is_word_character(before(from, reach + 1));
        const bool code_after = text_.size() >= to + gap_after &&
                                text_.compare(to + gap_after, code_.size(), code_) == 0 &&
                                !is_word_character(at(to + gap_after + code_.size()));
        return code_before || code_after;
    }

    // {"minor":1850000}, its quotation marks already taken off.
    [[nodiscard]] bool stands_in_minor_units() const {
        const std::u32string digits = widened(std::to_string(minor_));
        for (const std::u32string_view key : {U"minor:", U"low:", U"likely:", U"high:"}) {
            for (const std::u32string_view blank : {U"", U" "}) {
                const std::u32string form = std::u32string(key) + std::u32string(blank) + digits;
                for (std::size_t i = text_.find(form); i != std::u32string::npos; i = text_.find(form, i + 1)) {
                    if (!is_digit(at(i + form.size()))) return true;
                }
            }
        }
        return false;
    }

    const std::u32string& text_;
    bool only_with_currency_;
    std::int64_t minor_;
    std::u32string whole_;
    std::u32string fraction_;
    std::u32string code_;
};

}  // namespace

bool stands_in(const TellingSum& sum, const Reading& text) {
    return SumSearch(sum, text).found();
}

}  // namespace tedge::casebook
