#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

FieldValues facing(const PaperCase& paper, const Region& zone) {
    return FieldValues().record("face_frame", paper.recto).region("region", zone);
}

FieldValues complete(const PaperCase& paper, const Region& zone) {
    return facing(paper, zone)
        .text("tissue", "thin Japanese paper")
        .text("adhesive", "sturgeon glue, 3 %")
        .flag("tried_there", true)
        .record("tried_by", paper.author)
        .text("comes_off_with", "lukewarm water");
}

}  // namespace

TEST_CASE("Gate 4 is closed until the zone is photographed and the facing is described and tried") {
    PaperCase paper;
    const Region zone = rectangle(100, 100, 50, 50);
    const GateAnswer bare = ask_gate(4, paper.snapshot, paper.act("facing", facing(paper, zone)));
    CHECK(bare.state() == GateState::closed);
    CHECK(missing(bare, true) ==
          Codes{"4.photographed-first", "4.tissue", "4.adhesive", "4.tried-there", "4.comes-off"});
    CHECK(bare.sentence() == "The zone has not been photographed before it is covered.");

    paper.photograph("recto", "normal", "before-facing");
    const GateAnswer whole = ask_gate(4, paper.snapshot, paper.act("facing", complete(paper, zone)));
    CHECK(whole.state() == GateState::open);
    CHECK(whole.sentence().empty());
}

TEST_CASE("Gate 4 takes no photograph of the other side, of a later moment, or of another part") {
    PaperCase paper;
    const Region zone = rectangle(700, 100, 50, 50);
    const auto is_open = [&] {
        return ask_gate(4, paper.snapshot, paper.act("facing", complete(paper, zone))).state() == GateState::open;
    };
    paper.photograph("verso", "normal", "before-facing");
    paper.photograph("recto", "normal", "faced");
    CHECK_FALSE(is_open());

    // A detail of the left half, 4000 × 3000 px at 10 px/mm: it ends at x = 400 mm.
    const Uuid detail = paper.photograph("recto", "normal", "before-facing");
    paper.patch(detail, "width_px", 4000);
    paper.patch(detail, "height_px", 3000);
    paper.patch(detail, "face_frame", to_text(paper.recto));
    const Placement placement = placement_filling({4000, 3000}, {400, 300});
    paper.patch(detail, "face_from_photo", FieldValues().placement("p", placement).set_values().at("p"));
    CHECK_FALSE(is_open());
    const Region inside = rectangle(350, 100, 50, 50);
    CHECK(ask_gate(4, paper.snapshot, paper.act("facing", complete(paper, inside))).state() == GateState::open);
}

TEST_CASE("Gate 4 asks who tried tissue and adhesive, not only whether") {
    PaperCase paper;
    paper.photograph("recto", "normal", "as-received");
    const Region zone = rectangle(100, 100, 50, 50);
    Act act = paper.act("facing", complete(paper, zone));
    nlohmann::json fields = act.fields.as_json();
    fields.erase("tried_by");
    act.fields = Body(fields);
    CHECK(missing(ask_gate(4, paper.snapshot, act), true) == Codes{"4.tried-there"});
}
