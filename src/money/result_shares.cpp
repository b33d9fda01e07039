#include "tedge/money/result_shares.hpp"

#include <fmt/format.h>

namespace tedge::money {

namespace {

Expected<void> check_shares(const std::vector<ResultShare>& shares) {
    const Decimal whole = Decimal::from_integer(100);
    Decimal sum{};
    for (const ResultShare& share : shares) {
        if (share.percent < Decimal{} || share.percent > whole) {
            return fail("shares.out-of-range", fmt::format("{} % is no share.", share.percent.to_text()),
                        "Give a share from 0 to 100.", {{"percent", share.percent.to_text()}});
        }
        if (sum <= whole) sum = Decimal::from_units(sum.units() + share.percent.units());
    }
    if (sum <= whole) return {};
    return fail("shares.over-100", "The shares in the picture come to more than 100 %.",
                "Correct them; what nobody else has is ours and is not recorded.");
}

}  // namespace

Expected<SharedResult> share_result(const Money& result, const std::vector<ResultShare>& shares) {
    if (auto fits = check_shares(shares); !fits) return pass_on(fits);
    SharedResult shared{{}, result};
    for (const ResultShare& share : shares) {
        const bool takes_part = result.minor > 0 || share.bears_loss;
        const auto part = percent_of(result, takes_part ? share.percent : Decimal{}, Rounding::half_away_from_zero);
        if (!part) return pass_on(part);
        const auto left = subtract(shared.ours, *part);
        if (!left) return pass_on(left);
        shared.shares.push_back(*part);
        shared.ours = *left;
    }
    return shared;
}

}  // namespace tedge::money
