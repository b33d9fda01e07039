#include "case_plan.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>

#include "tedge/usecases/ceilings.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

json decimal_amount(const Money& money) {
    return json::parse(to_decimal_text(money));
}

const Record* newest_of_kind(const CaseSnapshot& snapshot, std::string_view kind) {
    const auto records = snapshot.of_kind(kind);
    return records.empty() ? nullptr : records.back();
}

json plan_fixed_last(const CaseSnapshot& snapshot) {
    const Record* fixed = newest_of_kind(snapshot, "ceiling");
    if (fixed == nullptr) return json::object();
    const json plan = fixed->body.as_json().value("plan", json());
    return plan.is_object() ? plan : json::object();
}

namespace {

Expected<void> check_currency(const Record& cost, const Currency& currency, const Currency& plan) {
    if (currency == plan) return {};
    return fail("money.mixed-currencies",
                fmt::format("The cost \"{}\" is in {}, the plan in {}.", cost.body.text_or("name"), currency.code(),
                            plan.code()),
                "Estimate it in the plan's currency; the rate of the day is not known here.",
                {{"field", "costs"}, {"record", to_text(cost.id)}});
}

// What a recorded cost says of itself: paid for certain, else as estimated; null where it says neither.
Expected<json> amount_of_cost(const Record& cost, const Currency& currency) {
    if (const auto actual = cost.body.money("actual")) {
        if (auto same = check_currency(cost, actual->currency, currency); !same) return pass_on(same);
        return decimal_amount(*actual);
    }
    const auto estimate = cost.body.money_estimate("estimate");
    if (!estimate) return json();
    if (auto same = check_currency(cost, estimate->currency, currency); !same) return pass_on(same);
    json points = json::array();
    for (const std::int64_t minor : {estimate->minor.low, estimate->minor.likely, estimate->minor.high}) {
        points.push_back(decimal_amount({minor, currency}));
    }
    return points;
}

}  // namespace

Expected<json> costs_of_case(const CaseSnapshot& snapshot, const json& plan, const Currency& currency,
                             CostsWanted wanted) {
    json costs = json::array();
    std::set<std::string> recorded;
    for (const Record* cost : snapshot.of_kind("cost_line")) {
        const auto amount = amount_of_cost(*cost, currency);
        if (!amount) return pass_on(amount);
        const std::string name = cost->body.text_or("name");
        if (amount->is_null()) continue;
        recorded.insert(name);
        if (wanted == CostsWanted::to_come && cost->body.has("actual")) continue;
        json line = {{"name", name}, {"amount", *amount}};
        if (const auto treatment = cost->body.text("treatment")) line["treatment"] = *treatment;
        costs.push_back(std::move(line));
    }
    for (const json& line : plan.value("costs", json::array())) {
        const bool is_named = line.is_object() && line.contains("name") && line["name"].is_string();
        if (!is_named || !recorded.contains(line["name"].get<std::string>())) costs.push_back(line);
    }
    return costs;
}

json terms_in_lot(const casebook::Body& lot) {
    json terms = lot.as_json().value("terms", json());
    if (!terms.is_object() || terms.empty()) return json::object();
    // A number typed into a form is kept as it counts; an amount of a currency without minor units has no decimals.
    for (auto& [name, value] : terms.items()) {
        if (value.is_number_float() && std::trunc(value.get<double>()) == value.get<double>())
            value = static_cast<std::int64_t>(value.get<double>());
    }
    for (const char* field : {"estimate_low", "estimate_high", "hammer"}) {
        if (const auto amount = lot.money(field)) terms["currency"] = std::string(amount->currency.code());
    }
    return terms;
}

json sale_of_case(const CaseSnapshot& snapshot) {
    json sale = plan_fixed_last(snapshot).value("sale", json());
    if (!sale.is_object()) sale = json::object();
    const Record* lot = newest_of_kind(snapshot, "lot");
    const json terms = lot != nullptr ? terms_in_lot(lot->body) : json::object();
    for (const auto& [name, value] : terms.items()) sale[name] = value;
    return sale;
}

namespace {

// Each outcome says which comparables speak for it now.
void name_comparables(const CaseSnapshot& snapshot, json& outcomes) {
    for (json& outcome : outcomes) {
        if (!outcome.is_object()) continue;
        outcome.erase("rests_on");
        for (const Record* comparable : snapshot.of_kind("comparable")) {
            if (outcome.value("name", json()) == comparable->body.text_or("outcome"))
                outcome["rests_on"].push_back(to_text(comparable->id));
        }
    }
}

}  // namespace

Expected<std::string> draft_plan(const CaseSnapshot& snapshot, const Currency& currency) {
    json plan = plan_fixed_last(snapshot);
    plan["currency"] = std::string(currency.code());
    plan["sale"] = sale_of_case(snapshot);
    if (!plan["sale"].contains("increments")) plan["sale"]["increments"] = "common";
    const auto costs = costs_of_case(snapshot, plan, currency, CostsWanted::all);
    if (!costs) return pass_on(costs);
    plan["costs"] = *costs;
    if (!plan.contains("outcomes")) plan["outcomes"] = json::array();
    name_comparables(snapshot, plan["outcomes"]);
    if (!plan.contains("target")) plan["target"] = json::object();
    return plan.dump();
}

}  // namespace tedge::usecases
