#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

Act lining(PaperCase& paper) {
    return paper.act("structure_step", FieldValues()
                                           .text("act", "lining")
                                           .flag("owner_agreed", true)
                                           .text("alternatives", "strip-lining: the canvas is too weak for it")
                                           .text("test_strip", "no shrinking after a day"));
}

void record_back(PaperCase& paper, std::string_view answer = "none-found") {
    paper.survey("verso", FieldValues()
                              .text("inscriptions", answer)
                              .text("stamps", answer)
                              .text("labels", answer)
                              .text("nail_holes", "recorded")
                              .text("transmitted_light", "opaque"));
    for (const char* edge : {"edge-top", "edge-right", "edge-bottom"}) paper.photograph(edge, "normal", "unframed");
    paper.survey("edge-left");
    paper.add("measurement",
              FieldValues().text("what", "thread count, warp").number("value", 12.4).text("unit", "threads/cm"));
}

Uuid inscription(PaperCase& paper, std::string_view sort, const Uuid& frame, std::string_view words) {
    FieldValues values = FieldValues().record("face_frame", frame).text("kind", sort);
    if (!words.empty()) values.text("transcription", words);
    return paper.add("inscription", values);
}

}  // namespace

TEST_CASE("Gate 16 is closed until the back, the edges and the nail holes are recorded and the owner agrees") {
    PaperCase paper;
    const Act bare = paper.act("structure_step", FieldValues().text("act", "lining"));
    const GateAnswer answer = ask_gate(16, paper.snapshot, bare);
    CHECK(answer.state() == GateState::closed);
    CHECK(missing(answer, true) == Codes{"16.inscriptions", "16.stamps", "16.labels", "16.edges", "16.nail-holes",
                                         "16.owner-agrees", "16.alternatives"});
    CHECK(missing(answer, false) == Codes{"16.transmitted-light", "16.thread-count", "16.test-strip"});
    record_back(paper);
    CHECK(ask_gate(16, paper.snapshot, lining(paper)).state() == GateState::open);
}

TEST_CASE("Gate 16: illegible is an answer, recorded needs the record, not looked closes it again") {
    for (const auto& [given, state] : {std::pair{"illegible", GateState::open},
                                       {"none-found", GateState::open},
                                       {"recorded", GateState::closed},
                                       {"not-looked", GateState::closed}}) {
        PaperCase paper;
        record_back(paper, given);
        CAPTURE(given);
        CHECK(ask_gate(16, paper.snapshot, lining(paper)).state() == state);
    }
    PaperCase paper;
    record_back(paper, "recorded");
    inscription(paper, "inscription", paper.recto, "words on the front");  // not what gets covered
    CHECK(missing(ask_gate(16, paper.snapshot, lining(paper)), true) ==
          Codes{"16.inscriptions", "16.stamps", "16.labels"});
    inscription(paper, "chalk-mark", paper.verso, "47");
    inscription(paper, "label", paper.frame("frame-back"), "");  // named, but nothing of it is kept
    const Uuid stamp = inscription(paper, "stamp", paper.verso, "");
    paper.patch(stamp, "reading", "illegible");
    CHECK(missing(ask_gate(16, paper.snapshot, lining(paper)), true) == Codes{"16.labels"});
}

TEST_CASE("Gate 16 names the edges that are missing") {
    PaperCase paper;
    record_back(paper);
    std::erase_if(paper.snapshot.records, [](const Record& r) { return r.body.text("face") == "edge-bottom"; });
    const GateAnswer answer = ask_gate(16, paper.snapshot, lining(paper));
    CHECK(answer.sentence() == "Edges without a record: bottom.");
}

TEST_CASE("Gate 16 warns of loose paint unless consolidating it is part of the work") {
    PaperCase paper;
    record_back(paper);
    paper.finding(paper.recto, rectangle(10, 10, 30, 30), "flaking", true);
    Act act = lining(paper);
    CHECK(missing(ask_gate(16, paper.snapshot, act), false) == Codes{"16.consolidation"});
    nlohmann::json fields = act.fields.as_json();
    fields["consolidation_included"] = true;
    act.fields = Body(fields);
    CHECK(ask_gate(16, paper.snapshot, act).state() == GateState::open);
}

TEST_CASE("Gate 16 stands before every way of covering the back, and before nothing else") {
    PaperCase paper;
    for (const auto& [act, guarded] :
         {std::pair{"lining", true}, {"loose-lining", true}, {"patch", true}, {"stretcher", false}, {"other", false}}) {
        CAPTURE(act);
        const auto gates = gates_before(paper.act("structure_step", FieldValues().text("act", act)));
        CHECK(gates == (guarded ? std::vector<int>{16} : std::vector<int>{}));
    }
}
