// A private price code: a word of ten different letters stands for the ten digits, so that what a picture cost may be
// written where a client looks. The first letter is 1, the ninth 9, the tenth 0 (trade custom, from memory).
#pragma once

#include <string>
#include <string_view>

#include "tedge/base/money.hpp"

namespace tedge::money {

class PriceCode {
public:
    // Latin letters, small or capital. Errors: price-code.not-ten-letters, price-code.repeated-letter.
    [[nodiscard]] static Expected<PriceCode> parse(std::string_view word);

    // Whole major units, rounded up, in capitals: 1180.00 with "blackhorse" is "BBRE". The currency is not written.
    // Errors: price-code.negative (a code has no sign).
    [[nodiscard]] Expected<std::string> encode(const Money& amount) const;
    // Back into whole major units. Errors: price-code.not-this-code, money.out-of-range.
    [[nodiscard]] Expected<Money> decode(std::string_view code, const Currency& currency) const;

private:
    explicit PriceCode(std::string letters) : letters_(std::move(letters)) {}
    std::string letters_;  // of 0, 1, 2 … 9, in capitals
};

}  // namespace tedge::money
