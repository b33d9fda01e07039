#include "tedge/usecases/duties.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/usecases/suspicions.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using namespace std::chrono_literals;
using casebook::FieldValues;

namespace {

Money amount_of(const char* currency, const char* amount) {
    return parse_money(amount, Currency::parse(currency).value()).value();
}

struct Deal : UsecaseBook {
    Deal() {
        clock.advance(std::chrono::days(400));
        must(change_house(acting, {.country = "GB"}));
    }
    Uuid picture(FieldValues values) {
        must(change_record(acting, case_id, values));
        return case_id;
    }
    Uuid buy(const Money& price, const char* on = "2026-02-01", const char* in = "GB") {
        return add("purchase", FieldValues().text("bought_on", on).money("all_in", price).text("bought_in", in));
    }
    Uuid sell(const Money& price, const char* on = "2026-08-01", FieldValues more = {}) {
        return add("sale", more.text("sold_on", on).text("scheme", "margin").money("price", price));
    }
    Duty ask(std::string_view name) {
        const auto made = must(duties_of_case(book, case_id, 2026y / 9 / 1));
        const auto found = std::ranges::find(made.duties, name, &Duty::name);
        REQUIRE(found != made.duties.end());
        return *found;
    }
};

bool remarks(const Duty& duty, std::string_view part) {
    return std::ranges::any_of(duty.remarks, [&](const std::string& r) { return r.find(part) != std::string::npos; });
}

}  // namespace

// SI 2017/692 reg 14 as amended: euros to 29 June 2026, pounds from 30 June 2026.
TEST_CASE("The money-laundering threshold is that of the day, in its own currency") {
    const auto called = [](const char* currency, const char* price, const char* on, FieldValues more = {}) {
        Deal d;
        d.sell(amount_of(currency, price), on, std::move(more));
        return d.ask("money-laundering").called;
    };
    CHECK(called("GBP", "9999.99", "2026-07-01") == CalledFor::no);
    CHECK(called("GBP", "10000", "2026-07-01") == CalledFor::yes);
    CHECK(called("EUR", "5000000", "2019-06-01") == CalledFor::unknown);  // before any row of the table
    CHECK(called("EUR", "10000", "2026-06-29") == CalledFor::yes);
    CHECK(called("EUR", "9999.99", "2026-06-29") == CalledFor::no);
    // In another currency than the threshold only a recorded rate decides: 9,000 pounds are 10,350 euros at 1.15.
    CHECK(called("GBP", "9000", "2026-06-29") == CalledFor::unknown);
    CHECK(called("GBP", "9000", "2026-06-29", FieldValues().number("rate", 1.15).text("rate_to", "EUR")) ==
          CalledFor::yes);
    CHECK(called("GBP", "9000", "2026-06-29", FieldValues().number("rate", 1.10).text("rate_to", "EUR")) ==
          CalledFor::no);
}

TEST_CASE("Below a limit of the United Kingdom nothing is answered for a house elsewhere") {
    Deal d;
    d.sell(amount_of("EUR", "850"), "2026-06-29", FieldValues().number("rate", 0.85).text("rate_to", "GBP"));
    for (const char* duty : {"money-laundering", "resale-right"}) CHECK(d.ask(duty).called == CalledFor::no);
    must(change_house(d.acting, {.country = "FR"}));
    for (const char* duty : {"money-laundering", "resale-right"}) {
        CHECK(d.ask(duty).called == CalledFor::unknown);
        CHECK(d.ask(duty).why.find("The rule of FR is not in the tables here") != std::string::npos);
    }
}

// tests/reference/resale_royalty_examples.csv: its own arithmetic from the bands of SI 2006/346, one row published by
// the collecting society. In the law's own currency on the day: pounds since 2024-04-01.
TEST_CASE("The resale right is asked from its least price on, with the sum of each worked example") {
    const std::string path = std::string(TEDGE_SOURCE_DIR) + "/tests/reference/resale_royalty_examples.csv";
    const Table examples = must(Table::parse(must(read_file(path))));
    REQUIRE(examples.row_count() > 10);
    for (std::size_t row = 0; row < examples.row_count(); ++row) {
        const std::string price = examples.cell(row, "sale_price");
        CAPTURE(price);
        Deal d;
        d.picture(FieldValues().text("date_made", "1962"));
        d.sell(amount_of("GBP", price.c_str()));
        const Duty asked = d.ask("resale-right");
        const Money royalty = amount_of("GBP", examples.cell(row, "royalty").c_str());
        CHECK(asked.called == (royalty.minor == 0 ? CalledFor::no : CalledFor::yes));
        if (royalty.minor != 0) CHECK(asked.why.find(": " + to_display_text(royalty) + " in") != std::string::npos);
    }
}

TEST_CASE("Sales to one buyer are asked about together") {
    Deal d;
    const Uuid buyer = d.book.person_named("Ines Holloway").value();
    d.sell(amount_of("GBP", "6000"), "2026-07-10", FieldValues().record("buyer", buyer));
    CHECK(d.ask("money-laundering").called == CalledFor::no);
    const Uuid other = must(open_case(d.acting, {"Its companion", "", std::nullopt}));
    d.add_to(other, "sale",
             FieldValues()
                 .text("sold_on", "2026-07-12")
                 .text("scheme", "margin")
                 .money("price", amount_of("GBP", "4000"))
                 .record("buyer", buyer));
    const Duty duty = d.ask("money-laundering");
    CHECK(duty.called == CalledFor::yes);
    CHECK(remarks(duty, "Its companion"));
    CHECK(remarks(duty, "No identity paper"));
}

TEST_CASE("A border asks by age, kind and value, with the limits of the table and how sure they are") {
    Deal d;
    d.picture(FieldValues().text("date_made", "1840").text("technique", "oil on canvas"));
    CHECK(d.ask("export").called == CalledFor::unknown);  // nobody said where it goes
    d.buy(amount_of("GBP", "5000"));
    const Uuid sale = d.sell(amount_of("GBP", "200000"), "2026-08-01", FieldValues().text("destination", "GB"));
    CHECK(d.ask("export").called == CalledFor::no);
    CHECK(d.ask("export").state == "not-applicable");
    must(change_record(d.acting, sale, FieldValues().text("destination", "FR")));
    const Duty leaves = d.ask("export");
    CHECK(leaves.called == CalledFor::yes);
    CHECK(leaves.state == "open");
    CHECK(remarks(leaves, "GBP 180,000.00 (sold for GBP 200,000.00: reaches it)"));
    CHECK(std::ranges::any_of(leaves.sources, &money::LegalSource::from_memory));
    CHECK(d.ask("import").called == CalledFor::yes);          // from outside the Union into it
    CHECK_FALSE(remarks(d.ask("import"), "over 200 years"));  // 186 years old
    must(change_record(d.acting, d.case_id, FieldValues().text("date_made", "1990")));
    CHECK(d.ask("export").called == CalledFor::no);
    must(change_record(d.acting, d.case_id, FieldValues().unset("date_made")));
    CHECK(d.ask("export").called == CalledFor::yes);  // of what nobody knows the age, the law asks
}

// SI 2006/346 as amended: 4 % of 5,000 is 200; below 1,000 nothing; the term of copyright is life + 70.
TEST_CASE("The resale right by price, day and age") {
    Deal d;
    CHECK(d.ask("resale-right").called == CalledFor::unknown);
    const Uuid sale = d.sell(amount_of("GBP", "5000"));
    CHECK(d.ask("resale-right").called == CalledFor::yes);
    CHECK(d.ask("resale-right").why.find("GBP 200.00") != std::string::npos);
    d.picture(FieldValues().text("date_made", "1840"));
    CHECK(d.ask("resale-right").called == CalledFor::no);
    d.picture(FieldValues().text("date_made", "1860"));
    CHECK(d.ask("resale-right").called == CalledFor::yes);  // who painted at twenty may have lived to 1956
    must(change_record(d.acting, sale, FieldValues().money("price", amount_of("GBP", "999.99"))));
    CHECK(d.ask("resale-right").called == CalledFor::no);
}

TEST_CASE("Cancellation, joint purchase, materials, 1933 to 1945, and what is always asked") {
    Deal d;
    const auto cancelled = [&](const Uuid& sale, const char* how, const char* who) {
        must(change_record(d.acting, sale, FieldValues().text("concluded", how).text("buyer_is", who)));
        return d.ask("cancellation");
    };
    const Uuid sale = d.sell(amount_of("GBP", "900"), "2026-08-01", FieldValues().text("delivered_on", "2026-08-20"));
    CHECK(d.ask("cancellation").called == CalledFor::unknown);
    CHECK(cancelled(sale, "face-to-face", "consumer").called == CalledFor::no);
    CHECK(cancelled(sale, "at-a-distance", "trade").called == CalledFor::no);
    const Duty distance = cancelled(sale, "at-a-distance", "consumer");
    CHECK(distance.called == CalledFor::yes);
    CHECK(remarks(distance, "2026-09-03"));
    CHECK(distance.sources.front().from_memory());

    CHECK(d.ask("joint-purchase").called == CalledFor::no);
    d.add("share", FieldValues().number("percent", 50).text("bears", "profit"));
    CHECK(remarks(d.ask("joint-purchase"), "no agreement in writing"));
    d.add("lot", FieldValues().text("lot_number", "12"));
    CHECK(d.ask("bidding-agreement").called == CalledFor::yes);

    CHECK(d.ask("protected-material").called == CalledFor::unknown);
    const Uuid frame = d.add("picture_frame", FieldValues().text("protected_material", "no"));
    CHECK(d.ask("protected-material").called == CalledFor::no);
    must(change_record(d.acting, frame, FieldValues().text("description", "Ebonised, with IVORY stringing")));
    CHECK(d.ask("protected-material").called == CalledFor::yes);

    CHECK(d.ask("1933-1945").called == CalledFor::unknown);
    d.picture(FieldValues().text("date_made", "1945"));
    CHECK(d.ask("1933-1945").called == CalledFor::yes);
    d.picture(FieldValues().text("date_made", "1946"));
    CHECK(d.ask("1933-1945").called == CalledFor::no);
    CHECK(d.ask("sanctions").called == CalledFor::yes);
    CHECK(d.ask("register-search").state == "open");
}

TEST_CASE(
    "An answer stands with its document; one that says nothing is refused; facts that came later are held against it") {
    Deal d;
    const Uuid paper = d.add("document", FieldValues().text("title", "Certificate of the search"));
    CHECK(answer_duty(d.acting, d.case_id, {.duty = "register-search", .answer = "answered"}).error().code ==
          "duties.nothing-said");
    must(answer_duty(d.acting, d.case_id, {.duty = "register-search", .answer = "answered", .text = "nothing found"}));
    CHECK(remarks(d.ask("register-search"), "without a document"));
    d.clock.advance(std::chrono::hours(1));
    must(answer_duty(d.acting, d.case_id,
                     {.duty = "register-search", .answer = "answered", .document = paper, .on = "2026-08-01"}));
    const Duty answered = d.ask("register-search");
    CHECK(answered.state == "answered");
    CHECK(answered.document == paper);
    CHECK(answered.answered_on == "2026-08-01");
    CHECK(answered.remarks.empty());
    must(answer_duty(d.acting, d.case_id, {.duty = "1933-1945", .answer = "not-applicable", .text = "modern"}));
    d.picture(FieldValues().text("date_made", "1901"));
    CHECK(d.ask("1933-1945").state == "not-applicable");
    CHECK(remarks(d.ask("1933-1945"), "yet the facts ask"));
    CHECK(answer_duty(d.acting, d.case_id, {.duty = "luck", .answer = "open"}).error().code == "casebook.bad-field");
}

// SI 2017/692 reg 40: five years from the end of the deal, then personal data go.
TEST_CASE("An identity paper is kept for its term, told when it is over, and erased it is gone") {
    Deal d;
    d.sell(amount_of("GBP", "12000"), "2026-08-01");
    must(write_file_durably(d.folder / "passport", "PASSPORT OF QUARRELHOME"));
    const std::string file = must(d.book.store_original(d.folder / "passport")).sha256;
    const Uuid paper = d.add("document", FieldValues()
                                             .text("title", "Passport of Zebulon Quarrelhome")
                                             .text("sort", "identity")
                                             .text("sha256", file)
                                             .text("destroy_after", "2026-08-31"));
    const auto made = must(duties_of_case(d.book, d.case_id, 2026y / 9 / 1));
    CHECK(made.papers_until == "2031-08-01");
    REQUIRE(made.papers.size() == 1);
    CHECK(made.papers.front().due);
    CHECK_FALSE(must(duties_of_case(d.book, d.case_id, 2026y / 8 / 31)).papers.front().due);
    CHECK_FALSE(remarks(d.ask("money-laundering"), "No identity paper"));

    const auto erased = must(d.book.erase(d.acting.author, paper, "the term is over"));
    CHECK(erased.files == 1);
    CHECK(must(duties_of_case(d.book, d.case_id, 2026y / 9 / 1)).papers.empty());
    for (const auto& entry : std::filesystem::recursive_directory_iterator(d.folder / "book")) {
        if (!entry.is_regular_file()) continue;
        const std::string bytes = must(read_file(entry.path()));
        CAPTURE(entry.path().string());
        CHECK(bytes.find("QUARRELHOME") == std::string::npos);
        CHECK(bytes.find("Quarrelhome") == std::string::npos);
    }
}

TEST_CASE("A note of suspicion is found by its own list alone, is nobody's from outside to write, and can be erased") {
    Deal d;
    const Done noted = must(note_suspicion(d.acting, d.case_id, "Paid in cash by a third Thornapple."));
    REQUIRE(must(suspicions_of(d.book, d.case_id)).size() == 1);
    CHECK(must(suspicions_of(d.book, d.case_id)).front().noted_on == to_text(d.clock.now()).substr(0, 10));
    CHECK(must(d.book.search("Thornapple")).empty());
    CHECK(is_kept_back("suspicion"));
    CHECK_FALSE(is_kept_back("duty"));
    CHECK_FALSE(is_kept_back("house"));

    // What an exchange may carry is what the field tables name for its reader: of this kind, nothing for anybody.
    const auto changes = must(d.book.all_changes());
    for (const auto sender : {casebook::Reader::buyer, casebook::Reader::restorer, casebook::Reader::carrier,
                              casebook::Reader::insurer, casebook::Reader::scholar}) {
        CountingIds ids{static_cast<std::uint8_t>(60 + static_cast<int>(sender))};
        auto other =
            must(casebook::Casebook::create(d.folder / std::to_string(static_cast<int>(sender)), {&d.clock, &ids}));
        must(other.merge(changes, sender));
        CHECK(must(suspicions_of(other, d.case_id)).empty());
    }
    must(d.book.erase(d.acting.author, noted.record, "asked by law"));
    CHECK(must(suspicions_of(d.book, d.case_id)).front().text.empty());
}
