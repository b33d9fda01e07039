#include <catch2/catch.hpp>

#include "usecase_book.hpp"

using namespace tedge;
using casebook::FieldValues;

namespace {

// Closed by gate 4: nothing is photographed and nobody tried the tissue there.
FieldValues facing(UsecaseBook& b) {
    return FieldValues()
        .record("face_frame", b.recto())
        .region("region", Region::rectangle({100, 100}, {50, 50}).value())
        .text("tissue", "Japanese tissue")
        .text("adhesive", "sturgeon glue 3 %")
        .text("comes_off_with", "warm water");
}

usecases::Override taken(const UsecaseBook& b, const char* requirement) {
    return {b.case_id, 4, requirement, "Ines Falk", "it flakes under the breath", false};
}

}  // namespace

TEST_CASE("An act passes a closed gate by overrides that name it, and only by all of them") {
    UsecaseBook b;
    const FieldValues values = facing(b);
    CHECK(usecases::add_record(b.acting, b.case_id, "facing", values).error().code == "gate.closed");
    const auto one =
        usecases::add_record_overriding(b.acting, b.case_id, "facing", values, {taken(b, "4.photographed-first")});
    CHECK(one.error().code == "gate.closed");
    CHECK(one.error().values.at("requirement") == "4.tried-there");
    CHECK(b.snapshot().of_kind("gate_override").empty());

    const auto both = usecases::add_record_overriding(b.acting, b.case_id, "facing", values,
                                                      {taken(b, "4.photographed-first"), taken(b, "4.tried-there")});
    REQUIRE(both);
    const auto snapshot = b.snapshot();
    REQUIRE(snapshot.of_kind("facing").size() == 1);
    REQUIRE(snapshot.of_kind("gate_override").size() == 2);
    const casebook::Body& said = snapshot.of_kind("gate_override").front()->body;
    CHECK(said.record("act") == both->record);
    CHECK(said.text("reason") == "it flakes under the breath");
    CHECK(snapshot.find(*said.record("by"))->body.text("name") == "Ines Falk");

    // For that act only: the next facing finds the gate closed again, the changed one stays open where it is.
    CHECK_FALSE(usecases::add_record(b.acting, b.case_id, "facing", values));
    CHECK(usecases::change_record(b.acting, both->record, FieldValues().text("tissue", "wet-strength tissue")));
    const auto elsewhere = FieldValues().region("region", Region::rectangle({300, 100}, {50, 50}).value());
    const auto moved = usecases::change_record(b.acting, both->record, elsewhere);
    CHECK(moved.error().values.at("requirement") == "4.photographed-first");
    const auto again = usecases::change_record_overriding(
        b.acting, both->record, elsewhere, {taken(b, "4.photographed-first"), taken(b, "4.tried-there")});
    REQUIRE(again);
    REQUIRE(usecases::take_back(b.acting, again->inverse));  // back where it was let pass before
    CHECK(b.snapshot().of_kind("gate_override").size() == 4);
    REQUIRE(usecases::take_back(b.acting, both->inverse));
    CHECK(b.snapshot().of_kind("facing").empty());
    CHECK(b.book.check()->ok());
}

TEST_CASE("An override that would let no act pass is refused instead of written") {
    UsecaseBook b;
    const auto answers = must(usecases::gates_before_act(b.book, b.case_id, "facing", facing(b)));
    REQUIRE(answers.size() == 1);
    auto wanted = taken(b, "4.tried-there");
    for (const bool whole_picture : {false, true}) {
        wanted.whole_picture = whole_picture;
        CHECK(usecases::override_gate(b.acting, wanted, answers.front()).error().code == "gate.each-time");
    }
    CHECK(b.snapshot().of_kind("gate_override").empty());
}

TEST_CASE("An override without name or reason, or of what nobody asks, is refused and writes nothing") {
    UsecaseBook b;
    const auto refused = [&](usecases::Override wanted) {
        return usecases::add_record_overriding(b.acting, b.case_id, "facing", facing(b), {std::move(wanted)})
            .error()
            .code;
    };
    auto nameless = taken(b, "4.tried-there");
    nameless.name = "  ";
    CHECK(refused(nameless) == "gate.no-reason");
    auto silent = taken(b, "4.tried-there");
    silent.reason = "";
    CHECK(refused(silent) == "gate.no-reason");
    CHECK(refused(taken(b, "4.tissue")) == "gate.nothing-to-override");
    CHECK(b.snapshot().of_kind("facing").empty());
}
