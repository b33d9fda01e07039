#include "tedge/usecases/usual_currency.hpp"

#include <catch2/catch.hpp>

#include "usecase_book.hpp"

using namespace tedge;
using casebook::FieldValues;

namespace {

Currency currency(const char* code) {
    return Currency::parse(code).value();
}

}  // namespace

TEST_CASE("An amount is proposed in the case's own currency, else the book's, else pounds") {
    UsecaseBook b;
    CHECK(usecases::usual_currency(b.book, b.case_id) == currency("GBP"));

    const Uuid other = usecases::open_case(b.acting, {"Still life", "", std::nullopt}).value();
    b.add_to(other, "lot", FieldValues().money("estimate_low", {900'000, currency("EUR")}));
    CHECK(usecases::usual_currency(b.book, b.case_id) == currency("EUR"));

    b.add("cost_line", FieldValues().text("name", "lining").money_estimate("estimate", {1, 2, 3}, currency("CHF")));
    CHECK(usecases::usual_currency(b.book, b.case_id) == currency("CHF"));
    CHECK(usecases::usual_currency(b.book, other) == currency("EUR"));

    // What was written last decides, also where it only changed.
    b.add("cost_line", FieldValues().text("name", "frame").money("actual", {12'000, currency("JPY")}));
    CHECK(usecases::usual_currency(b.book, b.case_id) == currency("JPY"));
}
