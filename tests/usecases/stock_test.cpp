#include "tedge/usecases/stock.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/usecases/portfolio.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace std::chrono_literals;
using casebook::FieldValues;

namespace {

Money pounds_of(const std::string& amount) {
    return parse_money(amount, Currency::parse("GBP").value()).value();
}

// Pictures bought and sold, one case each.
struct Stock : UsecaseBook {
    Uuid seller = book.person_named("Sallow & Daughter").value();
    Uuid buyer = book.person_named("Ines Holloway").value();
    Stock() { clock.advance(std::chrono::days(400)); }

    Uuid picture(const std::string& number) {
        const Uuid id = must(open_case(acting, {"Study " + number, "", std::nullopt}));
        must(change_record(acting, id, FieldValues().text("stock_number", number)));
        return id;
    }
    Uuid buy(const Uuid& in, const std::string& price, const char* on, const char* scheme = "margin") {
        return add_to(in, "purchase",
                      FieldValues()
                          .text("bought_on", on)
                          .text("scheme", scheme)
                          .text("invoice_number", "P")
                          .record("seller", seller)
                          .money("margin_price", pounds_of(price))
                          .money("all_in", pounds_of(price)));
    }
    Uuid sell(const Uuid& in, const std::string& price, const char* on, const char* scheme = "margin") {
        return add_to(in, "sale",
                      FieldValues()
                          .text("sold_on", on)
                          .text("scheme", scheme)
                          .text("invoice_number", "S")
                          .record("buyer", buyer)
                          .money("price", pounds_of(price)));
    }
    StockBookOfHouse year() { return must(stock_book_of(book, 2026y / 1 / 1, 2026y / 12 / 31)); }
};

}  // namespace

// Sources: HMRC Notice 718/2 (March 2011 text) section 8; gov.uk VAT margin schemes; the rest as the rows say.
TEST_CASE("Pictures bought and sold as in the reference's worked examples make the rows of those examples") {
    Stock s;
    const std::string path = std::string(TEDGE_SOURCE_DIR) + "/tests/reference/vat_examples.csv";
    const Table examples = must(Table::parse(must(read_file(path))));
    for (std::size_t row = 0; row < examples.row_count(); ++row) {
        const Uuid id = s.picture(std::to_string(row + 1));
        const bool exported = examples.cell(row, "checked").find("zero-rated") != std::string::npos;
        s.buy(id, examples.cell(row, "purchase_price"), "2026-02-01");
        s.sell(id, examples.cell(row, "selling_price"), "2026-03-01", exported ? "export" : "margin");
    }
    const StockBookOfHouse made = s.year();
    CHECK(made.book.missing.empty());
    REQUIRE(made.book.rows.size() == examples.row_count());
    // As a spreadsheet and an accountant read it.
    const Table written = must(Table::parse(money::stock_book_csv(made.book)));
    REQUIRE(written.row_count() == examples.row_count());
    for (std::size_t row = 0; row < examples.row_count(); ++row) {
        CAPTURE(examples.cell(row, "id"));
        CHECK(made.book.rows[row].entry.stock_number == std::to_string(row + 1));  // 9 before 10
        CHECK(made.book.rows[row].margin == pounds_of(examples.cell(row, "margin")));
        CHECK(made.book.rows[row].vat == pounds_of(examples.cell(row, "vat_due")));
        CHECK(must(parse_money(written.cell(row, "margin"), made.book.vat_due.currency)) ==
              pounds_of(examples.cell(row, "margin")));
        CHECK(must(parse_money(written.cell(row, "vat_due"), made.book.vat_due.currency)) ==
              pounds_of(examples.cell(row, "vat_due")));
        CHECK(written.cell(row, "purchase_price") == to_decimal_text(pounds_of(examples.cell(row, "purchase_price"))));
        CHECK(made.book.rows[row].entry.seller == "Sallow & Daughter");
        CHECK(made.book.rows[row].entry.buyer == "Ines Holloway");
    }
}

TEST_CASE("A period holds what was in stock in it; what left later stands in it as stock") {
    Stock s;
    const Uuid early = s.picture("1"), held = s.picture("2"), later = s.picture("3");
    s.buy(early, "100", "2025-11-01");
    s.sell(early, "200", "2025-12-20");
    s.buy(held, "100", "2025-11-01");
    s.sell(held, "220", "2026-04-03");
    s.buy(later, "100", "2026-04-20");
    const auto numbers = [&](auto from, auto to) {
        std::vector<std::string> found;
        for (const auto& row : must(stock_book_of(s.book, from, to)).book.rows)
            found.push_back(row.entry.stock_number + (row.entry.sold_on.empty() ? " held" : " sold"));
        return found;
    };
    using Numbers = std::vector<std::string>;
    CHECK(numbers(2026y / 1 / 1, 2026y / 3 / 31) == Numbers{"2 held"});
    CHECK(numbers(2026y / 4 / 1, 2026y / 6 / 30) == Numbers{"2 sold", "3 held"});
    CHECK(numbers(2025y / 10 / 1, 2025y / 12 / 31) == Numbers{"1 sold", "2 held"});
    CHECK(must(stock_book_of(s.book, 2026y / 1 / 1, 2026y / 3 / 31)).book.vat_due == pounds_of("0"));
    CHECK(stock_book_of(s.book, 2026y / 1 / 2, 2026y / 1 / 1).error().code == "stock.period");
}

TEST_CASE("What is no stock of the scheme is left out by name, what went back or was sold otherwise says so") {
    Stock s;
    const Uuid vat = s.picture("1"), back = s.picture("2"), ordinary = s.picture("3");
    s.buy(vat, "100", "2026-02-01", "vat-on-hammer");
    const Uuid purchase = s.buy(back, "100", "2026-02-01");
    s.add_to(back, "return",
             FieldValues().record("of", purchase).text("returned_on", "2026-02-20").money("refund", pounds_of("100")));
    s.buy(ordinary, "100", "2026-02-01");
    s.sell(ordinary, "240", "2026-02-09", "ordinary");
    const StockBookOfHouse made = s.year();
    CHECK(made.left_out.size() == 1);
    REQUIRE(made.book.rows.size() == 2);
    CHECK(made.book.rows[0].entry.disposal == "returned to the seller");
    CHECK(made.book.rows[1].entry.disposal.starts_with("sold outside the scheme"));
    CHECK(made.book.vat_due == pounds_of("0"));
}

TEST_CASE("A purchase in another currency is entered at its recorded rate, or the book is refused") {
    Stock s;
    const Uuid id = s.picture("1");
    const Uuid purchase = s.buy(id, "1", "2026-02-01");
    const Money euros = parse_money("1000", Currency::parse("EUR").value()).value();
    must(change_record(s.acting, purchase, FieldValues().money("margin_price", euros).money("all_in", euros)));
    s.sell(id, "1500", "2026-03-01");
    CHECK(stock_book_of(s.book, 2026y / 1 / 1, 2026y / 12 / 31).error().code == "money.mixed-currencies");
    must(change_record(s.acting, purchase,
                       FieldValues().number("rate", 0.84).text("rate_to", "GBP").text("rate_on", "2026-02-01")));
    CHECK(s.year().book.rows.front().vat == pounds_of("110"));  // (1,500 − 840) / 6
}

TEST_CASE("The stock list writes the cost price in code alone") {
    Stock s;
    must(change_house(s.acting, {.price_code = "blackhorse"}));
    const Uuid id = s.picture("7"), gone = s.picture("8");
    s.buy(id, "1180", "2026-02-01");
    s.add_to(id, "cost_line", FieldValues().text("name", "cleaning").money("actual", pounds_of("54.20")));
    s.buy(gone, "5", "2026-02-01");
    s.sell(gone, "9", "2026-03-01");
    must(change_record(s.acting, id, FieldValues().money("asking_price", pounds_of("2600"))));
    const auto rows = must(stock_list(s.book));
    REQUIRE(rows.size() == 1);
    CHECK(rows.front().cost_in_code == "BLAK");  // 1,234.20, up to 1,235
    const std::string csv = stock_list_csv(rows);
    CHECK(csv.find("2600.00") != std::string::npos);
    for (const char* cost : {"1180", "1234", "1235", "54.20"}) CHECK(csv.find(cost) == std::string::npos);
    // Sold and come back for the whole price: it costs what it did.
    const Uuid sale = s.sell(id, "2000", "2026-04-01");
    s.add_to(id, "return",
             FieldValues().record("of", sale).text("returned_on", "2026-05-01").money("refund", pounds_of("2000")));
    CHECK(must(stock_list(s.book)).front().cost_in_code == "BLAK");
}

TEST_CASE("The portfolio adds up what is in, expected out and needed, and what is at stake at worst") {
    Stock s;
    const nlohmann::json plan = nlohmann::json::parse(R"({"currency":"GBP","sale":{},"selling":"margin-scheme",
        "vat_percent":20,"costs":[{"name":"cleaning","amount":300}],
        "outcomes":[{"name":"sold","probability":1,"price":[1000,2000,3000],"months":4}]})");
    const auto fix = [&](const Uuid& id, const nlohmann::json& fixed) {
        return s.add_to(id, "ceiling",
                        FieldValues()
                            .value("plan", fixed)
                            .value("report", nlohmann::json::object())
                            .money("limit", pounds_of("900"))
                            .text("fixed_at", "2026-01-20T10:00:00.000Z"));
    };
    const Uuid held = s.picture("1"), wanted = s.picture("2"), sold = s.picture("3"), lost = s.picture("4");
    const Uuid purchase = s.buy(held, "800", "2026-02-10");
    must(change_record(s.acting, purchase, FieldValues().text("due_on", "2026-03-05")));
    fix(held, plan);
    fix(wanted, plan);
    fix(lost, plan);
    s.add_to(lost, "lot", FieldValues().text("result", "underbid"));
    s.buy(sold, "1180", "2026-02-01");
    s.sell(sold, "2000", "2026-03-01");

    const Portfolio made = must(portfolio(s.book));
    REQUIRE(made.rows.size() == 3);
    const PortfolioRow& row = made.rows[0];
    CHECK(row.owed_by_us == pounds_of("800"));
    CHECK(row.costs_to_come == pounds_of("300"));     // the plan's, for none is recorded
    CHECK(row.expected_out == pounds_of("1800"));     // 2,000 less (2,000 − 800)/6
    CHECK(row.expected_result == pounds_of("700"));   // 1,800 − 800 − 300
    CHECK(row.worst_result == pounds_of("-133.33"));  // 1,000 − 200/6 − 1,100
    CHECK(row.expected_month == "2026-06");
    CHECK(made.rows[1].limit == pounds_of("900"));
    CHECK_FALSE(made.rows[1].expected_out);
    CHECK(made.rows[2].sold);
    CHECK(made.rows[2].result == pounds_of("683.33"));
    CHECK(made.worst_result == pounds_of("550"));  // −133.33 + 683.33
    CHECK(made.expected_out == pounds_of("1800"));

    const auto month = [&](std::string_view name) {
        const auto found = std::ranges::find(made.months, name, &PortfolioMonth::month);
        REQUIRE(found != made.months.end());
        return *found;
    };
    CHECK(month("2026-03").needed == pounds_of("800"));
    CHECK(month("2026-06").expected == pounds_of("1800"));
    CHECK(month("").needed == pounds_of("1480"));  // costs of the plan, and the purchase of no day: 300 + 1,180
    CHECK(made.months.back().month.empty());
    Money needed = pounds_of("0");
    for (const PortfolioMonth& each : made.months) needed = must(add(needed, each.needed));
    CHECK(needed == pounds_of("2280"));  // all that is owed and to come, once

    // A plan in another currency expects nothing here, and says so.
    nlohmann::json euros = plan;
    euros["currency"] = "EUR";
    s.clock.advance(std::chrono::hours(1));
    const Uuid other = s.picture("5");
    s.buy(other, "10", "2026-02-01");
    fix(other, euros);
    const Portfolio again = must(portfolio(s.book));
    CHECK_FALSE(again.rows.back().expected_out);
    CHECK(again.expected_out == pounds_of("1800"));
    CHECK(std::ranges::any_of(again.doubts,
                              [](const std::string& d) { return d.find("its plan is in EUR") != std::string::npos; }));
    CHECK(must(Table::parse(portfolio_csv(again))).row_count() == 4);
}

// Ordinary VAT inside the price: a sixth of it at 20 % (HMRC Notice 700, VAT fraction; from memory). 1,200 → 200.
TEST_CASE("What stands under ordinary VAT is listed apart, with what is reclaimed and owed, and what is not recorded") {
    Stock s;
    const Uuid taxed = s.picture("2"), outside = s.picture("1"), abroad = s.picture("3"), bare = s.picture("4");
    const Uuid purchase = s.buy(taxed, "600", "2026-02-01", "vat-on-hammer");
    must(change_record(s.acting, purchase, FieldValues().money("input_vat", pounds_of("100"))));
    s.sell(taxed, "1200", "2026-05-03", "ordinary");
    s.buy(outside, "100", "2026-02-01");
    s.sell(outside, "240", "2026-03-09", "ordinary");
    must(
        change_record(s.acting, s.buy(abroad, "300", "2025-11-01"), FieldValues().money("input_vat", pounds_of("50"))));
    s.sell(abroad, "900", "2026-03-09", "export");
    s.buy(bare, "100", "2026-02-01", "vat-on-hammer");

    const OrdinaryVat year = s.year().ordinary;
    REQUIRE(year.rows.size() == 4);
    CHECK(year.rows[0].output_vat == pounds_of("40"));
    CHECK_FALSE(year.rows[0].input_vat);
    CHECK(year.rows[1].output_vat == pounds_of("200"));
    CHECK(year.rows[2].exported);
    CHECK(year.rows[2].output_vat == pounds_of("0"));
    CHECK(year.output_vat == pounds_of("240"));
    CHECK(year.input_vat == pounds_of("100"));  // that of the third was bought the year before
    const auto names = [&](std::string_view part) {
        return std::ranges::count_if(year.missing,
                                     [&](const std::string& m) { return m.find(part) != std::string::npos; });
    };
    CHECK(names("proof of export") == 1);
    CHECK(names("how much VAT") == 1);
    CHECK(year.missing.size() == 2);

    // Before it is sold outside it, it is stock of the margin scheme.
    const StockBookOfHouse winter = must(stock_book_of(s.book, 2026y / 2 / 1, 2026y / 2 / 28));
    CHECK(winter.ordinary.rows.size() == 3);
    CHECK(winter.ordinary.output_vat == pounds_of("0"));
    CHECK(winter.book.rows.size() == 1);
    const Table table = must(Table::parse(ordinary_vat_csv(year)));
    REQUIRE(table.row_count() == 4);
    CHECK(table.cell(1, "input_vat") == "100.00");
    CHECK(table.cell(1, "output_vat") == "200.00");
    CHECK(table.cell(2, "exported") == "yes");
    CHECK(table.cell(3, "exported").empty());
}

TEST_CASE("What may come out of one picture is divided among those who have a part in it") {
    Stock s;
    const nlohmann::json plan = nlohmann::json::parse(R"({"currency":"GBP","sale":{},"selling":"margin-scheme",
        "vat_percent":20,"costs":[{"name":"cleaning","amount":300},{"name":"frame","amount":100}],
        "outcomes":[{"name":"sold","probability":1,"price":[1000,2000,3000]}]})");
    const Uuid id = s.picture("1");
    s.buy(id, "800", "2026-02-10");
    s.add_to(id, "ceiling",
             FieldValues()
                 .value("plan", plan)
                 .value("report", nlohmann::json::object())
                 .money("limit", pounds_of("900"))
                 .text("fixed_at", "2026-01-20T10:00:00.000Z"));
    // Recorded in the place of the plan's own: the frame is still the plan's.
    s.add_to(id, "cost_line",
             FieldValues()
                 .text("name", "cleaning")
                 .money_estimate("estimate", {40000, 40000, 40000}, pounds_of("0").currency));
    s.add_to(id, "share", FieldValues().number("percent", 50).text("bears", "profit-and-loss"));
    s.add_to(id, "share", FieldValues().number("percent", 10).text("bears", "profit"));
    const Outlook outlook = must(outlook_of_case(must(s.book.snapshot(id)), pounds_of("0").currency));
    REQUIRE(outlook.row);
    CHECK(outlook.row->costs_to_come == pounds_of("500"));
    CHECK(outlook.row->expected_result == pounds_of("500"));   // 1,800 − 800 − 500
    CHECK(outlook.row->worst_result == pounds_of("-333.33"));  // 966.67 − 800 − 500
    CHECK(outlook.expected->shares == std::vector{pounds_of("250"), pounds_of("50")});
    CHECK(outlook.expected->ours == pounds_of("200"));
    CHECK(outlook.worst->shares[1] == pounds_of("0"));  // no part in a loss
    CHECK(must(add(must(add(outlook.worst->shares[0], outlook.worst->ours)), outlook.worst->shares[1])) ==
          pounds_of("-333.33"));
    const Portfolio all = must(portfolio(s.book));
    CHECK(all.rows.front().expected_result == outlook.row->expected_result);
    CHECK(must(Table::parse(portfolio_months_csv(all))).row_count() == all.months.size());
}
