#include "tedge/casebook/raking.hpp"

#include <nlohmann/json.hpp>

#include "book_fixture.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/field_table.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

FieldValues photograph_in(Book& b, std::string_view light) {
    must(write_file_durably(b.folder / "some.bin", "of a photograph"));
    const std::string sha256 = must(b.book.store_original(b.folder / "some.bin")).sha256;
    return FieldValues().text("face", "recto").text("light", light).text("stage", "cleaned").text("sha256", sha256);
}

}  // namespace

TEST_CASE("Side and angle of the lamp belong to raking light, and every other light refuses them") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid raking =
        b.add(id, "photograph",
              photograph_in(b, "raking").text("raking_side", "top-left").number("raking_angle_degrees", 15));
    CHECK(light_in_words(must(b.book.record(raking)).body) == "raking light from the top left at 15°");
    for (const std::string_view light : words_of(*find_kind("photograph")->field("light"))) {
        if (light == "raking") continue;
        CAPTURE(light);
        const Uuid other = b.add(id, "photograph", photograph_in(b, light));
        const auto side = b.change(other, Operation::patch, FieldValues().text("raking_side", "left"));
        REQUIRE_FALSE(side);
        CHECK(side.error().code == "photograph.not-raking");
        const auto angle = b.change(other, Operation::patch, FieldValues().number("raking_angle_degrees", 15));
        REQUIRE_FALSE(angle);
        CHECK(angle.error().values.at("field") == "raking_angle_degrees");
        CHECK_FALSE(b.change(raking, Operation::patch, FieldValues().text("light", light)));
    }
    // Said together it is consistent, both ways.
    CHECK(b.change(raking, Operation::patch,
                   FieldValues().text("light", "normal").unset("raking_side").unset("raking_angle_degrees")));
    CHECK(b.change(raking, Operation::patch, FieldValues().text("light", "raking").text("raking_side", "right")));
}

TEST_CASE("A lamp stands on a side that is one, between the picture's plane and straight before it") {
    Book b;
    const Uuid photo = b.add(b.add_case(), "photograph", photograph_in(b, "raking"));
    CHECK_FALSE(b.change(photo, Operation::patch, FieldValues().text("raking_side", "behind")));
    CHECK_FALSE(b.change(photo, Operation::patch, FieldValues().number("raking_angle_degrees", -1)));
    CHECK_FALSE(b.change(photo, Operation::patch, FieldValues().number("raking_angle_degrees", 91)));
    CHECK(b.change(photo, Operation::patch, FieldValues().number("raking_angle_degrees", 8.5)));
}
