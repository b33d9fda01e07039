// Figures by own arithmetic: at 8,500 with 25 % premium and VAT on it the all-in price is 11,050, and of 20,000 sold
// under the margin scheme 4,458.33 remain after costs of 3,000.
#include "tedge/usecases/ceilings.hpp"

#include <catch2/catch.hpp>

#include "bought_picture.hpp"

using namespace tedge;
using casebook::FieldValues;
using nlohmann::json;

TEST_CASE("a limit is fixed with its plan, its report, who and when, and stays as it was") {
    BoughtPicture b;
    const auto fixed = b.fixed();
    const auto record = b.book.record(fixed.done.record).value();
    CHECK(record.body.money("limit") == pounds(850'000));
    CHECK(record.body.record("fixed_by") == b.acting.author);
    CHECK(record.body.text_or("fixed_at") == to_text(b.clock.now()));
    CHECK(record.body.as_json()["plan"] == json::parse(certain_plan));
    CHECK(record.body.as_json()["report"]["binding"] == "target");
    CHECK(record.body.as_json()["report"]["currency"] == "GBP");
    CHECK(record.body.as_json()["report"]["hammer_currency"] == "GBP");
    CHECK(record.body.as_json()["report"]["expected_profit"] == 4458.33);

    const auto change = [&](const FieldValues& values) {
        return usecases::change_record(b.acting, fixed.done.record, values);
    };
    CHECK(change(FieldValues().money("limit", pounds(900'000))).error().code == "ceiling.fixed");
    CHECK(change(FieldValues().value("plan/target", json::object())).error().code == "ceiling.fixed");
    CHECK(change(FieldValues().unset("fixed_by")).error().code == "ceiling.fixed");
    CHECK(change(FieldValues().text("note", "too high, says the viewer")));
    must(usecases::take_back(b.acting, fixed.done.inverse));
    CHECK_FALSE(b.standing());
}

TEST_CASE("what cannot be solved, or limits nothing, is not fixed, and nothing is written") {
    BoughtPicture b;
    const auto fault = [&](std::string_view piece, std::string_view other) {
        std::string text(certain_plan);
        text.replace(text.find(piece), piece.size(), other);
        return usecases::fix_ceiling(b.acting, b.case_id, text).error().code;
    };
    CHECK(fault(R"({"profit": 4000, "cash": 16000})", "{}") == "ceiling.no-limit");
    CHECK(fault("20000", "-20000") == "plan.negative");
    CHECK(fault("{\"currency\"", "\"currency\"") == "plan.not-json");
    CHECK(b.count("ceiling") == 0);
}

TEST_CASE("what is learnt after the limit was fixed marks it out of date") {
    BoughtPicture b;
    CHECK_FALSE(b.standing());
    const Uuid note = b.add("viewing_note", FieldValues().text("viewed_on", "2026-03-03"));
    b.add("cost_line", FieldValues().text("name", "lining").money_estimate("estimate", {1, 2, 3}, pounds(0).currency));
    b.fixed();
    CHECK(b.standing()->since.empty());
    CHECK_FALSE(b.standing()->out_of_date());
    CHECK(b.standing()->fixed_by == "Ada Wren");
    CHECK(b.standing()->limit == pounds(850'000));

    b.clock.advance(std::chrono::seconds(1));
    must(usecases::change_record(b.acting, note, FieldValues().text("text", "skinned in the face")));
    REQUIRE(b.standing()->out_of_date());
    CHECK(b.standing()->since[0].record == note);
    CHECK(b.standing()->since[0].sentence == "A viewing note was changed after the limit was fixed.");
    b.add("viewing_note", FieldValues().text("text", "a second look"));
    b.add("lot", FieldValues().text("notice", "withdrawn and entered again"));
    b.add("cost_line", FieldValues().text("name", "frame").money_estimate("estimate", {1, 2, 3}, pounds(0).currency));
    CHECK(b.standing()->since.size() == 4);

    b.fixed();  // thought through again
    CHECK_FALSE(b.standing()->out_of_date());
    b.bought();
    b.add("viewing_note", FieldValues().text("text", "in our own hands"));
    CHECK_FALSE(b.standing()->out_of_date());  // bought: the question is another one
    CHECK(b.standing()->bought);
}

TEST_CASE("what became of a lot makes no limit out of date; what is learnt of it before the sale does") {
    BoughtPicture b;
    const Uuid lot = b.add("lot", FieldValues().text("lot_number", "212").number("terms/vat_on_premium_percent", 20));
    const auto changed = [&](const FieldValues& values) {
        b.clock.advance(std::chrono::seconds(1));
        must(usecases::change_record(b.acting, lot, values));
        return b.standing()->since.size();
    };
    SECTION("a limit knows which lot it was fixed on") {
        b.fixed();
        CHECK(changed(FieldValues().text("terms_read", "2026-03-02")) == 0);
        CHECK(changed(FieldValues().text("result", "underbid").money("hammer", pounds(900'000))) == 0);
        CHECK(changed(FieldValues().money("our_last_bid", pounds(850'000))) == 0);
        CHECK(changed(FieldValues().text("notice", "the frame is not sold with it")) == 1);
        CHECK(b.standing()->since[0].record == lot);
        CHECK(changed(FieldValues().unset("notice")) == 0);  // as the limit knew it
        CHECK(changed(FieldValues().number("terms/vat_on_premium_percent", 19)) == 1);
        b.add("lot", FieldValues().text("lot_number", "40"));  // entered again
        CHECK(b.standing()->since.size() == 2);
    }
    SECTION("one that was written down without that goes by the time until there is a result") {
        b.add("ceiling", FieldValues()
                             .value("plan", nlohmann::json::parse(certain_plan))
                             .value("report", nlohmann::json::object())
                             .money("limit", pounds(850'000))
                             .text("fixed_at", "2026-03-03T14:05:00Z"));
        CHECK(changed(FieldValues().text("notice", "relined")) == 1);
        CHECK(changed(FieldValues().text("result", "withdrawn")) == 0);
    }
}

TEST_CASE("a draft takes the lot's terms, the costs as they stand, and what was thought before") {
    BoughtPicture b;
    const Currency gbp = pounds(0).currency;
    const auto draft = [&] { return json::parse(must(usecases::draft_plan(b.snapshot(), gbp))); };
    CHECK(draft()["outcomes"] == json::array());
    CHECK(draft()["sale"]["increments"] == "common");

    b.fixed();
    b.add("lot", FieldValues()
                     .money("estimate_low", pounds(180'000))
                     .value("terms", {{"premium", json::array({{{"percent", 28}}})}, {"fixed_fees", 35.0}}));
    b.add("cost_line", FieldValues().text("name", "lining").money_estimate("estimate", {40'000, 45'050, 60'000}, gbp));
    b.paid("cleaning", 262'000);
    const json plan = draft();
    CHECK(plan["sale"]["premium"][0]["percent"] == 28);
    CHECK(plan["sale"]["fixed_fees"].dump() == "35");
    CHECK(plan["sale"]["vat_on_premium_percent"] == 20);  // the plan's own, where the lot does not say
    REQUIRE(plan["costs"].size() == 2);
    CHECK(plan["costs"][0]["amount"] == json::array({400.0, 450.5, 600.0}));
    CHECK(plan["costs"][1] == json({{"name", "cleaning"}, {"amount", 2620.0}}));  // paid: certain
    CHECK(money::parse_ceiling_plan(plan.dump()));

    const auto in_euros = usecases::draft_plan(b.snapshot(), must(Currency::parse("EUR")));
    CHECK(in_euros.error().code == "money.mixed-currencies");
    CHECK(in_euros.error().values.at("field") == "costs");
}

TEST_CASE("after the purchase and after every stage the courses are weighed") {
    BoughtPicture b;
    CHECK(usecases::courses_of_case(b.snapshot()).error().code == "courses.no-plan");
    b.fixed();
    CHECK(usecases::courses_of_case(b.snapshot()).error().code == "courses.not-bought");
    const Uuid purchase = b.bought();
    const auto after_purchase = must(usecases::courses_of_case(b.snapshot()));
    REQUIRE(after_purchase.courses.size() == 2);
    CHECK(after_purchase.courses[0].expected_profit == pounds(445'833));
    CHECK(after_purchase.courses[1].expected_profit == pounds(-205'000));  // 9,000 − 11,050
    CHECK(after_purchase.may_be_spent.target == pounds(345'833));
    CHECK(after_purchase.may_be_spent.cash == pounds(495'000));

    b.paid("cleaning", 350'000);  // 500 more than planned, and there is nothing else to come
    const auto after_cleaning = must(usecases::courses_of_case(b.snapshot()));
    CHECK(after_cleaning.courses[0].expected_profit == pounds(395'833));
    CHECK(after_cleaning.courses[0].still_to_spend == pounds(0));
    CHECK(after_cleaning.may_be_spent.target == pounds(0));

    // the picture proves to be little: asked of a changed plan, and of what it would bring as it stands
    json changed = json::parse(certain_plan);
    changed["outcomes"][0]["price"] = 12000;
    changed["as_it_stands"] = {{"price", 12500}};
    const auto stopping = must(usecases::courses_of_case(b.snapshot(), changed.dump()));
    REQUIRE(stopping.courses.size() == 3);
    CHECK(stopping.best == money::Course::sell_as_it_stands);
    changed["as_it_stands"]["price"] = -1;
    CHECK(usecases::courses_of_case(b.snapshot(), changed.dump()).error().values.at("field") == "as_it_stands.price");
    CHECK(usecases::courses_of_case(b.snapshot(), "nonsense").error().code == "plan.not-json");

    must(usecases::change_record(b.acting, purchase, FieldValues().money("all_in", pounds(1'110'000))));
    CHECK(must(usecases::courses_of_case(b.snapshot())).courses[0].expected_profit == pounds(390'833));
    must(usecases::change_record(b.acting, purchase, FieldValues().unset("hammer").unset("all_in")));
    CHECK(usecases::courses_of_case(b.snapshot()).error().code == "courses.no-price");
}

TEST_CASE("VAT that is recovered is no cost: ordinary selling takes it back, by the plan's terms") {
    BoughtPicture b;
    std::string text(certain_plan);
    text.replace(text.find("margin-scheme"), 13, "ordinary");
    must(usecases::fix_ceiling(b.acting, b.case_id, text));
    b.bought();
    // 20,000 × 5/6 − 11,050 + 425 − 3,000
    CHECK(must(usecases::courses_of_case(b.snapshot())).courses[0].expected_profit == pounds(304'167));
}
