// What of a case decides which questions are asked.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "tedge/money/legal_limits.hpp"
#include "tedge/usecases/house.hpp"

namespace tedge::usecases {

struct Crossing {
    std::string from{};
    std::string to{};
    std::string act{};  // "purchase", "sale"
};

struct DutyFacts {
    const casebook::CaseSnapshot* snapshot = nullptr;
    const casebook::Record* sale = nullptr;      // that stands
    const casebook::Record* purchase = nullptr;  // that stands
    std::chrono::year_month_day today{};
    std::chrono::year_month_day deal_day{};  // of the sale, else of the purchase, else today
    std::optional<std::int64_t> made_from_year{};
    std::optional<std::int64_t> made_to_year{};
    std::optional<Money> value{};  // price, else asking price, else all-in price
    std::string value_is{};        // "sold for"
    money::PictureGroup group = money::PictureGroup::unknown;
    std::string country{};  // of the house
    std::vector<Crossing> crossings{};
    bool way_is_known = false;  // where it came from, and where it goes or that it stays, is said
};

[[nodiscard]] DutyFacts duty_facts(const casebook::CaseSnapshot& snapshot, const House& house,
                                   std::chrono::year_month_day today);

[[nodiscard]] bool is_in_european_union(std::string_view country);

}  // namespace tedge::usecases
