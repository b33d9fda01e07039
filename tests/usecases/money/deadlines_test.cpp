#include "tedge/usecases/deadlines.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "sold_lot.hpp"
#include "strict_calendar.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using casebook::FieldValues;

namespace {

const usecases::TermDeadline& of_term(const usecases::DeadlinesByTerms& by_terms, std::string_view term) {
    const auto found = std::ranges::find(by_terms.due, term, &usecases::TermDeadline::term);
    REQUIRE(found != by_terms.due.end());
    return *found;
}

usecases::DeadlinesByTerms counted(SoldLot& s) {
    const auto held = s.snapshot();
    return usecases::deadlines_by_terms(held, *held.find(s.lot));
}

}  // namespace

TEST_CASE("before the sale only its own days fall due", "[deadlines]") {
    SoldLot s;
    must(usecases::make_deadlines(s.acting, s.case_id));
    CHECK(s.count("deadline") == 1);
    CHECK(s.due("register") == "2026-03-04");
    CHECK(must(usecases::make_deadlines(s.acting, s.case_id)).done.empty());  // they stand already
}

TEST_CASE("days are counted from the day that the clocks of the sale show", "[deadlines]") {
    SoldLot s;
    // Half past six in the evening of the 4th in Los Angeles, the 5th in Greenwich.
    must(usecases::change_record(
        s.acting, s.lot,
        FieldValues().text("sale_at", "2026-03-05T02:30:00Z").text("sale_zone", "America/Los_Angeles")));
    s.bought_for(850'000);
    CHECK(s.due("pay") == "2026-03-09");
    // Over the end of a February that has 29 days in 2028.
    must(usecases::change_record(s.acting, s.only("purchase").id, FieldValues().text("bought_on", "2028-02-27")));
    must(usecases::make_deadlines(s.acting, s.case_id));
    CHECK(s.due("pay") == "2028-03-03");
    CHECK(s.count("deadline") == 4);  // counted anew, not written twice
}

TEST_CASE("a default says that it is one, and terms that do not hold are named", "[deadlines]") {
    SoldLot s;
    s.bought_for(850'000);
    CHECK_FALSE(of_term(counted(s), "pay").is_default);
    must(usecases::change_record(s.acting, s.lot,
                                 FieldValues()
                                     .unset("terms/pay_within_days")
                                     .text("terms/valid_to", "2025-12-31")
                                     .text("sale_zone", "Atlantis/Harbour")));
    const auto by_terms = counted(s);
    const auto& pay = of_term(by_terms, "pay");
    CHECK(pay.is_default);
    CHECK(to_text(pay.on) == "2026-03-12");  // resources/reference/payment_defaults.csv, from memory
    CHECK(pay.basis.find("the terms do not say") != std::string::npos);
    REQUIRE(by_terms.remarks.size() == 2);
    CHECK(by_terms.remarks[0].find("that of UTC") != std::string::npos);
    CHECK(by_terms.remarks[1] ==
          "The recorded terms hold until 31 December 2025, and the sale is on 5 March 2026: read those of the day.");
}

TEST_CASE("a calendar tells what falls due and when the sale is, and no money, person or private note", "[deadlines]") {
    SoldLot s;
    const auto file = s.folder / "due.ics";
    must(usecases::export_deadlines(s.book, s.case_id, file));  // the sale itself
    auto read = test::StrictCalendarReader::read(must(read_file(file)));
    REQUIRE(read.parts.size() == 1);
    CHECK(read.parts[0].only("DTSTART").value == "20260305T143000Z");
    CHECK(test::said_text(read.parts[0].only("DESCRIPTION").value) ==
          "Old Pictures\n2026-03-05, 14:30 Europe/London (GMT)");

    s.bought_for(850'000);
    s.add("deadline", FieldValues()
                          .text("what", "Ask the framer; ring, do not write")
                          .text("on", "2026-04-01")
                          .text("note", "owes us GBP 300"));
    s.add("deadline",
          FieldValues().text("what", "Done long ago").text("on", "2026-03-01").text("done_on", "2026-03-01"));
    const Uuid other = must(usecases::open_case(s.acting, {"Storm", "", {}}));
    s.add_to(other, "deadline", FieldValues().text("what", "Photograph").text("on", "2026-05-01"));
    CHECK(must(usecases::export_deadlines(s.book, std::nullopt, file, {.remind_days = 1})).entries == 6);
    CHECK(must(usecases::export_deadlines(s.book, s.case_id, file, {.remind_days = 1})).entries == 5);
    const std::string bytes = must(read_file(file));
    read = test::StrictCalendarReader::read(bytes);
    for (const char* secret : {"8,500", "850", "11,050", "300", "Ada", "Done long ago"})
        CHECK(bytes.find(secret) == std::string::npos);
    const auto framer = std::ranges::find_if(read.parts, [](const auto& each) {
        return test::said_text(each.only("SUMMARY").value) == "Ask the framer; ring, do not write: River landscape";
    });
    REQUIRE(framer != read.parts.end());
    CHECK(framer->only("DTSTART").value == "20260401");
    must(usecases::export_deadlines(s.book, s.case_id, s.folder / "again.ics", {.remind_days = 1}));
    CHECK(must(read_file(s.folder / "again.ics")) == bytes);

    must(write_file_durably(s.folder / "letter.ics", "Dear Sir"));
    CHECK(usecases::export_deadlines(s.book, s.case_id, s.folder / "letter.ics").error().code == "deadlines.exists");
    BoughtPicture empty;
    CHECK(usecases::export_deadlines(empty.book, std::nullopt, empty.folder / "none.ics").error().code ==
          "deadlines.none");
}

TEST_CASE("what is next stands first, what is past says by how much, what is done stands last", "[deadlines]") {
    SoldLot s;
    const auto on = [](const char* day) { return parse_date(day).value(); };
    auto before = usecases::standing_deadlines(s.snapshot(), on("2026-03-03"));
    REQUIRE(before.size() == 1);
    CHECK(before[0].is_sale);
    CHECK(before[0].what == "Sale, lot 212");
    CHECK(before[0].at == "14:30 Europe/London (GMT)");
    CHECK(before[0].days_left == 2);
    s.bought_for(850'000);
    s.add("deadline", FieldValues().text("what", "renew the insurance").text("on", "2026-09-01"));
    s.add("deadline",
          FieldValues().text("what", "ask the carrier").text("on", "2026-03-06").text("done_on", "2026-03-06"));
    const auto standing = usecases::standing_deadlines(s.snapshot(), on("2026-03-12"));
    // Registering by the 4th, paying by the 10th, storage from the 16th, return until the 26th: counted by hand.
    std::vector<std::pair<std::string, int>> told;
    for (const auto& each : standing) told.emplace_back(tedge::to_text(each.on), each.days_left);
    CHECK(told == std::vector<std::pair<std::string, int>>{{"2026-03-04", -8},
                                                           {"2026-03-10", -2},
                                                           {"2026-03-16", 4},
                                                           {"2026-03-26", 14},
                                                           {"2026-09-01", 173},
                                                           {"2026-03-06", -6}});
    CHECK(standing[1].is_past());
    CHECK_FALSE(standing.back().is_past());  // done
    CHECK(std::ranges::none_of(standing, &usecases::StandingDeadline::is_sale));
    const auto all = must(usecases::standing_deadlines(s.book, std::nullopt, on("2026-03-12")));
    CHECK(all.size() == standing.size());
    CHECK(all.front().title == "River landscape");
}
