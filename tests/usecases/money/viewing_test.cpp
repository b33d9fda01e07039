#include "tedge/usecases/viewing.hpp"

#include <catch2/catch.hpp>

#include "bought_picture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using casebook::FieldValues;
using nlohmann::json;

namespace {

constexpr std::string_view unseen_plan = R"({"currency": "GBP", "sale": {"premium": [{"percent": 25}]},
 "costs": [{"name": "lining", "amount": [400, 500, 800]}, {"name": "stronger bars", "treatment": "stretcher", "amount": 300},
           {"name": "frame", "amount": 0}],
 "outcomes": [{"name": "by the master", "probability": 0.4, "price": 20000},
              {"name": "no name", "remainder": true, "price": 900}, {"name": "studio", "probability": 0.3, "price": 7000}],
 "conditions": [{"name": "sound", "probability": 0.7}, {"name": "skinned", "probability": 0.3, "price_factor": 0.5}],
 "target": {"profit": 1000}})";

std::vector<usecases::Known> all_seen_but(BoughtPicture& b, const std::vector<std::string>& unseen) {
    auto known = usecases::what_was_seen(b.snapshot());
    for (usecases::Known& one : known) {
        const bool is_unseen = std::ranges::find(unseen, one.question.path) != unseen.end();
        one.answer = is_unseen ? "not-seen" : "yes";
        one.why = is_unseen ? "framed" : "";
    }
    return known;
}

}  // namespace

TEST_CASE("the brief asks every question by a number, and says nothing of ours") {
    BoughtPicture b;
    b.fixed();
    b.add("lot", FieldValues()
                     .text("saleroom", "Thistlewick & Drum")
                     .text("lot_number", "118")
                     .text("catalogue_attribution", "Dutch school")
                     .money("estimate_low", pounds(77'700)));
    const auto brief = usecases::viewing_brief(b.snapshot());
    CHECK(brief.questions.size() == casebook::parts_asked("viewing_note", "answers").size());
    CHECK(brief.questions[0].number == 1);
    CHECK(brief.questions[0].path == "answers/lined");
    const std::string text = usecases::brief_text(brief);
    for (const auto& question : brief.questions) {
        CHECK(text.find(std::to_string(question.number) + ". " + question.text + "?") != std::string::npos);
    }
    CHECK(text.find("Thistlewick & Drum, lot 118") != std::string::npos);
    CHECK(text.find("610 x 812 mm") != std::string::npos);
    CHECK(text.find("who asked you to look, who pays you") != std::string::npos);
    for (const char* ours : {"8500", "8,500", "777", "4000", "seen twice"}) CHECK(text.find(ours) == std::string::npos);
    CHECK(std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x80; }));
}

TEST_CASE("the brief tells the sale by the clocks of its place, and names their zone") {
    BoughtPicture b;
    const auto begins = [&](const FieldValues& lot) {
        b.add("lot", lot);
        const auto facts = usecases::viewing_brief(b.snapshot()).facts;
        const auto found =
            std::ranges::find_if(facts, [](const std::string& f) { return f.starts_with("Sale begins"); });
        return found != facts.end() ? *found : std::string();
    };
    // British summer time is an hour ahead of UTC from the last Sunday of March (2000/84/EC; SI 2002/262).
    CHECK(begins(FieldValues().text("sale_at", "2026-07-05T13:30:00Z").text("sale_zone", "Europe/London")) ==
          "Sale begins 5 July 2026, 14:30 Europe/London (BST)");
    CHECK(begins(FieldValues().text("sale_at", "2026-07-05T23:30:00Z").text("sale_zone", "Europe/Paris")) ==
          "Sale begins 6 July 2026, 01:30 Europe/Paris (CEST)");
    CHECK(begins(FieldValues().text("sale_at", "2026-07-05T13:30:00Z")) ==
          "Sale begins 5 July 2026, 13:30 Etc/UTC (UTC)");
    CHECK(begins(FieldValues().text("lot_number", "9")).empty());
}

TEST_CASE("the brief is one page and a text beside it, and writes over nothing") {
    BoughtPicture b;
    b.add("lot", FieldValues().text("saleroom", "Thistlewick & Drum").text("lot_number", "118"));
    const auto files = must(usecases::write_brief(b.book, b.case_id, b.folder / "brief", b.clock.now()));
    CHECK(files.pages == 1);
    CHECK(must(read_file(files.pdf)).starts_with("%PDF-"));
    CHECK(must(read_file(files.text)).starts_with("Viewing: River landscape\n"));
    CHECK(usecases::write_brief(b.book, b.case_id, b.folder / "brief", b.clock.now()).error().code == "viewing.exists");
}

TEST_CASE("answers are read as people write them, and what is not understood is handed back") {
    const auto read = usecases::read_answers(
        "1 yes\n2. No; 3: n\n4 NOT SEEN, framed: it hangs high\n5 y\n\nhello\n 6 perhaps\n"
        "99 yes\n0 no\n7 ns\n1 no - glue on the back\n8 nothing\n9 not seen refused");
    REQUIRE(read.answers.size() == 7);
    const auto answer = [&](std::string_view path) {
        return *std::ranges::find(read.answers, path, &usecases::ViewingAnswer::path);
    };
    CHECK(answer("answers/lined").answer == "no");  // said again: the last counts
    CHECK(answer("answers/lined").note == "glue on the back");
    CHECK(answer("answers/slack-canvas").answer == "no");
    CHECK(answer("answers/tear").answer == "no");
    CHECK(answer("answers/patch").answer == "not-seen");
    CHECK(answer("answers/patch").why == "framed");
    CHECK(answer("answers/patch").note == "it hangs high");
    CHECK(answer("answers/keys").answer == "yes");
    CHECK(answer("answers/yellow-varnish").answer == "not-seen");
    CHECK(answer("answers/yellow-varnish").why.empty());
    CHECK(answer("answers/signature").why == "refused");
    CHECK(read.not_understood == std::vector<std::string>{"hello", "6 perhaps", "99 yes", "0 no", "8 nothing"});
    CHECK(usecases::read_answers("").answers.empty());
}

TEST_CASE("a message becomes a viewing note; what one viewer saw stays seen") {
    BoughtPicture b;
    const auto taken =
        must(usecases::take_in_answers(b.acting, b.case_id, "1 yes\n2 not seen sealed", b.acting.author, "2026-03-02"));
    const auto note = b.book.record(taken.done.record).value();
    CHECK(note.body.text_or("answers/lined/answer") == "yes");
    CHECK(note.body.text_or("answers/slack-canvas/why") == "sealed");
    CHECK(note.body.text_or("text") == "1 yes\n2 not seen sealed");
    b.clock.advance(std::chrono::seconds(1));
    must(usecases::take_in_answers(b.acting, b.case_id, "1 not seen; 2 no"));
    const auto known = usecases::what_was_seen(b.snapshot());
    CHECK(known[0].answer == "yes");
    CHECK(known[1].answer == "no");
    CHECK(known[1].why.empty());
    CHECK(known[2].answer.empty());
    CHECK(usecases::take_in_answers(b.acting, b.case_id, "lovely picture").error().code == "viewing.no-answers");
    // a reason goes with not seen alone
    CHECK(usecases::add_record(b.acting, b.case_id, "viewing_note",
                               FieldValues().value("answers/lined", {{"answer", "yes"}, {"why", "framed"}}))
              .error()
              .code == "casebook.bad-field");
}

TEST_CASE("what nobody has seen widens costs and chances, and says why") {
    BoughtPicture b;
    const auto nothing = must(usecases::widened_plan(unseen_plan, all_seen_but(b, {})));
    CHECK(nothing.widened.empty());
    CHECK(nothing.plan == unseen_plan);

    const auto wider = must(usecases::widened_plan(
        unseen_plan, all_seen_but(b, {"answers/lined", "answers/slack-canvas", "answers/keys", "answers/loose-paint",
                                      "answers/signature-under-varnish", "answers/repaint"})));
    const json plan = json::parse(wider.plan);
    CHECK(plan["costs"][0]["amount"] == json::array({400.0, 500.0, 1200.0}));  // the larger factor, 1.5, alone
    CHECK(plan["costs"][1]["amount"] == json::array({300.0, 300.0, 450.0}));
    CHECK(plan["costs"][2]["amount"] == 0);
    CHECK(plan["outcomes"][0]["probability"] == 0.36);  // a tenth of it goes to the cheapest
    CHECK(plan["outcomes"][2]["probability"] == 0.27);
    CHECK(plan["outcomes"][1]["probability"] == 0.37);
    CHECK(plan["conditions"][0]["probability"] == 0.63);
    CHECK(plan["conditions"][1]["probability"] == 0.37);
    CHECK(wider.widened.size() == 7);
    CHECK(wider.widened[0].field == "costs[0].amount");
    CHECK(wider.widened[0].before == "800.00");
    CHECK(wider.widened[0].after == "1200.00");
    CHECK(wider.widened[0].because == "Not seen: lined before (framed); canvas slack or bulging (framed).");
    REQUIRE(wider.not_in_plan.size() == 2);  // no consolidation, no filling in this plan
    CHECK(wider.not_in_plan[0].find("consolidation") != std::string::npos);

    // never cheaper, never likelier to be better: the limit falls
    const auto limit = [](const std::string& text) {
        return must(money::solve_ceiling(must(money::parse_ceiling_plan(text)))).target->hammer.minor;
    };
    CHECK(limit(wider.plan) < limit(std::string(unseen_plan)));
    CHECK(usecases::widened_plan("{}", all_seen_but(b, {})).error().code == "plan.missing-field");
}

TEST_CASE("a picture nobody has asked about is widened as if nothing was seen") {
    BoughtPicture b;
    const auto wider = must(usecases::widened_plan(unseen_plan, usecases::what_was_seen(b.snapshot())));
    CHECK(wider.widened[0].because.find("lined before (nobody was asked)") != std::string::npos);
    CHECK(money::parse_ceiling_plan(wider.plan));
}
