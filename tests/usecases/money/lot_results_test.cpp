// Figures by own arithmetic (tests/reference/auction_invoice_examples.csv, inv8): a hammer price of 8,500 with 25 %
// premium and VAT on it comes to 11,050, and by the certain plan leaves 4,458.33.
#include "tedge/usecases/lot_results.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "sold_lot.hpp"

using namespace tedge;
using casebook::FieldValues;

TEST_CASE("a lot bought makes the purchase, its custody and what falls due, in one act", "[sale-day]") {
    SoldLot s;
    const auto recorded = s.bought_for(850'000);
    CHECK(s.only("lot").body.text("result") == "bought");
    const auto purchase = s.only("purchase");
    CHECK(purchase.id == recorded.purchase);
    CHECK(purchase.body.money("hammer") == pounds(850'000));
    CHECK(purchase.body.money("margin_price") == pounds(1'105'000));
    CHECK(purchase.body.money("all_in") == pounds(1'105'000));
    CHECK(purchase.body.text("bought_on") == "2026-03-05");
    CHECK(purchase.body.text("return_window_ends") == "2026-03-26");
    CHECK_FALSE(purchase.body.has("scheme"));  // nobody said it
    const auto custody = s.only("custody");
    CHECK(custody.body.text("place") == "Quay Rooms");
    CHECK(custody.body.text("risk_from") == "2026-03-05");
    CHECK(std::ranges::count(recorded.remarks, "The risk is ours and nobody is recorded who insures it.") == 1);
    CHECK(s.due("register") == "2026-03-04");
    CHECK(s.due("pay") == "2026-03-10");
    CHECK(s.due("storage") == "2026-03-16");  // free for ten days, the 15th the last
    CHECK(s.due("return") == "2026-03-26");
    CHECK(s.due("collect").empty());
    CHECK(std::ranges::count(recorded.by_terms.not_said, "The terms do not say until when to collect.") == 1);
    CHECK(recorded.expected->total == pounds(1'105'000));

    for (auto done = recorded.done.rbegin(); done != recorded.done.rend(); ++done)
        must(usecases::take_back(s.acting, done->inverse));
    CHECK_FALSE(s.only("lot").body.has("result"));
    for (const char* kind : {"purchase", "custody", "deadline"}) CHECK(s.count(kind) == 0);
}

TEST_CASE("said again with more, a result adds to what stands and keeps what was put right", "[sale-day]") {
    SoldLot s;
    s.bought_for(850'000);
    must(usecases::change_record(s.acting, s.only("purchase").id, FieldValues().money("all_in", pounds(1'110'000))));
    usecases::LotResult more{.result = "bought", .paid_on = "2026-03-06", .collected_on = "2026-03-07"};
    more.insured_by = "Harbour Mutual";
    more.insured_value = pounds(1'200'000);
    must(usecases::record_lot_result(s.acting, s.case_id, more));
    CHECK(s.only("purchase").body.money("all_in") == pounds(1'110'000));
    CHECK(s.only("purchase").body.text("paid_on") == "2026-03-06");
    const auto custody = s.only("custody");
    CHECK(custody.body.text("insured_by") == "Harbour Mutual");
    CHECK(custody.body.text("to") == "2026-03-07");
    const auto held = s.snapshot();
    for (const auto* deadline : held.of_kind("deadline")) {
        const std::string term = deadline->body.text_or("term");
        if (term == "pay") CHECK(deadline->body.text("done_on") == "2026-03-06");
        if (term == "storage") CHECK(deadline->body.text("done_on") == "2026-03-07");
        if (term == "return") CHECK_FALSE(deadline->body.has("done_on"));
    }
    const auto again = must(usecases::record_lot_result(s.acting, s.case_id, more));
    CHECK(again.done.empty());  // nothing new was said
    // Another hammer price is another price in all.
    s.bought_for(800'000);
    CHECK(s.only("purchase").body.money("all_in") == pounds(1'040'000));
}

TEST_CASE("the risk is ours from the moment the terms say, and an assumption says that it is one", "[sale-day]") {
    SoldLot s;
    must(usecases::change_record(s.acting, s.lot, FieldValues().text("terms/risk_passes", "payment")));
    const auto before = s.bought_for(850'000);
    CHECK_FALSE(before.risk->from);
    CHECK(s.count("custody") == 0);
    must(usecases::record_lot_result(s.acting, s.case_id, {.result = "bought", .paid_on = "2026-03-06"}));
    CHECK(s.only("custody").body.text("risk_from") == "2026-03-06");

    SoldLot silent;
    must(usecases::change_record(silent.acting, silent.lot, FieldValues().unset("terms/risk_passes")));
    const auto assumed = silent.bought_for(850'000);
    CHECK(assumed.risk->is_assumed);
    CHECK(to_text(*assumed.risk->from) == "2026-03-05");
    CHECK(assumed.risk->said.find("assumed") != std::string::npos);
}

TEST_CASE("the post-mortem holds the price against the limit", "[sale-day]") {
    const auto of = [](const usecases::LotResult& result) {
        SoldLot s;  // limit 8,500
        return *must(usecases::record_lot_result(s.acting, s.case_id, result)).post_mortem;
    };
    const auto says = [](const usecases::PostMortem& found, std::string_view words) {
        return std::ranges::any_of(found.said,
                                   [&](const std::string& each) { return each.find(words) != std::string::npos; });
    };
    const auto at_limit = of({.result = "bought", .hammer = pounds(850'000)});
    CHECK(at_limit.above_limit.minor == 0);
    CHECK(at_limit.underbid == pounds(800'000));  // the published table: 7,500 8,000 8,500
    CHECK(at_limit.at_price->expected_profit == pounds(445'833));
    CHECK(says(at_limit, "Bought at the limit."));
    const auto below = of({.result = "bought", .hammer = pounds(700'000)});
    CHECK(below.above_limit == pounds(-150'000));
    CHECK(says(below, "Bought GBP 1,500 below the limit of GBP 8,500."));
    CHECK(says(of({.result = "bought", .hammer = pounds(900'000)}), "the limit was not kept"));

    const auto lost = of({.result = "underbid", .hammer = pounds(900'000), .our_last_bid = pounds(850'000)});
    CHECK(says(lost, "the limit would have had to be passed"));
    CHECK(says(lost, "Our last bid of GBP 8,500 was the underbid"));
    CHECK(says(of({.result = "underbid", .hammer = pounds(750'000)}),
               "The next bid of GBP 8,000 was still within the limit."));
    const auto offered = of({.result = "bought-in", .hammer = pounds(550'000), .after_sale_offer = pounds(600'000)});
    CHECK(offered.price == pounds(600'000));
    CHECK(says(offered, "Not sold; offered after the sale GBP 2,500 below the limit of GBP 8,500."));
    CHECK(says(of({.result = "bought-in", .hammer = pounds(550'000)}), "the bids ended GBP 3,000 below"));
}

TEST_CASE("what cannot be is refused, and nothing is written", "[sale-day]") {
    SoldLot s;
    const auto refused = [&](const usecases::LotResult& result) {
        const auto answer = usecases::record_lot_result(s.acting, s.case_id, result);
        return answer ? std::string() : answer.error().code;
    };
    CHECK(refused({.result = "bought"}) == "lot.no-hammer");
    CHECK(refused({.result = "underbid"}) == "lot.no-hammer");
    CHECK(refused({.result = "withdrawn", .hammer = pounds(1)}) == "lot.has-no-price");
    CHECK(refused({.result = "sold"}) == "casebook.bad-field");
    CHECK(refused({.result = "bought", .hammer = pounds(850'000), .paid_on = "soon"}) == "casebook.bad-field");
    CHECK_FALSE(s.only("lot").body.has("result"));
    CHECK(s.count("purchase") == 0);
    s.bought_for(850'000);
    CHECK(refused({.result = "underbid", .hammer = pounds(900'000)}) == "lot.bought-already");

    BoughtPicture early;
    CHECK(usecases::record_lot_result(early.acting, early.case_id, {.result = "not-bid"}).error().code == "lot.none");
    early.add("lot", SoldLot::terms_of_lot());
    CHECK(usecases::record_lot_result(early.acting, early.case_id, {.result = "not-bid"}).error().code ==
          "lot.sale-to-come");
}
