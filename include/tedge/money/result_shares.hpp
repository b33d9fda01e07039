// Who gets what of the result of a picture that several own. Own rule: each share rounds half away from zero, and what
// the roundings leave is ours, so that the parts always add up to the result.
#pragma once

#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

struct ResultShare {
    Decimal percent{};        // of the result
    bool bears_loss = false;  // false: has a part in a profit alone
};

struct SharedResult {
    std::vector<Money> shares{};  // in the order given; negative where a loss is borne
    Money ours;
};

// Errors: shares.out-of-range (a share outside 0 to 100), shares.over-100 (together), money.out-of-range.
[[nodiscard]] Expected<SharedResult> share_result(const Money& result, const std::vector<ResultShare>& shares);

}  // namespace tedge::money
