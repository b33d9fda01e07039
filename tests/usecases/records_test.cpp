#include "tedge/usecases/records.hpp"

#include <nlohmann/json.hpp>

#include "kept_file.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;
using casebook::Record;

namespace {

FieldValues trial_at(UsecaseBook& shop, const Region& place) {
    return FieldValues()
        .record("face_frame", shop.recto())
        .region("region", place)
        .text("passage", "sky")
        .text("layer", "varnish")
        .text("agent", "acetone 30, isooctane 70");
}

void photograph_as_found(UsecaseBook& shop, std::string_view face) {
    shop.add("photograph", FieldValues()
                               .text("face", face)
                               .text("light", "normal")
                               .text("stage", "as-received")
                               .text("sha256", kept_file(shop.book, face))
                               .flag("has_scale", true));
}

// Everything gate 7 asks for: as found, both faces, loose paint looked for.
void survey(UsecaseBook& shop, std::string_view loose_paint) {
    for (const char* face : {"recto", "verso"}) photograph_as_found(shop, face);
    shop.add("survey", FieldValues()
                           .text("surveyed_on", "2026-03-03")
                           .text("face", "recto")
                           .text("condition", "fair")
                           .text("loose_paint", loose_paint));
}

}  // namespace

TEST_CASE("A trial is refused until the picture is recorded as found, and nothing of it is written") {
    UsecaseBook shop;
    const auto refused = add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(20, 20, 10)));
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "gate.closed");
    CHECK(refused.error().values.at("gate") == "7");
    CHECK_FALSE(refused.error().next.empty());
    CHECK(shop.count("trial") == 0);
    survey(shop, "none-found");
    CHECK(add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(20, 20, 10))));
    CHECK(shop.count("trial") == 1);
}

TEST_CASE("A trial within the margin of flaking paint is refused, outside of it not") {
    UsecaseBook shop;
    survey(shop, "mapped");
    shop.add("finding", FieldValues()
                            .record("face_frame", shop.recto())
                            .region("region", square(100, 100, 40))
                            .text("layer", "paint")
                            .text("term", "flaking")
                            .flag("unstable", true));
    const auto near = add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(143, 110, 10)));
    REQUIRE_FALSE(near);
    CHECK(near.error().values.at("requirement") == "8.unstable-paint");
    // The margin is 5 mm: common practice.
    CHECK(add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(145.5, 110, 10))));
}

TEST_CASE("What came of a trial is written down though loose paint was found there since; its place is asked again") {
    UsecaseBook shop;
    survey(shop, "none-found");
    const Uuid trial = must(add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(20, 20, 10)))).record;
    for (const double x : {20.0, 200.0}) {
        shop.add("finding", FieldValues()
                                .record("face_frame", shop.recto())
                                .region("region", square(x, 20, 10))
                                .text("layer", "paint")
                                .text("term", "flaking"));
    }
    const auto outcome = FieldValues().text("verdict", "stop").text("swab_answer", "original-paint");
    CHECK(must(gates_before_change(shop.book, trial, outcome)).empty());
    CHECK(change_record(shop.acting, trial, outcome));
    const auto moved = FieldValues().region("region", square(200, 20, 10));
    CHECK(change_record(shop.acting, trial, moved).error().values.at("requirement") == "8.unstable-paint");
    CHECK_FALSE(must(gates_before_change(shop.book, trial, moved)).empty());
    CHECK(change_record(shop.acting, trial, FieldValues().region("region", square(400, 20, 10))));
}

TEST_CASE("What was removed comes back as it was; written into since, its gates are asked again") {
    UsecaseBook shop;
    survey(shop, "none-found");
    const Uuid trial = must(add_record(shop.acting, shop.case_id, "trial", trial_at(shop, square(20, 20, 10)))).record;
    shop.add("finding", FieldValues()
                            .record("face_frame", shop.recto())
                            .region("region", square(20, 20, 10))
                            .text("layer", "paint")
                            .text("term", "flaking"));
    must(remove_record(shop.acting, trial));
    REQUIRE(restore_record(shop.acting, trial));  // it was done, whatever was found there since
    CHECK(restore_record(shop.acting, trial).error().message.find("not removed") != std::string::npos);

    const Record as_it_stands = must(shop.book.record(trial));
    must(remove_record(shop.acting, trial));
    casebook::Edit unaware;  // somebody who had not heard of the removal moves it
    unaware.operation = casebook::Operation::patch;
    unaware.record = trial;
    unaware.values.region("region", square(25, 25, 10));
    FixedClock their_clock;
    CountingIds their_ids{77};
    auto theirs = must(casebook::Casebook::create(shop.folder / "theirs", {&their_clock, &their_ids}));
    must(theirs.merge_from(shop.book));
    must(take_back({theirs, must(theirs.person_named("Ute Hain")), their_clock}, [&] {
        casebook::Edit back;
        back.operation = casebook::Operation::restore;
        back.record = trial;
        return back;
    }()));
    must(theirs.commit(must(theirs.person_named("Ute Hain")), {unaware}));
    casebook::Edit removal;
    removal.operation = casebook::Operation::remove;
    removal.record = trial;
    removal.seen = as_it_stands.newest_changes;
    must(theirs.commit(must(theirs.person_named("Ute Hain")), {removal}));
    must(shop.book.merge_from(theirs));
    REQUIRE(must(shop.book.record(trial)).deleted);
    CHECK(restore_record(shop.acting, trial).error().values.at("requirement") == "8.unstable-paint");
}

TEST_CASE("Two who move a place apart contradict each other, and no place comes about that neither has drawn") {
    UsecaseBook shop;
    const Uuid verso =
        shop.add("face_frame", FieldValues().text("face", "verso").number("width_mm", 812).number("height_mm", 610));
    const Uuid finding = shop.add("finding", FieldValues()
                                                 .record("face_frame", shop.recto())
                                                 .region("region", square(20, 20, 10))
                                                 .text("layer", "paint")
                                                 .text("term", "loss"));
    FixedClock their_clock;
    CountingIds their_ids{78};
    auto theirs = must(casebook::Casebook::create(shop.folder / "theirs", {&their_clock, &their_ids}));
    must(theirs.merge_from(shop.book));
    must(change_record(shop.acting, finding, FieldValues().region("region", square(300, 20, 10))));
    must(change_record({theirs, must(theirs.person_named("Ute Hain")), their_clock}, finding,
                       FieldValues().record("face_frame", verso)));
    must(shop.book.merge_from(theirs));
    const auto conflicts = must(shop.book.conflicts());
    REQUIRE(conflicts.size() == 2);
    CHECK(conflicts[0].path == "face_frame");
    CHECK(conflicts[1].path == "region");
    const auto body = must(shop.book.record(finding)).body;
    const bool ours = body.record("face_frame") == shop.recto();
    CHECK(body.region("region")->bounds().min.x_mm == (ours ? 300 : 20));
}

TEST_CASE("A face keeps its name while anything stands on its millimetres, and no paint is consolidated tomorrow") {
    UsecaseBook shop;
    const Uuid recto = shop.recto();
    CHECK(change_record(shop.acting, recto, FieldValues().text("face", "verso")));
    CHECK(change_record(shop.acting, recto, FieldValues().text("face", "recto")));
    const auto flaking = FieldValues()
                             .record("face_frame", recto)
                             .region("region", square(20, 20, 10))
                             .text("layer", "paint")
                             .text("term", "flaking");
    const Uuid finding = must(add_record(shop.acting, shop.case_id, "finding", flaking)).record;
    CHECK(change_record(shop.acting, recto, FieldValues().text("face", "edge-left")).error().code == "face.stood-on");
    CHECK(remove_record(shop.acting, recto).error().code == "face.stood-on");
    CHECK(change_record(shop.acting, recto, FieldValues().number("width_mm", 815)));
    CHECK(
        change_record(shop.acting, recto, FieldValues().number("width_mm", 10).number("height_mm", 8)));  // folded over
    const auto small = FieldValues().number("width_mm", 5).number("height_mm", 5);
    must(add_record(shop.acting, shop.case_id, "finding", FieldValues(flaking).region("region", square(98, 20, 10))));
    CHECK(change_record(shop.acting, recto, small).error().code == "face.stood-on");
    CHECK(must(shop.book.check()).problems == std::vector<std::string>{});
    const auto ahead =
        FieldValues().text("consolidated_on", to_text(shop.clock.now() + std::chrono::days(3)).substr(0, 10));
    CHECK(change_record(shop.acting, finding, ahead).error().code == "casebook.bad-field");
    const auto today = FieldValues().text("consolidated_on", to_text(shop.clock.now()).substr(0, 10));
    CHECK(change_record(shop.acting, finding, today));

    // Nor does a treatment of a day to come open anything, unless it is said to be a plan.
    const auto step = FieldValues().text("act", "consolidation").text("done_on", "2099-01-01");
    CHECK(add_record(shop.acting, shop.case_id, "treatment_step", step).error().code == "casebook.bad-field");
    CHECK(add_record(shop.acting, shop.case_id, "treatment_step", FieldValues(step).flag("planned", true)));
}

TEST_CASE("What a file says, and what lets an act pass, is typed by nobody") {
    UsecaseBook shop;
    const auto refused = [&](std::string_view kind, const FieldValues& values) {
        const auto done = add_record(shop.acting, shop.case_id, kind, values);
        return done ? std::string() : done.error().code;
    };
    CHECK(refused("photograph", FieldValues()
                                    .text("face", "recto")
                                    .text("light", "normal")
                                    .text("stage", "as-received")
                                    .text("sha256", kept_file(shop.book))) == "photograph.facts-of-the-file");
    CHECK(refused("document", FieldValues().text("title", "Letter").text("sha256", std::string(64, 'a'))) ==
          "casebook.no-such-file");
    CHECK(refused("gate_override", FieldValues()
                                       .integer("gate", 7)
                                       .text("requirement", "7.raking")
                                       .text("reason", "no lamp here")
                                       .record("by", shop.acting.author)
                                       .text("on", "2026-01-01")
                                       .flag("whole_picture", true)) == "gate.through-the-gate");
    CHECK(shop.count("gate_override") == 0);
}

TEST_CASE("Every act is taken back by its inverse, and the inverse by its own") {
    UsecaseBook shop;
    const auto body = [&](const Uuid& id) { return must(shop.book.record(id)).body.as_json(); };
    const Done added = must(
        add_record(shop.acting, shop.case_id, "cost_line", FieldValues().text("name", "lining").text("note", "ask")));
    const Uuid line = added.record;
    const auto before = body(line);

    const Done changed =
        must(change_record(shop.acting, line, FieldValues().text("name", "lining on linen").unset("note")));
    CHECK(body(line) != before);
    const Done undone = must(take_back(shop.acting, changed.inverse));
    CHECK(body(line) == before);
    must(take_back(shop.acting, undone.inverse));
    CHECK(body(line)["name"] == "lining on linen");
    CHECK_FALSE(body(line).contains("note"));

    const Done removed = must(remove_record(shop.acting, line));
    CHECK(shop.count("cost_line") == 0);
    must(take_back(shop.acting, removed.inverse));
    CHECK(shop.count("cost_line") == 1);
    const Done gone = must(take_back(shop.acting, added.inverse));
    CHECK(shop.count("cost_line") == 0);
    must(take_back(shop.acting, gone.inverse));
    CHECK(shop.count("cost_line") == 1);
}

TEST_CASE("An act that fails half-way leaves nothing behind, inner acts included") {
    UsecaseBook shop;
    const auto changes = must(shop.book.check()).changes;
    const auto outcome = shop.book.in_one_act([&]() -> Expected<Uuid> {
        const auto first =
            must(add_record(shop.acting, shop.case_id, "cost_line", FieldValues().text("name", "frame")));
        CHECK(shop.count("cost_line") == 1);  // the act sees itself
        const auto wrong = add_record(shop.acting, shop.case_id, "cost_line", FieldValues().text("nonsense", "1"));
        if (!wrong) return pass_on(wrong);
        return first.record;
    });
    REQUIRE_FALSE(outcome);
    CHECK(shop.count("cost_line") == 0);
    const auto report = must(shop.book.check());
    CHECK(report.ok());
    CHECK(report.changes == changes);
}

TEST_CASE("A failed part that the act lives with takes back itself alone") {
    UsecaseBook shop;
    const auto outcome = shop.book.in_one_act([&]() -> Expected<Uuid> {
        const auto wrong =
            shop.book.commit(shop.acting.author, {[&] {
                                                      casebook::Edit edit;
                                                      edit.case_id = shop.case_id;
                                                      edit.kind = "cost_line";
                                                      edit.values.text("name", "written, then taken back");
                                                      return edit;
                                                  }(),
                                                  casebook::Edit{}});
        CHECK_FALSE(wrong);
        return must(add_record(shop.acting, shop.case_id, "cost_line", FieldValues().text("name", "kept"))).record;
    });
    REQUIRE(outcome);
    const auto snapshot = shop.snapshot();
    REQUIRE(snapshot.of_kind("cost_line").size() == 1);
    CHECK(snapshot.of_kind("cost_line").front()->body.text("name") == "kept");
    CHECK(must(shop.book.check()).ok());
}

TEST_CASE("While an act lasts no other program writes, so what its gate saw still holds") {
    UsecaseBook shop;
    auto other = must(casebook::Casebook::open(shop.folder / "book", {&shop.clock, &shop.ids}));
    const auto outcome = shop.book.in_one_act([&]() -> Expected<Uuid> {
        static_cast<void>(shop.count("finding"));
        casebook::Edit edit;
        edit.case_id = shop.case_id;
        edit.kind = "cost_line";
        edit.values.text("name", "from the other program");
        const auto refused = other.commit(shop.acting.author, {edit});
        CHECK_FALSE(refused);
        if (!refused) CHECK(refused.error().code == "casebook.busy");
        return shop.case_id;
    });
    CHECK(outcome);
    CHECK(shop.count("cost_line") == 0);
}

TEST_CASE("A change that carries what its author saw becomes a conflict with what came in between") {
    UsecaseBook shop;
    const Uuid note = shop.add("viewing_note", FieldValues().text("text", "thin in the sky"));
    const std::vector<Uuid> seen = shop.book.record(note)->newest_changes;
    REQUIRE(usecases::change_record(shop.acting, note, FieldValues().text("text", "thin everywhere")));
    SECTION("told as a conflict when it says so") {
        REQUIRE(usecases::change_record(shop.acting, note, FieldValues().text("text", "sound"), {}, seen));
        const auto conflicts = shop.book.conflicts().value();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts.front().record == note);
        CHECK(conflicts.front().path == "text");
        CHECK(shop.book.record(note)->body.text("text") == "sound");
    }
    SECTION("another field of the same record is none") {
        REQUIRE(usecases::change_record(shop.acting, note, FieldValues().text("quality", "uneven"), {}, seen));
        CHECK(shop.book.conflicts()->empty());
        CHECK(shop.book.record(note)->body.text("text") == "thin everywhere");
    }
    SECTION("a removal of what was changed meanwhile is one") {
        REQUIRE(usecases::remove_record(shop.acting, note, {}, seen));
        CHECK(shop.book.conflicts()->size() == 1);
    }
    SECTION("without it the change counts as made in sight of the other") {
        REQUIRE(usecases::change_record(shop.acting, note, FieldValues().text("text", "sound")));
        CHECK(shop.book.conflicts()->empty());
    }
    CHECK(shop.book.check()->ok());
}

TEST_CASE("Taking an act back does not bring back what was erased since") {
    UsecaseBook b;
    const Uuid person = b.add_to(Uuid{}, "person", casebook::FieldValues().text("name", "Zebulon Quarrelhome"));
    const auto rings = [&](std::string_view number) {
        b.clock.advance(std::chrono::seconds(1));
        return must(usecases::change_record(b.acting, person, casebook::FieldValues().text("telephone", number)));
    };
    static_cast<void>(rings("01632 960 111"));
    const auto changed = rings("01632 960 222");
    const auto role = must(usecases::change_record(b.acting, person, casebook::FieldValues().text("role", "client")));
    must(b.book.erase(b.acting.author, person, "asked by the person"));
    const auto back = usecases::take_back(b.acting, changed.inverse);
    REQUIRE_FALSE(back);
    CHECK(back.error().code == "casebook.erased-record");
    CHECK_FALSE(must(b.book.record(person)).body.has("telephone"));
    must(usecases::take_back(b.acting, role.inverse));  // about no person
}
