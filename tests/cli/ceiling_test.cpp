// The ceiling from the command line: compared, charted, drafted, fixed, asked again. Figures as in
// tests/usecases/money/ceilings_test.cpp.
#include <nlohmann/json.hpp>

#include "command_shop.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

constexpr std::string_view plan_of_ceiling_test = R"({"currency": "GBP",
 "sale": {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20, "costs": [{"name": "cleaning", "amount": 3000}],
 "outcomes": [{"name": "by the master", "price": 20000, "months": 6}],
 "target": {"profit": 4000, "cash": 16000}, "as_found": {"price": 9000, "months": 2}})";

std::string written(CommandShop& shop, std::string_view text) {
    const auto file = shop.folder / "plan.json";
    must(write_file_durably(file, text));
    return to_utf8(file);
}

}  // namespace

TEST_CASE("A plan is charted and set beside a sale as found") {
    CommandShop shop;
    const std::string plan = written(shop, plan_of_ceiling_test);
    const json report = must(shop.run({"ceiling", "--plan", plan, "--curve"}));
    REQUIRE(report["curve"].size() > 10);
    for (std::size_t i = 1; i < report["curve"].size(); ++i) {
        CHECK(report["curve"][i]["hammer"] > report["curve"][i - 1]["hammer"]);
        CHECK(report["curve"][i]["expected_profit"] < report["curve"][i - 1]["expected_profit"]);
    }
    CHECK_FALSE(must(shop.run({"ceiling", "--plan", plan})).contains("curve"));
    const json beside = must(shop.run({"ceiling", "compare", "--plan", plan}));
    CHECK(beside["hammer"] == 8500.0);
    REQUIRE(beside["plans"].size() == 2);
    CHECK(beside["plans"][0]["at_hammer"]["expected_profit"] == 4458.33);
    CHECK(beside["plans"][1]["name"] == "as found");
    CHECK(beside["plans"][1]["at_hammer"]["expected_profit"] == -2050.0);
    CHECK(must(shop.run({"ceiling", "compare", "--plan", plan, "--hammer", "5000"}))["hammer"] == 5000.0);
    CHECK(shop.run({"ceiling", "compare", "--plan", plan, "--hammer", "5.001"}).error().values.at("option") ==
          "hammer");
}

TEST_CASE("A limit is drafted, fixed, found out of date, and after the purchase the courses are weighed") {
    CommandShop shop;
    const std::string plan = written(shop, plan_of_ceiling_test);
    CHECK(must(shop.run({"ceiling", "standing", shop.book, shop.case_id}))["fixed"] == false);
    const json fixed = must(shop.run({"ceiling", "fix", shop.book, shop.case_id, "--plan", plan, "--by", "Ada Wren"}));
    CHECK(fixed["bid"] == 8500.0);
    const json draft = must(shop.run({"ceiling", "draft", shop.book, shop.case_id}))["plan"];
    CHECK(draft["costs"][0]["name"] == "cleaning");
    CHECK(must(shop.run({"ceiling", "standing", shop.book, shop.case_id}))["out_of_date"] == false);
    shop.clock.advance(std::chrono::seconds(1));
    must(shop.run(
        {"record", "add", shop.book, shop.case_id, "viewing_note", R"({"text": "skinned"})", "--by", "Ada Wren"}));
    const json standing = must(shop.run({"ceiling", "standing", shop.book, shop.case_id}));
    CHECK(standing["out_of_date"] == true);
    CHECK(standing["fixed_by"] == "Ada Wren");
    CHECK(standing["since"].size() == 1);

    CHECK(shop.run({"ceiling", "courses", shop.book, shop.case_id}).error().code == "courses.not-bought");
    must(shop.run({"record", "add", shop.book, shop.case_id, "purchase",
                   R"({"hammer": {"minor": 850000, "currency": "GBP"}})", "--by", "Ada Wren"}));
    const json courses = must(shop.run({"ceiling", "courses", shop.book, shop.case_id}));
    CHECK(courses["best"] == "go on");
    CHECK(courses["courses"][0]["expected_profit"] == 4458.33);
    CHECK(courses["may_be_spent"]["target"] == 3458.33);
    CHECK(courses["lowest"] == 3458.33);
}

TEST_CASE("Terms to begin with, what round prices come to, and the ways to bid") {
    CommandShop shop;
    const json presets = must(shop.run({"sale", "presets", "--on", "2026-03-01"}));
    CHECK(presets["presets"][0]["name"] == "regional-25");
    CHECK(presets["presets"][0]["terms"]["premium"][0]["percent"] == 25.0);
    CHECK(presets["presets"][0]["status"].get<std::string>().find("secondary") == 0);
    const json prices = must(shop.run({"sale", "prices", "--preset", "banded-25-20", "--on", "2026-03-01"}));
    CHECK(prices["prices"][9]["all_in"] == 127000.0);
    const std::string plan = written(shop, plan_of_ceiling_test);
    const json routes = must(shop.run({"sale", "routes", "--plan", plan, "--hammer", "5000"}));
    CHECK(routes["routes"][0]["total"] == 6500.0);
    CHECK(routes["routes"][4]["dearer_by"] == 300.0);
    CHECK(routes["routes"][4]["status"] == "from memory");
    CHECK(shop.run({"sale", "prices"}).error().code == "usage.one-of-two");
    CHECK(shop.run({"sale", "prices", "--preset", "grand"}).error().code == "sale.unknown-preset");
}
