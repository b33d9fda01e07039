#include "tedge/usecases/lot_results.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "case_plan.hpp"
#include "lot_on_record.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::FieldValues;
using casebook::Record;

namespace {

Money without_sign(Money money) {
    return {money.minor < 0 ? -money.minor : money.minor, money.currency};
}

std::string against_limit(const PostMortem& found) {
    if (found.above_limit.minor == 0) return "at the limit";
    return fmt::format("{} {} the limit of {}", round_text(without_sign(found.above_limit)),
                       found.above_limit.minor > 0 ? "above" : "below", round_text(found.limit));
}

void say_of_bought(PostMortem& found, const money::Increments& increments) {
    found.said.push_back(fmt::format("Bought {}{}.", against_limit(found),
                                     found.above_limit.minor > 0 ? ": the limit was not kept" : ""));
    if (increments.every_penny()) return;
    const auto below = increments.highest_not_above(found.price.minor - 1);
    if (!below) return;
    found.underbid = Money{*below, found.price.currency};
    found.said.push_back(
        fmt::format("By the increments the underbid was {}, unless the auctioneer varied them: somebody else was ready "
                    "to pay that, and nobody more. It tells of that day and that room, not of what the picture will "
                    "bring.",
                    round_text(*found.underbid)));
}

void say_of_underbid(PostMortem& found, const money::Increments& increments, const std::optional<Money>& our_last) {
    found.said.push_back(fmt::format("It was sold to somebody else {}.", against_limit(found)));
    const auto next = increments.lowest_above(found.price.minor);
    if (found.above_limit.minor >= 0) {
        found.said.emplace_back("To have it, the limit would have had to be passed.");
    } else if (next && !increments.every_penny()) {
        const Money next_bid{*next, found.price.currency};
        found.said.push_back(*next <= found.limit.minor
                                 ? fmt::format("The next bid of {} was still within the limit.", round_text(next_bid))
                                 : fmt::format("The next bid of {} would have passed it.", round_text(next_bid)));
    }
    if (!our_last) return;
    found.said.push_back(
        fmt::format("Our last bid of {} was the underbid: it carried the price, and somebody else went further.",
                    round_text(*our_last)));
}

void say_by_result(PostMortem& found, const Record& lot, const money::Increments& increments) {
    const std::string result = lot.body.text_or("result");
    if (result == "bought") {
        say_of_bought(found, increments);
    } else if (result == "underbid") {
        say_of_underbid(found, increments, lot.body.money("our_last_bid"));
    } else if (result == "bought-in" && lot.body.has("after_sale_offer")) {
        found.said.push_back(fmt::format("Not sold; offered after the sale {}.", against_limit(found)));
    } else if (result == "bought-in") {
        found.said.push_back(fmt::format("Not sold; the bids ended {}.", against_limit(found)));
    } else {
        found.said.push_back(fmt::format("Not bid for; it was sold {}.", against_limit(found)));
    }
}

std::optional<Money> price_of(const Record& lot) {
    const auto offer = lot.body.money("after_sale_offer");
    return offer && lot.body.text_or("result") == "bought-in" ? offer : lot.body.money("hammer");
}

}  // namespace

std::optional<PostMortem> post_mortem(const CaseSnapshot& snapshot) {
    const Record* lot = newest_of_kind(snapshot, "lot");
    const Record* ceiling = newest_of_kind(snapshot, "ceiling");
    if (lot == nullptr || ceiling == nullptr || !lot->body.has("result")) return std::nullopt;
    const auto price = price_of(*lot);
    const auto limit = ceiling->body.money("limit");
    const auto plan = money::parse_ceiling_plan(plan_fixed_last(snapshot).dump());
    if (!price || !limit || !plan || price->currency != limit->currency) return std::nullopt;
    const auto above = subtract(*price, *limit);
    if (!above) return std::nullopt;
    PostMortem found{.price = *price, .limit = *limit, .above_limit = *above};
    say_by_result(found, *lot, plan->sale.increments);
    const auto profits = money::profit_at(*plan, {*price});
    if (!profits) return found;
    found.at_price = profits->front();
    found.said.push_back(
        fmt::format("By the plan of the limit, {} leads to an expected profit of {} and a chance of "
                    "loss of {} %.",
                    round_text(*price), round_text(found.at_price->expected_profit),
                    format_fixed(100.0 * found.at_price->loss_probability, 1)));
    return found;
}

std::optional<PostMortem> post_mortem_if(const CaseSnapshot& snapshot, const LotResult& result) {
    CaseSnapshot as_if = snapshot;
    const Record* newest = newest_of_kind(snapshot, "lot");
    if (newest == nullptr) return std::nullopt;
    const auto lot = std::ranges::find(as_if.records, newest->id, &Record::id);
    nlohmann::json fields = lot->body.as_json();
    for (const char* field : {"hammer", "our_last_bid", "after_sale_offer"}) fields.erase(field);
    FieldValues said;
    said.text("result", result.result);
    if (result.hammer) said.money("hammer", *result.hammer);
    if (result.our_last_bid) said.money("our_last_bid", *result.our_last_bid);
    if (result.after_sale_offer) said.money("after_sale_offer", *result.after_sale_offer);
    fields.update(said.set_values());
    lot->body = casebook::Body(std::move(fields));
    return post_mortem(as_if);
}

Expected<money::Invoice> expected_invoice(const CaseSnapshot& snapshot, const Money& hammer) {
    const auto terms = terms_of_sale(snapshot, hammer.currency);
    if (!terms) return pass_on(terms);
    return money::invoice(*terms, hammer);
}

const Record* custody_of_risk(const CaseSnapshot& snapshot) {
    for (const Record* custody : snapshot.of_kind("custody"))
        if (custody->body.has("risk_from")) return custody;
    return nullptr;
}

std::optional<RiskStanding> risk_standing(const CaseSnapshot& snapshot) {
    const Record* lot = newest_of_kind(snapshot, "lot");
    const Record* purchase = lot != nullptr ? purchase_of(snapshot, *lot) : nullptr;
    if (purchase == nullptr) return std::nullopt;
    RiskStanding risk{.passes = lot->body.text_or("terms/risk_passes")};
    risk.is_assumed = risk.passes.empty();
    if (risk.is_assumed) risk.passes = "fall-of-hammer";
    const auto day_in = [&](const char* field) -> std::optional<std::chrono::year_month_day> {
        const auto day = parse_date(purchase->body.text_or(field));
        return day ? std::optional(*day) : std::nullopt;
    };
    if (risk.passes == "payment") {
        risk.from = day_in("paid_on");
    } else if (risk.passes == "collection") {
        risk.from = day_in("collected_on");
    } else {
        risk.from = day_of_sale(snapshot, *lot);
    }
    const std::string moment = risk.passes == "fall-of-hammer" ? "the fall of the hammer" : risk.passes;
    const std::string since =
        risk.from ? ", on " + provenance::words_for_day(to_text(*risk.from)) : ", which is not recorded yet";
    risk.said =
        risk.is_assumed
            ? fmt::format("The terms do not say when the risk passes; the earliest is assumed, {}{}.", moment, since)
            : fmt::format("By the terms the risk passes with {}{}.", moment, since);
    return risk;
}

namespace {

Expected<void> check_result(const Acting& acting, const CaseSnapshot& snapshot, const Record& lot,
                            const LotResult& wanted) {
    const bool has_price = wanted.hammer || lot.body.has("hammer");
    if ((wanted.result == "bought" || wanted.result == "underbid") && !has_price) {
        return fail("lot.no-hammer", "What it was knocked down at is not said.", "Say the hammer price.",
                    {{"field", "hammer"}});
    }
    if (wanted.result == "withdrawn" && wanted.hammer) {
        return fail("lot.has-no-price", "A lot that was withdrawn has no hammer price.",
                    "Leave the price out, or say what else became of it.", {{"field", "hammer"}});
    }
    const auto at = parse_instant(lot.body.text_or("sale_at"));
    if (at && *at > acting.clock.now()) {
        return fail("lot.sale-to-come",
                    fmt::format("The sale begins only on {}.", moment_words(*at, lot.body.text_or("sale_zone"))),
                    "Correct the time of the sale, or wait for it.", {{"field", "sale_at"}});
    }
    if (wanted.result != "bought" && purchase_of(snapshot, lot) != nullptr) {
        return fail("lot.bought-already", "A purchase of this lot is recorded.",
                    "If that is wrong, take the purchase back first.", {{"field", "result"}});
    }
    return {};
}

// Values that differ from what stands; nothing to do is no error.
class Difference {
public:
    explicit Difference(const Record* before) : before_(before) {}
    void text(const char* field, const std::string& value) {
        if (!value.empty() && (before_ == nullptr || before_->body.text(field) != value)) values_.text(field, value);
    }
    void money(const char* field, const std::optional<Money>& value) {
        if (value && (before_ == nullptr || before_->body.money(field) != value)) values_.money(field, *value);
    }
    void record(const char* field, const Uuid& value) {
        if (before_ == nullptr || before_->body.record(field) != value) values_.record(field, value);
    }
    [[nodiscard]] Expected<void> write(const Acting& acting, const Uuid& case_id, const char* kind,
                                       std::vector<Done>& done) const {
        if (values_.empty()) return {};
        auto written = before_ == nullptr ? add_record(acting, case_id, kind, values_)
                                          : change_record(acting, before_->id, values_);
        if (!written) return pass_on(written);
        done.push_back(*std::move(written));
        return {};
    }

private:
    const Record* before_;
    FieldValues values_;
};

Expected<void> write_to_lot(const Acting& acting, const Record& lot, const LotResult& wanted, std::vector<Done>& done) {
    Difference difference(&lot);
    difference.text("result", wanted.result);
    difference.money("hammer", wanted.hammer);
    difference.money("our_last_bid", wanted.our_last_bid);
    difference.money("after_sale_offer", wanted.after_sale_offer);
    return difference.write(acting, lot.case_id, "lot", done);
}

std::string return_window_end(const DeadlinesByTerms& by_terms) {
    const auto found = std::ranges::find(by_terms.due, "return", &TermDeadline::term);
    return found == by_terms.due.end() ? std::string() : to_text(found->on);
}

Expected<void> write_purchase(const Acting& acting, const CaseSnapshot& snapshot, const Record& lot,
                              const LotResult& wanted, RecordedResult& recorded) {
    const Record* before = purchase_of(snapshot, lot);
    const auto hammer = wanted.hammer ? wanted.hammer : lot.body.money("hammer");
    if (before != nullptr && !before->body.has("lot"))
        recorded.remarks.push_back(fmt::format("The purchase named no lot; it is now that of {}.", lot_words(lot)));
    Difference difference(before);
    difference.record("lot", lot.id);
    std::string bought_on = wanted.bought_on;
    if (bought_on.empty() && (before == nullptr || !before->body.has("bought_on")))
        if (const auto day = day_of_sale(snapshot, lot)) bought_on = to_text(*day);
    difference.text("bought_on", bought_on);
    difference.text("scheme", wanted.scheme);
    difference.text("invoice_number", wanted.invoice_number);
    difference.text("paid_on", wanted.paid_on);
    difference.text("collected_on", wanted.collected_on);
    const bool same_hammer = before != nullptr && before->body.money("hammer") == hammer;
    const auto bill = expected_invoice(snapshot, *hammer);
    if (bill) {
        recorded.expected = *bill;
    } else {
        recorded.remarks.push_back(bill.error().message + " " + bill.error().next);
    }
    difference.money("hammer", hammer);
    if (bill && !same_hammer) {
        difference.money("margin_price", bill->margin_price);
        difference.money("all_in", bill->total);
    }
    return difference.write(acting, lot.case_id, "purchase", recorded.done);
}

// The return window is counted only once the day of the purchase stands.
Expected<void> write_return_window(const Acting& acting, const CaseSnapshot& snapshot, const Record& lot,
                                   RecordedResult& recorded) {
    const Record* purchase = purchase_of(snapshot, lot);
    Difference difference(purchase);
    difference.text("return_window_ends", return_window_end(deadlines_by_terms(snapshot, lot)));
    return difference.write(acting, lot.case_id, "purchase", recorded.done);
}

Expected<void> write_custody(const Acting& acting, const CaseSnapshot& snapshot, const Record& lot,
                             const LotResult& wanted, RecordedResult& recorded) {
    const Record* before = custody_of_risk(snapshot);
    const std::string from = recorded.risk && recorded.risk->from ? to_text(*recorded.risk->from) : std::string();
    if (before == nullptr && from.empty()) return {};
    // What passes only as it is collected was never at the saleroom at our risk.
    if (before == nullptr && recorded.risk->passes == "collection") return {};
    Difference difference(before);
    if (before == nullptr) {
        const std::string room = lot.body.text_or("saleroom");
        difference.text("place", room.empty() ? "the saleroom" : room);
        difference.text("from", from);
    }
    difference.text("risk_from", from);
    difference.text("to", wanted.collected_on);
    difference.text("insured_by", wanted.insured_by);
    difference.money("insured_value", wanted.insured_value);
    if (wanted.insured_by.empty() && (before == nullptr || !before->body.has("insured_by")))
        recorded.remarks.emplace_back("The risk is ours and nobody is recorded who insures it.");
    return difference.write(acting, lot.case_id, "custody", recorded.done);
}

}  // namespace

Expected<RecordedResult> record_lot_result(const Acting& acting, const Uuid& case_id, const LotResult& wanted) {
    return acting.book.in_one_act([&]() -> Expected<RecordedResult> {
        RecordedResult recorded;
        auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        const Record* lot = newest_of_kind(*snapshot, "lot");
        if (lot == nullptr)
            return fail("lot.none", "No lot is recorded for this picture.", "Enter the lot and its terms first.");
        if (auto good = check_result(acting, *snapshot, *lot, wanted); !good) return pass_on(good);
        // Each step reads what the one before it wrote.
        const auto step = [&](const auto& write) -> Expected<void> {
            if (auto written = write(); !written) return written;
            snapshot = acting.book.snapshot(case_id);
            if (!snapshot) return pass_on(snapshot);
            lot = newest_of_kind(*snapshot, "lot");
            return {};
        };
        if (auto done = step([&] { return write_to_lot(acting, *lot, wanted, recorded.done); }); !done)
            return pass_on(done);
        if (wanted.result == "bought") {
            if (auto done = step([&] { return write_purchase(acting, *snapshot, *lot, wanted, recorded); }); !done)
                return pass_on(done);
            if (auto done = step([&] { return write_return_window(acting, *snapshot, *lot, recorded); }); !done)
                return pass_on(done);
            recorded.purchase = purchase_of(*snapshot, *lot)->id;
            recorded.risk = risk_standing(*snapshot);
            if (auto done = step([&] { return write_custody(acting, *snapshot, *lot, wanted, recorded); }); !done)
                return pass_on(done);
            auto deadlines = make_deadlines(acting, case_id);
            if (!deadlines) return pass_on(deadlines);
            for (Done& each : deadlines->done) recorded.done.push_back(std::move(each));
            recorded.by_terms = std::move(deadlines->by_terms);
        }
        recorded.post_mortem = post_mortem(*snapshot);
        return recorded;
    });
}

}  // namespace tedge::usecases
