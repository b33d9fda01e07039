#include "paper_case.hpp"
#include "tedge/casebook/findings.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

Act trial_at(PaperCase& paper, const Region& region, const Uuid& frame) {
    return paper.act("trial", FieldValues()
                                  .record("face_frame", frame)
                                  .region("region", region)
                                  .text("passage", "sky")
                                  .text("layer", "varnish")
                                  .text("agent", "acetone 20, white spirit 80"));
}

GateState state_at(PaperCase& paper, const Region& region) {
    return ask_gate(8, paper.snapshot, trial_at(paper, region, paper.recto)).state();
}

}  // namespace

TEST_CASE("Gate 8 keeps a trial clear of unstable paint by the margin in millimetres") {
    PaperCase paper;
    paper.finding(paper.recto, rectangle(100, 100, 50, 50), "flaking", true);
    CHECK(state_at(paper, rectangle(120, 120, 10, 10)) == GateState::closed);    // inside
    CHECK(state_at(paper, rectangle(154.9, 100, 10, 10)) == GateState::closed);  // 4.9 mm beside it
    CHECK(state_at(paper, rectangle(155.1, 100, 10, 10)) == GateState::open);    // 5.1 mm
    Act wide = trial_at(paper, rectangle(155.1, 100, 10, 10), paper.recto);
    wide.margin_mm = 10.0;
    const GateAnswer answer = ask_gate(8, paper.snapshot, wide);
    CHECK(answer.sentence() == "The place lies within 10 mm of unstable paint (flaking).");
    CHECK(missing(answer, true) == Codes{"8.unstable-paint"});
}

TEST_CASE("Gate 8 takes flaking for unstable unless somebody said that it is firm") {
    for (const auto& [term, is_loose] : {std::pair{"Flaking along the edge", true}, std::pair{"lifting paint", true},
                                         std::pair{"retouching", false}, std::pair{"loss", false}}) {
        CAPTURE(term);
        PaperCase paper;
        const auto said_nothing = FieldValues()
                                      .record("face_frame", paper.recto)
                                      .region("region", rectangle(100, 100, 50, 50))
                                      .text("layer", "paint")
                                      .text("term", term);
        const Uuid finding = paper.add("finding", said_nothing);
        CHECK((state_at(paper, rectangle(120, 120, 10, 10)) == GateState::closed) == is_loose);
        paper.patch(finding, "unstable", false);
        CHECK(state_at(paper, rectangle(120, 120, 10, 10)) != GateState::closed);  // of retouching it still warns
    }
}

TEST_CASE("Gate 8 lets consolidated paint pass, and only the part that was consolidated afterwards") {
    PaperCase paper;
    const Uuid flaking = paper.finding(paper.recto, rectangle(100, 100, 50, 50), "flaking", true);
    const Uuid consolidation = paper.add("treatment_step", FieldValues()
                                                               .text("act", "consolidation")
                                                               .record("face_frame", paper.recto)
                                                               .region("region", rectangle(90, 90, 35, 70))
                                                               .text("done_on", "2026-03-04"));
    CHECK(state_at(paper, rectangle(105, 110, 10, 10)) == GateState::open);    // left half: 10 mm from the rest
    CHECK(state_at(paper, rectangle(130, 110, 10, 10)) == GateState::closed);  // right half
    paper.patch(consolidation, "done_on", "2025-11-01");                       // before it was found loose
    CHECK(state_at(paper, rectangle(105, 110, 10, 10)) == GateState::closed);
    paper.patch(consolidation, "done_on", "2026-03-04");
    paper.patch(consolidation, "planned", true);
    CHECK(state_at(paper, rectangle(105, 110, 10, 10)) == GateState::closed);
    // A day that lay ahead when it was written is a plan, said so or not.
    paper.patch(consolidation, "planned", false);
    paper.patch(consolidation, "done_on", "2099-01-01");
    CHECK(state_at(paper, rectangle(105, 110, 10, 10)) == GateState::closed);
    paper.patch(flaking, "consolidated_on", "2099-01-01");
    CHECK(state_at(paper, rectangle(130, 110, 10, 10)) == GateState::closed);
    paper.patch(flaking, "consolidated_on", "2026-03-04");
    CHECK(state_at(paper, rectangle(130, 110, 10, 10)) == GateState::open);
}

TEST_CASE("A finding that treatments cover wholly is consolidated, on the day of the last that met it") {
    PaperCase paper;
    const Uuid flaking = paper.finding(paper.recto, rectangle(100, 100, 50, 50), "flaking", true);
    const auto consolidate = [&](const Region& region, const char* day) {
        return paper.add("treatment_step", FieldValues()
                                               .text("act", "consolidation")
                                               .record("face_frame", paper.recto)
                                               .region("region", region)
                                               .text("done_on", day));
    };
    const auto day = [&] { return consolidated_on(paper.snapshot, *paper.snapshot.find(flaking)); };
    const auto is_open = [&] { return is_open_danger(paper.snapshot, *paper.snapshot.find(flaking)); };
    consolidate(rectangle(300, 300, 20, 20), "2026-03-05");  // elsewhere
    CHECK(is_open());
    consolidate(rectangle(90, 90, 35, 70), "2026-03-04");
    CHECK(day().empty());
    CHECK(is_open());  // the right half
    const Uuid rest = consolidate(rectangle(120, 90, 40, 70), "2026-03-04");
    CHECK(day() == "2026-03-04");
    CHECK_FALSE(is_open());
    paper.patch(rest, "planned", true);
    CHECK(is_open());
}

TEST_CASE("Gate 8 sees loose paint recorded in an older frame of the face, and a place on the verso from the front") {
    PaperCase paper;
    // After lining the canvas lies 12 mm further right: a new epoch.
    Placement moved;
    moved.face_from_photo = Homography::translation(12, 0);
    const Uuid lined = paper.add("face_frame", FieldValues()
                                                   .text("face", "recto")
                                                   .number("width_mm", 824)
                                                   .number("height_mm", 600)
                                                   .text("epoch_from", "2026-06-01")
                                                   .record("older", paper.recto)
                                                   .placement("new_from_old", moved));
    paper.finding(paper.recto, rectangle(100, 100, 50, 50), "cupping", true);
    const auto state = [&](double x) {
        return ask_gate(8, paper.snapshot, trial_at(paper, rectangle(x, 110, 5, 5), lined)).state();
    };
    CHECK(state(102) == GateState::closed);  // old 90: 5 mm from the loose paint
    CHECK(state(101) == GateState::open);    // old 89..94: 6 mm
    CHECK(state(166) == GateState::closed);  // old 154: 4 mm
    CHECK(state(168) == GateState::open);    // old 156: 6 mm

    PaperCase back;
    back.finding(back.verso, rectangle(0, 0, 20, 20), "ground loss", true, "ground");
    CHECK(state_at(back, rectangle(785, 5, 5, 5)) == GateState::closed);  // x_recto = 800 - x_verso
    CHECK(state_at(back, rectangle(5, 5, 5, 5)) == GateState::open);
}

TEST_CASE("Gate 8 is closed where unstable paint cannot be compared, and where no place is given") {
    PaperCase paper;
    const Uuid lost_frame = paper.frame("recto", "2020-01-01");
    paper.finding(lost_frame, rectangle(700, 500, 10, 10), "flaking", true);
    CHECK(missing(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(10, 10, 5, 5), paper.recto)), true) ==
          Codes{"8.not-comparable"});
    Act nowhere;
    nowhere.kind = "trial";
    CHECK(missing(ask_gate(8, paper.snapshot, nowhere), true) == Codes{"8.place"});
}

TEST_CASE("Gate 8 is not opened by a frame that is not in the case: neither the trial's nor that of the loose paint") {
    PaperCase paper;
    const Uuid gone = paper.ids.next();
    CHECK(missing(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(10, 10, 5, 5), gone)), true) ==
          Codes{"8.place"});
    paper.finding(gone, rectangle(10, 10, 5, 5), "flaking", true);
    CHECK(missing(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(10, 10, 5, 5), paper.recto)), true) ==
          Codes{"8.not-comparable"});
}

TEST_CASE("Gate 8 is closed for a place off the picture") {
    PaperCase paper;
    CHECK(missing(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(-20, -20, 5, 5), paper.recto)), true) ==
          Codes{"8.off-the-face"});
    CHECK(missing(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(-20, 10, 25, 5), paper.recto)), true).empty());
}

TEST_CASE("Gate 8 warns on overpaint, fillings, water-sensitive passages, torn canvas and the signature") {
    const auto warning_for = [](auto prepare) {
        PaperCase paper;
        prepare(paper);
        const GateAnswer answer =
            ask_gate(8, paper.snapshot, trial_at(paper, rectangle(100, 100, 10, 10), paper.recto));
        CHECK(answer.state() == GateState::warn);
        CHECK(ask_gate(8, paper.snapshot, trial_at(paper, rectangle(300, 300, 10, 10), paper.recto)).state() ==
              GateState::open);
        return missing(answer, false);
    };
    const Region there = rectangle(90, 90, 30, 30);
    for (const char* term : {"overpaint", "old Filling", "discoloured retouching"}) {
        CHECK(warning_for([&](PaperCase& p) { p.finding(p.recto, there, term, false); }) == Codes{"8.later-material"});
    }
    CHECK(warning_for([&](PaperCase& p) {
              p.patch(p.finding(p.recto, there, "chalk ground", false, "ground"), "water_sensitive", true);
          }) == Codes{"8.later-material"});
    CHECK(warning_for([&](PaperCase& p) { p.finding(p.recto, there, "tear", true, "support"); }) ==
          Codes{"8.unstable-support"});
    CHECK(warning_for([&](PaperCase& p) {
              p.add("inscription",
                    FieldValues().record("face_frame", p.recto).region("region", there).text("kind", "signature"));
          }) == Codes{"8.signature"});
}
