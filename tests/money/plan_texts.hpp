// Plans as text, with pieces exchanged.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

#include "tedge/money/ceiling.hpp"

namespace tedge::test {

// Invented figures: a picture that is either by the master or from his studio, sound or skinned under its dirt.
inline constexpr std::string_view two_outcomes = R"({"currency": "GBP",
 "sale": {"premium": [{"up_to": 50000, "percent": 25}, {"percent": 20}], "premium_includes_vat": false,
          "minimum_premium": 0, "vat_on_premium_percent": 20, "vat_on_hammer_percent": 0, "surcharge_percent": 0,
          "fixed_fees": 0, "royalty": false, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20,
 "costs": [{"name": "cleaning", "amount": [600, 900, 1800]}, {"name": "lining", "amount": 450}],
 "outcomes": [{"name": "by the master", "probability": 0.4, "price": [15000, 20000, 32000], "months": [3, 8, 24],
               "unsold": 0.05},
              {"name": "studio", "probability": 0.6, "price": [5000, 7000, 9000], "months": [3, 6, 18], "unsold": 0.1}],
 "conditions": [{"name": "sound under the dirt", "probability": 0.7},
                {"name": "skinned in the face", "probability": 0.3, "price_factor": [0.4, 0.55, 0.7],
                 "cost_factor": [1.2, 1.5, 2.2]}],
 "unsold_recovers": 0.5, "selling_commission_percent": 0, "finance_percent_a_year": 0,
 "target": {"profit": 4000, "loss_probability": 0.2, "cash": 20000},
 "bidders": {"serious": 4, "signal_error": 0.15}})";

// Everything certain: sells at 20,000, costs 3,000, 25 % premium with 20 % VAT on it.
inline constexpr std::string_view certain = R"({"currency": "GBP",
 "sale": {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20,
 "costs": [{"name": "all", "amount": 3000}],
 "outcomes": [{"price": 20000, "months": 6}],
 "target": {"profit": 4000}})";

// The text with one piece exchanged; the piece must be there.
inline std::string exchanged(std::string_view text, std::string_view piece, std::string_view other) {
    std::string result(text);
    const std::size_t at = result.find(piece);
    if (at == std::string::npos) throw std::logic_error("not in the plan: " + std::string(piece));
    return result.replace(at, piece.size(), other);
}

inline money::CeilingPlan plan_of(std::string_view text) {
    return money::parse_ceiling_plan(text).value();
}

inline money::CeilingReport solved(std::string_view text) {
    return money::solve_ceiling(plan_of(text)).value();
}

}  // namespace tedge::test
