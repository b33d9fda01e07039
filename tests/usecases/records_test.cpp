#include "tedge/usecases/records.hpp"

#include <catch2/catch.hpp>

#include "usecase_book.hpp"

using namespace tedge;
using casebook::FieldValues;

TEST_CASE("A change that carries what its author saw becomes a conflict with what came in between") {
    UsecaseBook b;
    const Uuid note = b.add("viewing_note", FieldValues().text("text", "thin in the sky"));
    const std::vector<Uuid> seen = b.book.record(note)->newest_changes;
    REQUIRE(usecases::change_record(b.acting, note, FieldValues().text("text", "thin everywhere")));
    SECTION("told as a conflict when it says so") {
        REQUIRE(usecases::change_record(b.acting, note, FieldValues().text("text", "sound"), {}, seen));
        const auto conflicts = b.book.conflicts().value();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts.front().record == note);
        CHECK(conflicts.front().path == "text");
        CHECK(b.book.record(note)->body.text("text") == "sound");
    }
    SECTION("another field of the same record is none") {
        REQUIRE(usecases::change_record(b.acting, note, FieldValues().text("quality", "uneven"), {}, seen));
        CHECK(b.book.conflicts()->empty());
        CHECK(b.book.record(note)->body.text("text") == "thin everywhere");
    }
    SECTION("a removal of what was changed meanwhile is one") {
        REQUIRE(usecases::remove_record(b.acting, note, {}, seen));
        CHECK(b.book.conflicts()->size() == 1);
    }
    SECTION("without it the change counts as made in sight of the other") {
        REQUIRE(usecases::change_record(b.acting, note, FieldValues().text("text", "sound")));
        CHECK(b.book.conflicts()->empty());
    }
    CHECK(b.book.check()->ok());
}
