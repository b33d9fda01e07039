#include "exact.hpp"

#include "money_range.hpp"
#include "tedge/money/ceiling_plan.hpp"

namespace tedge::money {

namespace {

// Through two halves, because GMP's own integers are no wider than `long`, which has 32 bits on some platforms.
mpz_class whole(std::int64_t value) {
    mpz_class result(static_cast<int>(value >> 32));
    result <<= 32;
    result += static_cast<unsigned int>(value & 0xFFFFFFFF);
    return result;
}

std::int64_t narrow(const mpz_class& value) {
    const mpz_class high = value >> 32;  // rounds down, so the low half is never negative
    const mpz_class low = value - (high << 32);
    return static_cast<std::int64_t>(high.get_si()) * (std::int64_t{1} << 32) + static_cast<std::int64_t>(low.get_ui());
}

mpz_class rounded_down(const Exact& value) {
    mpz_class quotient;
    mpz_fdiv_q(quotient.get_mpz_t(), value.get_num_mpz_t(), value.get_den_mpz_t());
    return quotient;
}

mpz_class rounded(const Exact& value, Rounding rounding) {
    switch (rounding) {
        case Rounding::down:
            return rounded_down(value);
        case Rounding::up:
            return -rounded_down(-value);
        case Rounding::toward_zero:
            return sgn(value) < 0 ? mpz_class(-rounded_down(-value)) : rounded_down(value);
        case Rounding::half_away_from_zero:
            break;
    }
    const Exact half(1, 2);
    return sgn(value) < 0 ? mpz_class(-rounded_down(half - value)) : rounded_down(value + half);
}

}  // namespace

Exact exact(std::int64_t value) {
    return Exact(whole(value));
}

Exact exact(Decimal value) {
    Exact result(whole(value.units()), whole(Decimal::units_per_one));
    result.canonicalize();
    return result;
}

Exact percent(Decimal value) {
    return exact(value) / 100;
}

Exact tax_inside(Decimal rate) {
    const Exact fraction = percent(rate);
    return fraction / (1 + fraction);
}

Exact exchange_factor(const Exchange& exchange, const Currency& from) {
    return exact(exchange.rate) * (1 + percent(exchange.margin_percent)) * exact(exchange.into.minor_per_major()) /
           exact(from.minor_per_major());
}

Expected<Money> exchanged(const Money& amount, const Exchange& exchange) {
    return to_money(exact(amount.minor) * exchange_factor(exchange, amount.currency), exchange.into);
}

Exact pert_mean(const Exact& low, const Exact& likely, const Exact& high) {
    return (low + 4 * likely + high) / 6;
}

Expected<Money> to_money(const Exact& minor, const Currency& currency, Rounding rounding) {
    const mpz_class result = rounded(minor, rounding);
    if (abs(result) > whole(largest_minor)) {
        return fail("money.out-of-range", "The amount is too large to be counted safely.",
                    "Check the number of digits.");
    }
    return Money{narrow(result), currency};
}

std::int64_t search_limit(const Exact& minor) {
    if (sgn(minor) <= 0) return 0;
    const mpz_class down = rounded_down(minor);
    return down > whole(largest_minor) ? largest_minor : narrow(down);
}

}  // namespace tedge::money
