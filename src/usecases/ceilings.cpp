#include "tedge/usecases/ceilings.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "case_plan.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/ceiling_plan.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

namespace {

// What was known of a lot before its sale and goes into a plan: what became of it, and when somebody read what, are no
// reason to think the limit over.
constexpr std::array not_of_the_plan{
    "result", "hammer", "our_last_bid", "after_sale_offer", "terms_read", "catalogue_seen_on", "catalogue_page"};
constexpr const char* lots_known = "lots_known";  // in the report of a limit: lot to digest

std::string what_is_known(const Record& lot) {
    json fields = lot.body.as_json();
    for (const char* field : not_of_the_plan) fields.erase(field);
    Hasher hasher(HashAlgorithm::sha256);
    hasher.update(casebook::Body(std::move(fields)).canonical_json());
    return hasher.finish_hex();
}

json optional_amount(const std::optional<Money>& money) {
    return money ? decimal_amount(*money) : json(nullptr);
}

json ceiling_value(const std::optional<money::Ceiling>& ceiling) {
    if (!ceiling) return nullptr;
    json fields = {{"hammer", decimal_amount(ceiling->hammer)}, {"bid", decimal_amount(ceiling->bid)}};
    if (ceiling->reason) fields["reason"] = ceiling->reason->text;
    return fields;
}

}  // namespace

json ceiling_values(const money::CeilingReport& report) {
    const auto& at = report.at_bid;
    const auto of_bid = [&](auto member) { return at ? decimal_amount((*at).*member) : json(nullptr); };
    json fields = {{"ceilings",
                    {{"target", ceiling_value(report.target)},
                     {"risk", ceiling_value(report.risk)},
                     {"cash", ceiling_value(report.cash)}}},
                   {"binding", report.binding ? json(money::limit_name(*report.binding)) : json(nullptr)},
                   {"bid", optional_amount(report.bid)},
                   {"all_in", of_bid(&money::ProfitAtHammer::all_in)},
                   {"margin_price", of_bid(&money::ProfitAtHammer::margin_price)},
                   {"expected_profit", of_bid(&money::ProfitAtHammer::expected_profit)},
                   {"loss_probability", at ? json(at->loss_probability) : json(nullptr)},
                   {"quantiles", nullptr},
                   {"remarks", json::array()}};
    // Two where the sale is held in another currency than the plan: bids in the one, all else in the other.
    if (report.bid) fields["hammer_currency"] = std::string(report.bid->currency.code());
    if (at) fields["currency"] = std::string(at->all_in.currency.code());
    if (at) {
        fields["quantiles"] = {{"p5", decimal_amount(at->quantiles.p5)},
                               {"p50", decimal_amount(at->quantiles.p50)},
                               {"p95", decimal_amount(at->quantiles.p95)}};
    }
    for (const money::Remark& remark : report.remarks) {
        fields["remarks"].push_back({{"code", remark.code}, {"text", remark.text}});
    }
    return fields;
}

Expected<FixedCeiling> fix_ceiling(const Acting& acting, const Uuid& case_id, std::string_view text,
                                   std::string_view note) {
    const auto plan = money::parse_ceiling_plan(text);
    if (!plan) return pass_on(plan);
    auto report = money::solve_ceiling(*plan);
    if (!report) return pass_on(report);
    if (!report->bid) {
        return fail("ceiling.no-limit", "Nothing in the plan limits the bid, so there is no limit to fix.",
                    "Say what profit is wanted, what chance of loss is accepted or what cash there is.");
    }
    return acting.book.in_one_act([&]() -> Expected<FixedCeiling> {
        const auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        json said = ceiling_values(*report);
        for (const Record* lot : snapshot->of_kind("lot"))
            said[lots_known][tedge::to_text(lot->id)] = what_is_known(*lot);
        casebook::FieldValues values;
        values.value("plan", json::parse(text))
            .value("report", said)
            .money("limit", *report->bid)
            .text("fixed_at", tedge::to_text(acting.clock.now()))
            .record("fixed_by", acting.author);
        if (!trimmed(note).empty()) values.text("note", trimmed(note));
        auto done = add_record(acting, case_id, "ceiling", values);
        if (!done) return pass_on(done);
        return FixedCeiling{*std::move(done), *std::move(report)};
    });
}

namespace {

std::string said_since(const Record& record, const Record& ceiling) {
    const bool is_new = record.first_written > ceiling.first_written;
    if (record.kind == "viewing_note") {
        return is_new ? "A viewing note was written after the limit was fixed."
                      : "A viewing note was changed after the limit was fixed.";
    }
    if (record.kind == "lot") return "The lot, its terms or its notices were changed after the limit was fixed.";
    return fmt::format("The cost \"{}\" was {} after the limit was fixed.", record.body.text_or("name"),
                       is_new ? "estimated" : "changed");
}

// By what the limit says it knew; of one that does not say it, by the time, until the lot has its result.
bool knows_lot(const Record& ceiling, const Record& lot) {
    if (lot.last_written <= ceiling.first_written) return true;
    const json report = ceiling.body.as_json().value("report", json::object());
    const json known = report.is_object() ? report.value(lots_known, json()) : json();
    const std::string id = tedge::to_text(lot.id);
    if (known.is_object() && known.contains(id)) return known[id] == what_is_known(lot);
    return lot.first_written <= ceiling.first_written && lot.body.has("result");
}

}  // namespace

std::optional<CeilingStanding> ceiling_standing(const CaseSnapshot& snapshot) {
    const Record* ceiling = newest_of_kind(snapshot, "ceiling");
    if (ceiling == nullptr) return std::nullopt;
    CeilingStanding standing{
        .record = ceiling->id, .limit = ceiling->body.money("limit"), .fixed_at = ceiling->body.text_or("fixed_at")};
    const auto by = ceiling->body.record("fixed_by");
    const Record* person = by ? snapshot.find(*by) : nullptr;
    if (person != nullptr) standing.fixed_by = person->body.text_or("name");
    standing.bought = newest_of_kind(snapshot, "purchase") != nullptr;
    for (const char* kind : {"viewing_note", "lot", "cost_line"}) {
        for (const Record* record : snapshot.of_kind(kind)) {
            if (record->last_written <= ceiling->first_written) continue;
            if (record->kind == "lot" && knows_lot(*ceiling, *record)) continue;
            if (record->kind == "cost_line" && !record->body.has("estimate")) continue;
            standing.since.push_back({record->id, said_since(*record, *ceiling)});
        }
    }
    return standing;
}

}  // namespace tedge::usecases
