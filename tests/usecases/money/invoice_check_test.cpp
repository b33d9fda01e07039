// Check figures: tests/reference/auction_invoice_examples.csv, rows inv8 (own arithmetic) and inv3, a published total
// that is wrong: 104,000 for 80,000 at 25 % to 50,000 and 20 % above, with VAT on the premium, where 102,200 is right.
#include "tedge/usecases/invoice_check.hpp"

#include <catch2/catch.hpp>

#include "sold_lot.hpp"
#include "tedge/usecases/terms_to_begin_with.hpp"

using namespace tedge;
using casebook::FieldValues;

namespace {

usecases::ReceivedInvoice received(std::string_view json) {
    return must(usecases::parse_received_invoice(json, pounds(0).currency));
}

std::vector<std::string> differences(SoldLot& s, std::string_view json) {
    return must(usecases::check_invoice(s.snapshot(), received(json))).differences;
}

using Sentences = std::vector<std::string>;

}  // namespace

TEST_CASE("an invoice by the terms agrees, whatever the order of its lines", "[invoice]") {
    SoldLot s;
    s.bought_for(850'000);
    CHECK(differences(s, R"({"lines": [{"name": "premium", "amount": 2125}, {"name": "hammer", "amount": "8500.00"},
        {"name": "vat ON premium", "amount": 425}], "total": 11050})") == Sentences{});
}

TEST_CASE("each line that differs is named with what is due", "[invoice]") {
    SoldLot s;
    s.bought_for(850'000);
    CHECK(differences(s, R"({"lines": [{"name": "hammer", "amount": 8500}, {"name": "premium", "amount": 2150.5},
        {"name": "insurance", "amount": 85}], "total": 11160.50})") ==
          Sentences{"premium: GBP 2,150.50 charged, GBP 2,125.00 due by the terms; GBP 25.50 too much.",
                    "VAT on premium: GBP 425.00 is due by the terms and not charged.",
                    "insurance: GBP 85.00 is charged, and the recorded terms know no such charge.",
                    "total: its lines come to GBP 10,735.50, and GBP 11,160.50 is printed below them."});
    CHECK(differences(s, R"({"lines": [{"name": "hammer", "amount": 8500}, {"name": "premium", "amount": 2125},
        {"name": "VAT on premium", "amount": 425}, {"name": "surcharge", "amount": 255}]})") ==
          Sentences{"surcharge: GBP 255.00 is charged, and nothing is due by the terms."});
}

TEST_CASE("the published total that is wrong does not pass", "[invoice]") {
    SoldLot s;
    must(usecases::change_record(
        s.acting, s.lot,
        FieldValues().value("terms/premium",
                            nlohmann::json::parse(R"([{"up_to": 50000, "percent": 25}, {"percent": 20}])"))));
    s.bought_for(8'000'000);
    const auto check =
        must(usecases::check_invoice(s.snapshot(), received(R"({"lines": [{"name": "hammer", "amount": 80000},
        {"name": "premium", "amount": 20000}, {"name": "VAT on premium", "amount": 4000}], "total": 104000})")));
    CHECK(check.due == pounds(10'220'000));
    CHECK(check.charged == pounds(10'400'000));
    CHECK(check.differences.size() == 2);
}

TEST_CASE("an invoice that cannot be read says which line", "[invoice]") {
    const auto reason = [](std::string_view json) {
        const auto answer = usecases::parse_received_invoice(json, pounds(0).currency);
        REQUIRE_FALSE(answer);
        CHECK(answer.error().code == "invoice.not-read");
        return answer.error().values.at("reason");
    };
    CHECK(reason("{") == "it is no JSON object");
    CHECK(reason(R"({"lines": []})") == "it has no lines");
    CHECK(reason(R"({"lines": [{"amount": 1}]})") == "a line has no name");
    CHECK(reason(R"({"lines": [{"name": "premium"}]})") == "the line \"premium\" has no amount");
    CHECK(reason(R"({"lines": [{"name": "premium", "amount": 1.005}]})").starts_with("the line \"premium\": "));
    CHECK(reason(R"({"lines": [{"name": "premium", "amount": 1}], "total": []})") == "the total has no amount");
}

TEST_CASE("the invoice is kept with the purchase, with its number", "[invoice]") {
    SoldLot s;
    const auto invoice =
        received(R"({"number": "A-17", "lines": [{"name": "hammer", "amount": 8500}], "total": 8500})");
    CHECK(usecases::keep_invoice(s.acting, s.case_id, invoice).error().code == "invoice.no-purchase");
    CHECK(usecases::check_invoice(s.snapshot(), invoice).error().code == "lot.no-hammer");
    s.bought_for(850'000);
    must(usecases::keep_invoice(s.acting, s.case_id, invoice));
    const auto purchase = s.only("purchase");
    CHECK(purchase.body.text("invoice_number") == "A-17");
    CHECK(purchase.body.as_json()["received_invoice"]["lines"][0]["amount"] == "8500.00");
}

TEST_CASE("an invoice is read as people copy it: tabs, semicolons, commas, currencies, other usual names",
          "[invoice]") {
    SoldLot s;
    s.bought_for(850'000);
    const Currency& currency = pounds(0).currency;
    for (const char* text :
         {"Hammer price\t8,500.00\nBuyer's premium\t2,125.00\nVAT on buyer's premium\t425.00\nTotal due\t11,050.00\n",
          "charge;amount\r\nhammer;8500\r\npremium;2125\r\nVAT on premium;425\r\nTotal:;11050\r\n",
          "\"Hammer\",\"8,500.00\"\nPremium,2125\nVAT on premium,425\nTOTAL,11050",
          "Invoice number;TD 25/0412\nHammer price £8,500\nBuyer’s premium GBP 2,125.00\nVAT on premium 425\nTotal "
          "£11,050"}) {
        INFO(text);
        const auto read = must(usecases::parse_invoice_table(text, currency));
        CHECK(read.lines.size() == 3);
        CHECK(read.total == pounds(1'105'000));
        CHECK(must(usecases::check_invoice(s.snapshot(), read)).agrees());
    }
    CHECK(must(usecases::read_received_invoice("Number\tA-17\nhammer\t8500", currency)).number == "A-17");
    CHECK(must(usecases::read_received_invoice(R"( {"lines": [{"name": "hammer", "amount": 8500}]})", currency))
              .lines.size() == 1);
    for (const char* text : {"", "\n \n", "hammer", "hammer;eight", "hammer;1,70", "hammer;8500,00", "total;100",
                             "hammer;€8500", "hammer;$8500", "hammer;EUR 8500", "hammer\t8500\npremium\t2125.999"}) {
        INFO(text);
        CHECK(usecases::parse_invoice_table(text, currency).error().code == "invoice.not-read");
    }
}

TEST_CASE("a purchase that names no lot is taken for the last one, and that is said where others may be meant",
          "[invoice]") {
    SoldLot s;
    s.bought_for(850'000);
    const auto remarks = [&] {
        return must(usecases::check_invoice(s.snapshot(), received(R"({"lines": [{"name": "hammer", "amount": 1}]})")))
            .remarks;
    };
    CHECK(remarks().empty());
    must(usecases::change_record(s.acting, s.only("purchase").id, FieldValues().unset("lot")));
    CHECK(remarks().empty());  // there is one lot
    s.add("lot", SoldLot::terms_of_lot().text("lot_number", "40"));
    REQUIRE(remarks().size() == 1);
    CHECK(remarks()[0].find("taken for lot 40") != std::string::npos);
    const auto again =
        must(usecases::record_lot_result(s.acting, s.case_id, {.result = "bought", .hammer = pounds(850'000)}));
    REQUIRE_FALSE(again.remarks.empty());
    CHECK(again.remarks[0] == "The purchase named no lot; it is now that of lot 40.");
    CHECK(remarks().empty());
}

TEST_CASE("terms of a preset put into a lot are the terms that money reckons with", "[invoice]") {
    for (const money::SalePreset& preset : money::sale_presets_on(parse_date("2026-03-05").value())) {
        INFO(preset.name);
        const nlohmann::json lot = {{"terms", usecases::terms_of_preset(preset)}};
        const auto terms = must(usecases::sale_terms_in(casebook::Body(lot), preset.terms.currency));
        for (const std::int64_t minor : {10'000, 850'000, 80'000'000}) {
            const Money hammer{minor, preset.terms.currency};
            CHECK(must(money::invoice(terms, hammer)).total == must(money::invoice(preset.terms, hammer)).total);
        }
    }
    CHECK(usecases::sale_terms_in(casebook::Body(), pounds(0).currency).error().code == "lot.no-terms");
}
