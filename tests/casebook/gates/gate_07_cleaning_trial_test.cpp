#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

Act trial(PaperCase& paper) {
    return paper.act("trial", FieldValues()
                                  .record("face_frame", paper.recto)
                                  .region("region", rectangle(10, 10, 20, 20))
                                  .text("passage", "sky, light")
                                  .text("layer", "varnish")
                                  .text("agent", "ethanol 20, isooctane 80"));
}

void photograph_both_sides(PaperCase& paper) {
    paper.photograph("recto", "normal", "as-received");
    paper.photograph("verso", "normal", "unframed");
}

void meet_everything(PaperCase& paper) {
    photograph_both_sides(paper);
    paper.survey("recto", FieldValues().text("loose_paint", "none-found"));
    for (const char* face : {"verso", "edge-top", "edge-right", "edge-bottom"}) paper.survey(face);
    paper.survey("edge-left", FieldValues().text("not_possible_because", "frame not yet opened"));
    paper.photograph("recto", "raking", "as-received");
    paper.photograph("recto", "ultraviolet", "as-received");
    paper.patch(paper.photograph("recto", "normal", "trials"), "has_chart", true);
}

}  // namespace

TEST_CASE("Gate 7 is closed without both sides as found and without a word on loose paint") {
    PaperCase paper;
    const GateAnswer answer = ask_gate(7, paper.snapshot, trial(paper));
    CHECK(answer.state() == GateState::closed);
    CHECK(missing(answer, true) == Codes{"7.loose-paint", "7.recto-as-found", "7.verso-as-found"});
    CHECK(missing(answer, false) == Codes{"7.raking", "7.ultraviolet", "7.colour-chart", "7.full-survey"});
}

TEST_CASE("Gate 7 warns of what is wanted and opens when all of it is there") {
    PaperCase paper;
    photograph_both_sides(paper);
    paper.survey("recto", FieldValues().text("loose_paint", "none-found"));
    CHECK(ask_gate(7, paper.snapshot, trial(paper)).state() == GateState::warn);

    PaperCase whole;
    meet_everything(whole);
    CHECK(ask_gate(7, whole.snapshot, trial(whole)).state() == GateState::open);
}

TEST_CASE("Gate 7 does not take a picture in other light, of a later state, or without a scale") {
    PaperCase paper;
    meet_everything(paper);
    for (Record& record : paper.snapshot.records) {
        if (record.kind != "photograph" || record.body.text("face") != "verso") continue;
        const nlohmann::json before = record.body.as_json();
        for (const auto& [field, value] : {std::pair<const char*, nlohmann::json>{"light", "raking"},
                                           {"stage", "cleaned"},
                                           {"stage", "saleroom"},
                                           {"has_scale", false}}) {
            nlohmann::json changed = before;
            changed[field] = value;
            record.body = Body(changed);
            CAPTURE(field);
            CHECK(missing(ask_gate(7, paper.snapshot, trial(paper)), true) == Codes{"7.verso-as-found"});
        }
        record.body = Body(before);
    }
}

TEST_CASE("Gate 7 wants a map behind the word mapped, and the newest survey counts") {
    PaperCase paper;
    meet_everything(paper);
    paper.survey("recto", FieldValues().text("loose_paint", "mapped"), "2026-03-05");
    CHECK(missing(ask_gate(7, paper.snapshot, trial(paper)), true) == Codes{"7.loose-paint"});
    paper.add("finding", FieldValues().text("layer", "paint").text("term", "flaking"));  // nobody said where
    CHECK(missing(ask_gate(7, paper.snapshot, trial(paper)), true) == Codes{"7.loose-paint"});
    paper.finding(paper.recto, rectangle(300, 300, 10, 10), "flaking", true);
    CHECK(ask_gate(7, paper.snapshot, trial(paper)).state() == GateState::open);
    paper.survey("recto", FieldValues().text("loose_paint", "not-looked"), "2026-03-06");
    CHECK(missing(ask_gate(7, paper.snapshot, trial(paper)), true) == Codes{"7.loose-paint"});
}

TEST_CASE("Gate 7 believes no survey of a day to come before one that was made") {
    PaperCase paper;
    meet_everything(paper);
    paper.survey("recto", FieldValues().text("loose_paint", "none-found"), "2099-01-01");
    paper.written += std::chrono::days(30);
    paper.survey("recto", FieldValues().text("loose_paint", "not-looked"), "2026-04-01");
    CHECK(missing(ask_gate(7, paper.snapshot, trial(paper)), true) == Codes{"7.loose-paint"});
}

TEST_CASE("A named person's reason answers a warning once for the picture, and a closed requirement for its act only") {
    PaperCase paper;
    photograph_both_sides(paper);
    paper.survey("recto", FieldValues().text("loose_paint", "none-found"));
    const Uuid no_lamp = paper.override_gate(7, "7.ultraviolet", Act{}, true);
    const GateAnswer answer = ask_gate(7, paper.snapshot, trial(paper));
    CHECK(missing(answer, false) == Codes{"7.raking", "7.colour-chart", "7.full-survey"});
    const auto lamp = std::ranges::find(answer.missing, "7.ultraviolet", &Requirement::code);
    REQUIRE(lamp != answer.missing.end());
    CHECK(lamp->overridden_by == no_lamp);

    PaperCase bare;
    bare.survey("recto", FieldValues().text("loose_paint", "none-found"));
    bare.photograph("recto", "normal", "as-received");
    const Act act = trial(bare);
    bare.override_gate(7, "7.verso-as-found", Act{}, true);  // not one that may be answered once for all
    CHECK(ask_gate(7, bare.snapshot, act).state() == GateState::closed);
    // No reason, no override: as it may come from a book of another program.
    bare.patch(bare.override_gate(7, "7.verso-as-found", act, false), "reason", "  ");
    CHECK(ask_gate(7, bare.snapshot, act).state() == GateState::closed);
    bare.override_gate(7, "7.verso-as-found", act, false, "fixed to the wall until Monday");
    CHECK(ask_gate(7, bare.snapshot, act).state() == GateState::warn);
    CHECK(ask_gate(7, bare.snapshot, trial(bare)).state() == GateState::closed);  // another act
}
