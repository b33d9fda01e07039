#include "tedge/money/price_code.hpp"

#include <algorithm>
#include <set>

#include "tedge/base/text.hpp"

namespace tedge::money {

namespace {

std::string in_capitals(std::string_view text) {
    std::string capitals(text);
    for (char& c : capitals)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return capitals;
}

}  // namespace

Expected<PriceCode> PriceCode::parse(std::string_view word) {
    const std::string letters = in_capitals(trimmed(word));
    if (letters.size() != 10 || !std::ranges::all_of(letters, [](char c) { return c >= 'A' && c <= 'Z'; })) {
        return fail("price-code.not-ten-letters", "A price code is a word of ten letters from A to Z.",
                    "Choose a word, or two, with ten different letters.");
    }
    if (std::set<char>(letters.begin(), letters.end()).size() != letters.size()) {
        return fail("price-code.repeated-letter", "In a price code every letter is another.",
                    "Choose a word, or two, with ten different letters.");
    }
    return PriceCode(letters.back() + letters.substr(0, 9));
}

Expected<std::string> PriceCode::encode(const Money& amount) const {
    if (amount.minor < 0) return fail("price-code.negative", "A price code writes no negative price.", "Check it.");
    const std::int64_t unit = amount.currency.minor_per_major();
    std::string code = std::to_string((amount.minor + unit - 1) / unit);
    for (char& c : code) c = letters_[static_cast<std::size_t>(c - '0')];
    return code;
}

Expected<Money> PriceCode::decode(std::string_view code, const Currency& currency) const {
    std::string digits = in_capitals(trimmed(code));
    for (char& c : digits) {
        const std::size_t digit = letters_.find(c);
        if (digit == std::string::npos) digits.clear();
        if (digits.empty()) break;
        c = static_cast<char>('0' + digit);
    }
    if (digits.empty()) {
        return fail("price-code.not-this-code", "That is not written in this price code.", "Check the letters.");
    }
    return parse_money(digits, currency);
}

}  // namespace tedge::money
