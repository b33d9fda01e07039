// The table's hours are own judgement: what is checked is the arithmetic on them, and that they scale and say so.
#include "tedge/usecases/costs.hpp"

#include <catch2/catch.hpp>

#include "bought_picture.hpp"

using namespace tedge;
using casebook::FieldValues;
using nlohmann::json;
using usecases::Needed;

namespace {

const usecases::HourlyRate fifty{{5'000, 5'000, 5'000}, must(Currency::parse("GBP"))};

usecases::SuggestedCost suggested(BoughtPicture& b, std::string_view treatment,
                                  const std::vector<usecases::PricedAct>& own = {}) {
    const auto all = must(usecases::suggest_costs(b.snapshot(), fifty, own));
    return *std::ranges::find(all, treatment, &usecases::SuggestedCost::treatment);
}

}  // namespace

TEST_CASE("what a treatment costs goes by the size of the picture, and says what it rests on") {
    BoughtPicture b;  // 812 x 610 mm: 0.49532 m2, 2.844 m around
    const auto cleaning = suggested(b, "surface-cleaning");
    CHECK(cleaning.quantity == Approx(0.49532));
    CHECK(cleaning.needed == Needed::yes);
    // (2 h + 3, 6, 14 h/m2 × 0.49532) × 50 × 1.05
    CHECK(cleaning.amount_minor == Estimate<std::int64_t>{18'301, 26'103, 46'906});
    CHECK(cleaning.because == "0.495 m2 of face.");
    CHECK(cleaning.source.find("from memory") != std::string::npos);
    CHECK(suggested(b, "stretcher").quantity == Approx(2.844));

    const Uuid larger = must(usecases::open_case(b.acting, {"Large", "", SizeMm{1624, 1220}}));
    const auto all = must(usecases::suggest_costs(must(b.book.snapshot(larger)), fifty, {}));
    const auto large = *std::ranges::find(all, "surface-cleaning", &usecases::SuggestedCost::treatment);
    const auto variable = [](std::int64_t minor) {
        return static_cast<double>(minor) - 10'500.0;
    };  // less the two hours
    CHECK(variable(large.amount_minor.likely) == Approx(4.0 * variable(cleaning.amount_minor.likely)).margin(4.0));
    const Uuid unmeasured = must(usecases::open_case(b.acting, {"Unmeasured", "", std::nullopt}));
    CHECK(usecases::suggest_costs(must(b.book.snapshot(unmeasured)), fifty, {}).error().code == "costs.no-size");
    CHECK(usecases::suggest_costs(b.snapshot(), {{3, 2, 1}, fifty.currency}, {}).error().code == "costs.rate");
}

TEST_CASE("what the viewing found decides whether an act is needed, may be, or is not") {
    BoughtPicture b;
    CHECK(suggested(b, "lining").needed == Needed::unknown);
    CHECK(suggested(b, "lining").amount_minor.low == 0);
    CHECK(suggested(b, "lining").amount_minor.high > 0);
    must(usecases::take_in_answers(b.acting, b.case_id, "2 no; 3 no; 4 no"));
    CHECK(suggested(b, "lining").needed == Needed::no);
    CHECK(suggested(b, "lining").amount_minor.high == 0);
    b.clock.advance(std::chrono::seconds(1));
    must(usecases::take_in_answers(b.acting, b.case_id, "3 yes: by the left edge"));
    CHECK(suggested(b, "lining").needed == Needed::yes);
    CHECK(suggested(b, "lining").amount_minor.low > 0);
    CHECK(suggested(b, "lining").because.find("tears or holes: yes") != std::string::npos);
}

TEST_CASE("what the survey drew is counted by its area") {
    BoughtPicture b;
    CHECK(suggested(b, "consolidation").because.find("because none is drawn") != std::string::npos);
    b.add("finding", FieldValues()
                         .record("face_frame", b.recto())
                         .region("region", square(100, 100, 200))
                         .text("layer", "paint")
                         .text("term", "flaking")
                         .flag("unstable", true));
    const auto cost = suggested(b, "consolidation");
    CHECK(cost.quantity == Approx(0.04));
    CHECK(cost.needed == Needed::yes);
    CHECK(cost.amount_minor.likely == 16'500);  // (2 h + 25 × 0.04 h) × 50 × 1.1
}

TEST_CASE("three past costs of an act take the place of the table") {
    BoughtPicture b;
    for (const auto& [side, actual] :
         {std::pair{1000.0, 60'000}, std::pair{1000.0, 50'000}, std::pair{500.0, 20'000}}) {
        const Uuid past = must(usecases::open_case(b.acting, {"Past", "", SizeMm{side, side}}));
        b.add_to(past, "cost_line",
                 FieldValues()
                     .text("name", "clean")
                     .text("treatment", "surface-cleaning")
                     .money_estimate("estimate", {20'000, 40'000, 60'000}, fifty.currency)
                     .money("actual", pounds(actual)));
    }
    b.add("cost_line",
          FieldValues().text("name", "here").text("treatment", "surface-cleaning").money("actual", pounds(1)));
    const auto prices = must(usecases::price_book(b.book, b.case_id));
    REQUIRE(prices.size() == 1);
    CHECK(prices[0].cases == 3);
    CHECK(prices[0].measure == "m2");
    CHECK(prices[0].unit_price_minor == Estimate<std::int64_t>{50'000, 60'000, 80'000});  // a square metre
    CHECK(prices[0].actual_to_likely == Approx(1.25));
    const auto cost = suggested(b, "surface-cleaning", prices);
    CHECK(cost.source == "own price book, 3 costs");
    CHECK(cost.amount_minor.likely == 29'719);  // 0.49532 m2 at 600
    std::vector<usecases::PricedAct> two = prices;
    two[0].cases = 2;
    CHECK(suggested(b, "surface-cleaning", two).source.find("from memory") != std::string::npos);
}

TEST_CASE("suggestions become costs once, with what they rest on") {
    BoughtPicture b;
    must(usecases::take_in_answers(b.acting, b.case_id, "2 no; 3 no; 4 no"));
    const auto suggested_costs = must(usecases::suggest_costs(b.snapshot(), fifty, {}));
    const auto written = must(usecases::record_suggested(b.acting, b.case_id, suggested_costs, fifty.currency));
    CHECK(written.size() == suggested_costs.size() - 1);  // no lining
    CHECK(b.count("cost_line") == written.size());
    const auto first = must(b.book.record(written[0].record));
    CHECK(first.body.text_or("measure") == "m2");
    CHECK(first.body.text_or("note").find("from memory") != std::string::npos);
    CHECK(must(usecases::record_suggested(b.acting, b.case_id, suggested_costs, fifty.currency)).empty());
}

TEST_CASE("an outcome shows what it rests on, the unsold among it") {
    BoughtPicture b;
    b.fixed();  // "by the master"
    const auto compare = [&](const char* work, std::int64_t minor, const char* currency, bool unsold) {
        return b.add("comparable", FieldValues()
                                       .text("work", work)
                                       .text("outcome", "studio")
                                       .money("price", {minor, must(Currency::parse(currency))})
                                       .text("price_is", "hammer")
                                       .text("source", "own catalogue, marked")
                                       .flag("unsold", unsold));
    };
    compare("Mill", 700'000, "GBP", false);
    compare("Ford", 500'000, "GBP", false);
    compare("Bridge", 900'000, "GBP", false);
    compare("Ferry", 650'000, "GBP", true);
    auto support = usecases::outcome_support(b.snapshot());
    REQUIRE(support.size() == 2);
    CHECK(support[0].outcome == "by the master");
    CHECK(support[0].doubts == std::vector<std::string>{"It rests on no comparable."});
    CHECK(support[1].sold == 3);
    CHECK(support[1].unsold == 1);
    CHECK(support[1].price_minor == Estimate<std::int64_t>{500'000, 700'000, 900'000});
    CHECK(support[1].doubts.empty());
    const auto draft = json::parse(must(usecases::draft_plan(b.snapshot(), fifty.currency)));
    CHECK_FALSE(draft["outcomes"][0].contains("rests_on"));
    compare("Weir", 900'000, "EUR", false);
    b.add("comparable", FieldValues().text("work", "Lock").money("price", pounds(5)));
    support = usecases::outcome_support(b.snapshot());
    CHECK_FALSE(support[1].price_minor);
    CHECK(support[1].doubts[0].find("EUR, GBP") != std::string::npos);
    REQUIRE(support.size() == 3);
    CHECK(support[2].doubts ==
          std::vector<std::string>{"1 comparable without a source.", "It rests on 1 comparable only."});
}
