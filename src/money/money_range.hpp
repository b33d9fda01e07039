// The range of Money, in minor units: parse_money refuses more (base/money.hpp), and sums of two still fit 64 bits.
#pragma once

#include <cstdint>

namespace tedge::money {

inline constexpr std::int64_t largest_minor = 9'000'000'000'000'000;

}  // namespace tedge::money
