#include "tedge/money/legal_limits.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;
using namespace std::chrono_literals;

// SI 2017/692 reg 14 as amended by SI 2019/1511; the change of 30 June 2026 by professional pages (its status says so).
TEST_CASE("the money-laundering threshold by date and currency") {
    CHECK_FALSE(money_laundering_limit_on(2020y / 1 / 9));
    const auto in = [](std::chrono::year_month_day day) { return money_laundering_limit_on(day)->amount; };
    const Currency euro = Currency::parse("EUR").value();
    CHECK(in(2020y / 1 / 10) == Money{1'000'000, euro});
    CHECK(in(2026y / 6 / 29) == Money{1'000'000, euro});
    CHECK(in(2026y / 6 / 30) == gbp("10000"));
    CHECK(in(2031y / 1 / 1) == gbp("10000"));
    CHECK(money_laundering_limit_on(2026y / 6 / 30)->source.from_memory());  // the text of the statute was not read
    CHECK_FALSE(money_laundering_limit_on(2026y / 6 / 29)->source.from_memory());
    CHECK(legal_limit_on("identity papers kept", 2026y / 1 / 1)->value == "5");  // reg 40
    CHECK_FALSE(legal_limit_on("ivory ban", 2022y / 6 / 5));
    CHECK(legal_limit_on("ivory ban", 2022y / 6 / 6));
}

// The rows as resources/reference/export_limits.csv has them: secondary pages for the open licence, Annex I of
// Regulation (EC) 116/2009.
TEST_CASE("border limits by area and by what the picture is") {
    const auto of = [](std::string_view area, const char* technique) {
        std::vector<std::string> found;
        for (const ExportLimit& limit : border_limits(area, picture_group(technique)))
            found.push_back(limit.threshold ? to_display_text(*limit.threshold) : "any");
        return found;
    };
    using Found = std::vector<std::string>;
    CHECK(of("GB", "Oil on canvas") == Found{"any", "GBP 180,000.00", "GBP 10,000.00"});
    CHECK(of("GB", "watercolour") == Found{"any", "GBP 65,000.00", "GBP 10,000.00"});
    CHECK(of("GB", "") == Found{"any", "GBP 65,000.00", "GBP 180,000.00", "GBP 10,000.00"});
    CHECK(of("EU", "tempera on panel") == Found{"EUR 150,000.00"});
    CHECK(of("EU", "gouache") == Found{"EUR 30,000.00"});
    CHECK(of("EU", "pen and ink") == Found{"EUR 15,000.00"});
    CHECK(of("IT", "oil") == Found{"EUR 13,500.00"});
    const auto into = border_limits("EU-import", PictureGroup::painting);
    const auto statement = std::ranges::find(into, 200, &ExportLimit::least_age_years);
    REQUIRE(statement != into.end());
    CHECK(statement->source.from_memory());  // EUR 18,000 was not seen in the text read
    CHECK(border_limits("XX", PictureGroup::painting).empty());
}

TEST_CASE("every question has its source and says how sure it is") {
    for (const DutyText& text : duty_texts()) {
        CAPTURE(text.duty);
        CHECK(text.question.size() > 40);
        CHECK_FALSE(text.source.source.empty());
        CHECK_FALSE(text.source.status.empty());
    }
    CHECK(duty_texts().size() == 11);
}
