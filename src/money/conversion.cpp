#include "tedge/money/conversion.hpp"

#include "exact.hpp"

namespace tedge::money {

Expected<Money> convert(const Money& amount, const ConversionRate& rate) {
    if (amount.currency == rate.to) return amount;
    if (rate.rate <= Decimal{}) {
        return fail("money.rate-not-above-zero", "A rate of exchange is above zero.", "Check the rate.",
                    {{"rate", rate.rate.to_text()}});
    }
    const Exact major = exact(amount.minor) / exact(amount.currency.minor_per_major()) * exact(rate.rate);
    return to_money(major * exact(rate.to.minor_per_major()), rate.to);
}

}  // namespace tedge::money
