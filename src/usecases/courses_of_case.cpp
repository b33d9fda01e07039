#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "case_plan.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/money/invoice.hpp"
#include "tedge/usecases/ceilings.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

namespace {

// What the purchase says; what it leaves out follows from its hammer price and the terms of the plan.
Expected<money::AlreadySpent> paid_for(const Record& purchase, const money::CeilingPlan& plan) {
    const Money nothing{0, plan.currency()};
    // What the purchase itself says is in whatever was paid; what follows from the terms is in the sale's currency.
    const auto in_plan = [&](const Money& amount) {
        return plan.exchange ? money::exchanged(amount, *plan.exchange) : Expected<Money>(amount);
    };
    const auto hammer = purchase.body.money("hammer");
    auto all_in = purchase.body.money("all_in");
    auto margin_price = purchase.body.money("margin_price");
    Money recovered = nothing;
    if (hammer) {
        const auto due = money::invoice(plan.sale, *hammer);
        if (!due) return pass_on(due);
        const auto total = in_plan(due->total);
        const auto counted = in_plan(due->margin_price);
        const auto vat = in_plan(due->vat_to_recover);
        if (!total) return pass_on(total);
        if (!counted) return pass_on(counted);
        if (!vat) return pass_on(vat);
        if (!all_in) all_in = *total;
        if (!margin_price) margin_price = *counted;
        const bool recovers = plan.selling == money::Selling::ordinary || plan.purchase_vat_recovered;
        if (recovers) recovered = *vat;
    }
    if (!all_in) {
        return fail("courses.no-price", "Neither the all-in price nor the hammer price of the purchase is recorded.",
                    "Write what was paid into the purchase.", {{"record", to_text(purchase.id)}});
    }
    return money::AlreadySpent{*all_in, margin_price.value_or(*all_in), recovered, nothing};
}

// Taken out of the plan's text, where the reader of plans does not know it.
Expected<std::optional<money::AsFound>> take_as_it_stands(json& plan) {
    if (!plan.contains("as_it_stands")) return std::optional<money::AsFound>();
    json asked = plan;
    asked["as_found"] = asked["as_it_stands"];
    asked.erase("as_it_stands");
    plan.erase("as_it_stands");
    auto read = money::parse_ceiling_plan(asked.dump());
    if (read) return read->as_found;
    Error error = read.error();
    for (auto* text : {&error.message, &error.values["field"]}) {
        if (const auto at = text->find("as_found"); at != std::string::npos) text->replace(at, 8, "as_it_stands");
    }
    return std::unexpected(std::move(error));
}

}  // namespace

Expected<money::AlreadySpent> spent_on(const CaseSnapshot& snapshot, const money::CeilingPlan& plan) {
    const Record* purchase = newest_of_kind(snapshot, "purchase");
    if (purchase == nullptr) {
        return fail("courses.not-bought", "No purchase is recorded, so nothing is spent yet.",
                    "Ask the ceiling, or record the purchase.");
    }
    auto spent = paid_for(*purchase, plan);
    if (!spent) return spent;
    for (const Record* cost : snapshot.of_kind("cost_line")) {
        const auto actual = cost->body.money("actual");
        if (!actual) continue;
        const auto sum = add(spent->costs, *actual);
        if (!sum) return pass_on(sum);
        spent->costs = *sum;
    }
    return spent;
}

Expected<money::CoursesReport> courses_of_case(const CaseSnapshot& snapshot,
                                               const std::optional<std::string>& changed) {
    json plan = changed ? json::parse(*changed, nullptr, false) : plan_fixed_last(snapshot);
    if (changed && !plan.is_object()) {
        if (const auto read = money::parse_ceiling_plan(*changed); !read) return pass_on(read);  // says what is wrong
    }
    if (plan.empty()) {
        return fail("courses.no-plan", "No limit was fixed for this picture, so there is no plan to go on with.",
                    "Give a plan, or fix one with the ceiling.");
    }
    const auto as_it_stands = take_as_it_stands(plan);
    if (!as_it_stands) return pass_on(as_it_stands);
    const auto whole = money::parse_ceiling_plan(plan.dump());
    if (!whole) return pass_on(whole);
    const auto costs = costs_of_case(snapshot, plan, whole->currency(), CostsWanted::to_come);
    if (!costs) return pass_on(costs);
    plan["costs"] = *costs;
    const auto from_now_on = money::parse_ceiling_plan(plan.dump());
    if (!from_now_on) return pass_on(from_now_on);
    const auto spent = spent_on(snapshot, *from_now_on);
    if (!spent) return pass_on(spent);
    return money::weigh_courses(*from_now_on, *spent, *as_it_stands);
}

}  // namespace tedge::usecases
