#include "tedge/usecases/accounts.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tedge/base/table.hpp"
#include "tedge/usecases/house.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

Money of(const char* currency, const char* amount) {
    return parse_money(amount, Currency::parse(currency).value()).value();
}

Money gbp(const char* amount) {
    return of("GBP", amount);
}

struct Shop : UsecaseBook {
    Shop() { clock.advance(std::chrono::days(400)); }
    Uuid pay(const char* direction, const Money& amount, const std::optional<Uuid>& settles, const char* is = "payment",
             FieldValues more = {}) {
        more.text("direction", direction).money("amount", amount).text("on", "2026-04-02").text("is", is);
        if (settles) more.record("settles", *settles);
        return add("payment", more);
    }
    Uuid buy(FieldValues more = {}, const char* scheme = "margin") {
        return add("purchase", more.text("bought_on", "2026-04-01")
                                   .text("scheme", scheme)
                                   .money("margin_price", gbp("1180"))
                                   .money("all_in", gbp("1216")));
    }
    Uuid sell(const char* price, const char* scheme = "margin") {
        return add("sale",
                   FieldValues().text("sold_on", "2026-06-01").text("scheme", scheme).money("price", gbp(price)));
    }
    CaseAccounts accounts(const char* currency = "GBP") {
        return must(accounts_of_case(snapshot(), Currency::parse(currency).value()));
    }
};

bool doubts(const CaseAccounts& accounts, std::string_view part) {
    return std::ranges::any_of(accounts.doubts,
                               [&](const std::string& s) { return s.find(part) != std::string::npos; });
}

}  // namespace

// The purchase of HMRC Notice 718/2 section 8, example 2, as a dealer pays it (1,180), sold at 2,000: VAT 136.67
// (tests/reference/vat_examples.csv, own/chain). The rest is worked by hand.
TEST_CASE("Actual costs stand beside estimates; the purchase price for the margin stands apart from the all-in price") {
    Shop s;
    s.buy();
    const Uuid cleaning = s.add("cost_line", FieldValues()
                                                 .text("name", "cleaning")
                                                 .money_estimate("estimate", {20000, 30000, 60000}, gbp("0").currency)
                                                 .money("actual", gbp("310")));
    s.add("cost_line",
          FieldValues().text("name", "frame").money_estimate("estimate", {10000, 10000, 10000}, gbp("0").currency));
    const CaseAccounts before = s.accounts();
    CHECK(before.result == gbp("-1526"));
    CHECK(before.owed_by_us == gbp("1526"));
    CHECK(doubts(before, "1 cost is only estimated"));
    CHECK_FALSE(before.is_sold());

    s.pay("out", gbp("100"), cleaning);
    s.pay("out", gbp("110"), cleaning);
    s.sell("2000");
    const CaseAccounts after = s.accounts();
    const auto entry = std::ranges::find(after.entries, "cleaning", &AccountEntry::what);
    REQUIRE(entry != after.entries.end());
    CHECK(entry->estimate->minor.high == 60000);
    CHECK(entry->due == gbp("310"));
    CHECK(entry->paid == gbp("210"));
    CHECK(entry->owed == gbp("100"));
    REQUIRE(after.sale);
    CHECK(after.sale->margin_price == gbp("1180"));
    CHECK(after.sale->all_in == gbp("1216"));
    CHECK(after.sale->vat->margin == gbp("820"));
    CHECK(after.sale->vat->vat == gbp("136.67"));  // the costs are not in the margin
    CHECK(after.result == gbp("337.33"));          // 2000 − 136.67 − 1216 − 310
    CHECK(after.paid_out == gbp("210"));
    CHECK(after.owed_to_us == gbp("2000"));
}

TEST_CASE("Deposits, part payments and refunds") {
    Shop s;
    const Uuid purchase = s.buy();
    s.pay("out", gbp("500"), std::nullopt, "deposit");
    CHECK(s.accounts().deposits_held == gbp("500"));
    s.pay("in", gbp("500"), std::nullopt, "deposit-back");
    CHECK(s.accounts().deposits_held == gbp("0"));
    s.pay("out", gbp("1216"), purchase);
    const Uuid sale = s.sell("2000");
    s.pay("in", gbp("400"), sale, "deposit");
    CHECK(s.accounts().owed_to_us == gbp("1600"));
    CHECK(s.accounts().paid_in == gbp("900"));

    // Half taken back: the price that was kept counts, for the margin too.
    s.add("return", FieldValues().record("of", sale).text("returned_on", "2026-06-20").money("refund", gbp("500")));
    const CaseAccounts reduced = s.accounts();
    CHECK(reduced.sale->price == gbp("1500"));
    CHECK(reduced.sale->vat->vat == gbp("53.33"));  // (1500 − 1180) / 6
    CHECK(reduced.result == gbp("230.67"));         // 2000 − 500 − 53.33 − 1216
    s.add("return", FieldValues().record("of", sale).text("returned_on", "2026-06-21").money("refund", gbp("1500")));
    const CaseAccounts undone = s.accounts();
    CHECK_FALSE(undone.is_sold());
    CHECK(undone.result == gbp("-1216"));
    s.sell("1900");  // and sold again
    CHECK(s.accounts().sale->price == gbp("1900"));
    s.sell("1900");
    CHECK(accounts_of_case(s.snapshot(), gbp("0").currency).error().code == "accounts.two-sales");
}

TEST_CASE("A purchase that went back brings its refund") {
    Shop s;
    const Uuid purchase = s.buy(FieldValues().text("paid_on", "2026-04-03"));
    CHECK(s.accounts().owed_by_us == gbp("0"));
    CHECK(s.accounts().paid_out == gbp("1216"));
    s.add("return",
          FieldValues().record("of", purchase).text("returned_on", "2026-04-20").money("refund", gbp("1200")));
    CHECK(s.accounts().result == gbp("-16"));
    CHECK(s.accounts().owed_to_us == gbp("1200"));
}

TEST_CASE("Finder's, viewer's and partners' money") {
    Shop s;
    s.buy();
    s.add("commission", FieldValues().text("role", "viewer").money("amount", gbp("80")));
    s.add("commission", FieldValues().text("role", "finder").number("percent", 5).text("percent_of", "profit"));
    const Uuid share = s.add("share", FieldValues().number("percent", 40).text("bears", "profit-and-loss"));
    s.pay("in", gbp("486.40"), share);
    const CaseAccounts unsold = s.accounts();
    CHECK(unsold.result == gbp("-1296"));  // the share of the finder is in the profit, and there is none yet
    CHECK(unsold.shares.front().part == gbp("-518.40"));
    CHECK(unsold.ours == gbp("-777.60"));
    CHECK(unsold.shares.front().paid_in == gbp("486.40"));
    s.sell("2000");
    const CaseAccounts sold = s.accounts();
    // 2000 − 136.67 − 1216 − 80 = 567.33; a twentieth is 28.37
    CHECK(sold.result == gbp("538.96"));
    CHECK(sold.shares.front().part == gbp("215.58"));
    CHECK(sold.ours == gbp("323.38"));
    s.add("share", FieldValues().number("percent", 61).text("bears", "profit"));
    CHECK(accounts_of_case(s.snapshot(), gbp("0").currency).error().code == "shares.over-100");
}

TEST_CASE("Amounts in several currencies are converted by the rate recorded with them, or refused, never added up") {
    Shop s;
    const auto francs = [](const char* amount) { return of("CHF", amount); };
    const Uuid purchase =
        s.add("purchase", FieldValues().money("all_in", francs("1000")).text("bought_on", "2026-04-01"));
    const auto refused = accounts_of_case(s.snapshot(), gbp("0").currency);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "money.mixed-currencies");
    CHECK(refused.error().values.at("record") == to_text(purchase));
    must(change_record(s.acting, purchase,
                       FieldValues().number("rate", 0.9).text("rate_to", "GBP").text("rate_on", "2026-04-01")));
    CHECK(s.accounts().result == gbp("-900"));
    CHECK(s.accounts("CHF").result == francs("-1000"));

    // What is paid counts at its own rate, what is still owed at that of the purchase.
    const Uuid payment = s.pay("out", francs("400"), purchase);
    CHECK(accounts_of_case(s.snapshot(), gbp("0").currency).error().values.at("record") == to_text(payment));
    must(change_record(s.acting, payment,
                       FieldValues().number("rate", 0.8).text("rate_to", "GBP").text("rate_on", "2026-04-02")));
    const CaseAccounts accounts = s.accounts();
    CHECK(accounts.paid_out == gbp("320"));
    CHECK(accounts.entries.front().owed == francs("600"));
    CHECK(accounts.owed_by_us == gbp("540"));
    CHECK(accounts.result == gbp("-860"));
    // A rate into a third currency converts nothing here, and a rate of zero is no rate.
    must(change_record(s.acting, payment, FieldValues().text("rate_to", "USD")));
    CHECK(accounts_of_case(s.snapshot(), gbp("0").currency).error().code == "money.mixed-currencies");
    CHECK(change_record(s.acting, payment, FieldValues().number("rate", 0)).error().code == "casebook.bad-field");
}

TEST_CASE(
    "Ordinary VAT gives the VAT of the purchase back; export wants its proof; without a margin price no VAT is made "
    "up") {
    Shop s;
    s.buy(FieldValues().money("input_vat", gbp("196")), "vat-on-hammer");
    const Uuid sale = s.sell("2400", "ordinary");
    CHECK(s.accounts().sale->vat->vat == gbp("400"));
    CHECK(s.accounts().result == gbp("980"));  // 2400 − 400 + 196 − 1216
    must(change_record(s.acting, sale, FieldValues().text("scheme", "export")));
    CHECK(s.accounts().result == gbp("1380"));
    CHECK(doubts(s.accounts(), "no proof of export"));
    const Uuid proof = s.add("document", FieldValues().text("title", "Export declaration"));
    must(change_record(s.acting, sale, FieldValues().record("export_proof", proof)));
    CHECK_FALSE(doubts(s.accounts(), "no proof of export"));
    must(change_record(s.acting, sale, FieldValues().text("scheme", "margin")));
    CHECK_FALSE(s.accounts().sale->vat);
    CHECK(doubts(s.accounts(), "before VAT"));
}

TEST_CASE("A payment settles what is owed, a return takes back what was bought or sold, and nothing else") {
    Shop s;
    const Uuid frame = s.add("picture_frame", FieldValues().text("description", "Gilt"));
    const auto paid = add_record(s.acting, s.case_id, "payment",
                                 FieldValues()
                                     .text("direction", "out")
                                     .money("amount", gbp("5"))
                                     .text("on", "2026-04-02")
                                     .record("settles", frame));
    CHECK(paid.error().code == "casebook.no-such-record");
    CHECK(add_record(s.acting, s.case_id, "return",
                     FieldValues().record("of", frame).text("returned_on", "2026-04-02").money("refund", gbp("5")))
              .error()
              .code == "casebook.no-such-record");
    CHECK(s.pay("out", gbp("5"), s.buy()) != Uuid{});
}

TEST_CASE("The table of the accounts reads back with both currencies and the rate") {
    Shop s;
    const Uuid purchase = s.buy();
    s.pay("out", of("EUR", "500"), purchase, "payment",
          FieldValues().number("rate", 0.85).text("rate_to", "GBP").text("rate_on", "2026-04-02"));
    const Table table = must(Table::parse(must(accounts_csv(s.snapshot(), s.accounts()))));
    REQUIRE(table.row_count() == 2);
    CHECK(table.cell(0, "due") == "1216.00");
    CHECK(table.cell(0, "owed") == "791.00");
    CHECK(table.cell(1, "currency") == "EUR");
    CHECK(table.cell(1, "paid") == "500.00");
    CHECK(table.cell(1, "rate") == "0.85");
    CHECK(table.cell(1, "rate_on") == "2026-04-02");
    CHECK(table.cell(1, "in_GBP") == "425.00");
}

TEST_CASE("What holds for the house is said once, and a code that is none is refused") {
    Shop s;
    CHECK(must(house_of(s.book)).currency.code() == "GBP");
    const Done done = must(change_house(s.acting, {.currency = "EUR", .country = "fr", .price_code = "blackhorse"}));
    CHECK(must(house_of(s.book)).country == "FR");
    must(change_house(s.acting, {.currency = "CHF"}));
    CHECK(must(house_of(s.book)).currency.code() == "CHF");
    CHECK(must(house_of(s.book)).price_code == "blackhorse");
    CHECK(must(s.book.records(Uuid{}, "house")).size() == 1);
    CHECK(change_house(s.acting, {.price_code = "greenhouse"}).error().code == "price-code.repeated-letter");
    CHECK(change_house(s.acting, {.country = "France"}).error().code == "house.not-a-country");
    CHECK(change_house(s.acting, {.currency = "quid"}).error().code == "money.unknown-currency");
    must(change_house(s.acting, {.price_code = ""}));
    CHECK(must(house_of(s.book)).price_code.empty());
    CHECK(done.inverse.operation == casebook::Operation::remove);
}

TEST_CASE("A purchase falls due on the day that the terms of its lot say, until another day is written") {
    Shop s;
    const Uuid lot = s.add("lot", FieldValues().text("lot_number", "12"));
    const Uuid purchase = s.buy(FieldValues().record("lot", lot));
    CHECK(s.accounts().entries.front().due_on.empty());
    s.add("deadline",
          FieldValues().text("what", "pay").text("on", "2026-04-08").text("term", "pay").record("lot", lot));
    CHECK(s.accounts().entries.front().due_on == "2026-04-08");
    must(change_record(s.acting, purchase, FieldValues().text("due_on", "2026-04-30")));
    CHECK(s.accounts().entries.front().due_on == "2026-04-30");
}
