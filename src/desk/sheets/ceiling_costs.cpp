#include "sheets/ceiling_costs.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace tedge::desk {

using nlohmann::json;

json number_or_text(const std::string& typed) {
    const json parsed = json::parse(typed, nullptr, false);
    return parsed.is_number() ? parsed : json(typed);
}

Expected<json> costs_in(const casebook::CaseSnapshot& snapshot, const Currency& currency) {
    json costs = json::array();
    for (const casebook::Record* record : snapshot.of_kind("cost_line")) {
        const auto cost = record->body.money_estimate("estimate");
        if (!cost) continue;
        if (cost->currency != currency) {
            return fail("money.mixed-currencies",
                        fmt::format("The cost \"{}\" is in {}, the plan in {}.", record->body.text_or("name"),
                                    cost->currency.code(), currency.code()),
                        "Estimate it in the plan's currency; the rate of the day is not known here.");
        }
        json amount = json::array();
        for (const std::int64_t minor : {cost->minor.low, cost->minor.likely, cost->minor.high}) {
            amount.push_back(number_or_text(to_decimal_text({minor, cost->currency})));
        }
        costs.push_back({{"name", record->body.text_or("name")}, {"amount", amount}});
    }
    return costs;
}

}  // namespace tedge::desk
