#include <nlohmann/json.hpp>

#include "book_fixture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

std::string code_of(const Expected<std::vector<Uuid>>& result) {
    return result ? "done" : result.error().code;
}

}  // namespace

TEST_CASE("An act that makes no sense on the record as it stands is refused and leaves nothing behind") {
    Book b;
    const Uuid id = b.add_case();
    const std::size_t before = must(b.book.all_changes()).size();
    CHECK(code_of(b.change(id, Operation::patch)) == "casebook.nothing-to-do");
    CHECK(code_of(b.change(id, Operation::restore)) == "casebook.nothing-to-do");
    CHECK(code_of(b.change(id, Operation::resolve, FieldValues().text("title", "x"))) == "casebook.nothing-to-do");
    CHECK(must(b.book.all_changes()).size() == before);
    must(b.change(id, Operation::remove));
    CHECK(code_of(b.change(id, Operation::remove)) == "casebook.nothing-to-do");
    const auto refused = b.change(id, Operation::patch, FieldValues().text("title", "x"));
    REQUIRE(code_of(refused) == "casebook.deleted-record");
    CHECK(refused.error().next == "Restore it first.");
}

TEST_CASE("A reference must name a record of the right kind that is here, or is made in the same act") {
    Book b;
    const Uuid id = b.add_case();
    const auto finding_on = [&](const Uuid& frame) {
        Edit edit;
        edit.case_id = id;
        edit.kind = "finding";
        edit.values.record("face_frame", frame)
            .region("region", Region::rectangle({0, 0}, {5, 5}).value())
            .text("layer", "paint")
            .text("term", "flaking");
        return edit;
    };
    CHECK(code_of(b.book.commit(b.author, {finding_on(CountingIds(77).next())})) == "casebook.no-such-record");
    const auto person_as_frame = b.book.commit(b.author, {finding_on(b.author)});
    REQUIRE(code_of(person_as_frame) == "casebook.no-such-record");
    CHECK(person_as_frame.error().values.at("field") == "face_frame");

    Edit frame;
    frame.case_id = id;
    frame.kind = "face_frame";
    frame.record = b.ids.next();
    frame.values.text("face", "recto").number("width_mm", 800).number("height_mm", 600);
    CHECK(code_of(b.book.commit(b.author, {frame, finding_on(frame.record)})) == "done");
}

TEST_CASE("What was overtaken while a form was open becomes a conflict, and nothing is overwritten unseen") {
    Book b;
    const Uuid id = b.add_case("First title");
    const Record as_opened = must(b.book.record(id));
    must(b.change(id, Operation::patch, FieldValues().text("title", "The other desk's title")));

    Edit late;
    late.operation = Operation::patch;
    late.record = id;
    late.values.text("title", "The form's title").text("artist", "Joost van Ellen");
    late.seen = as_opened.newest_changes;
    b.clock.advance(std::chrono::seconds(30));
    must(b.book.commit(b.author, {late}));

    const auto conflicts = must(b.book.conflicts());
    REQUIRE(conflicts.size() == 1);
    CHECK(conflicts[0].path == "title");
    CHECK(must(b.book.record(id)).body.text("title") == "The form's title");
    CHECK(must(b.book.record(id)).newest_changes.size() == 2);

    must(b.change(id, Operation::resolve, FieldValues().text("title", "The title agreed on"),
                  {conflicts[0].earlier, conflicts[0].later}));
    CHECK(must(b.book.conflicts()).empty());
    CHECK(must(b.book.record(id)).body.text("title") == "The title agreed on");
    CHECK(must(b.book.check()).problems == std::vector<std::string>{});
}

TEST_CASE("A conflict settled without a new value keeps what shows, and a deletion stays one") {
    Book b;
    const Uuid id = b.add_case("Title");
    const Record as_opened = must(b.book.record(id));
    Edit removal;
    removal.operation = Operation::remove;
    removal.record = id;
    must(b.change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
    removal.seen = as_opened.newest_changes;
    b.clock.advance(std::chrono::seconds(1));
    must(b.book.commit(b.author, {removal}));
    const auto conflicts = must(b.book.conflicts());
    REQUIRE(conflicts.size() == 1);
    CHECK(conflicts[0].path.empty());
    CHECK(must(b.book.record(id)).deleted);
    must(b.change(id, Operation::resolve, {}, {conflicts[0].earlier, conflicts[0].later}));
    CHECK(must(b.book.conflicts()).empty());
    CHECK(must(b.book.record(id)).deleted);
}

TEST_CASE("Numbers that are none, and parts of maps without a name, are refused") {
    Book b;
    const Uuid id = b.add_case();
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        CHECK(code_of(b.change(id, Operation::patch, FieldValues().number("width_mm", bad))) == "casebook.bad-field");
    }
    const Uuid note = b.add(id, "viewing_note", FieldValues().text("answers/glue", "no"));
    for (const char* path : {"answers/", "answers//x", "answers/\xff"}) {
        CHECK(code_of(b.change(note, Operation::patch, FieldValues().text(path, "yes"))) == "casebook.bad-field");
    }
    const auto nested = nlohmann::json::parse(std::string(70, '[') + std::string(70, ']'));
    CHECK(code_of(b.change(note, Operation::patch, FieldValues().value("answers/x", nested))) == "casebook.bad-field");
}

TEST_CASE("A record belongs to a case that is here, and its reason is text") {
    Book b;
    Edit edit;
    edit.kind = "viewing_note";
    edit.values.text("text", "seen from afar");
    CHECK(code_of(b.book.commit(b.author, {edit})) == "casebook.no-such-record");
    edit.case_id = CountingIds(77).next();
    CHECK(code_of(b.book.commit(b.author, {edit})) == "casebook.no-such-record");
    edit.case_id = b.author;  // a record, but no case
    CHECK(code_of(b.book.commit(b.author, {edit})) == "casebook.no-such-record");
    edit.case_id = b.add_case();
    edit.reason = "because \xff";
    CHECK(code_of(b.book.commit(b.author, {edit})) == "casebook.bad-field");
    edit.reason = "because";
    CHECK(code_of(b.book.commit(b.author, {edit})) == "done");
}

TEST_CASE("Figures lie in the range of their unit, and a place lies on the face it names") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid frame = b.add_face(id);
    const auto changed = [&](const Uuid& record, const FieldValues& values) {
        return code_of(b.change(record, Operation::patch, values));
    };
    CHECK(changed(frame, FieldValues().number("width_mm", 20'000)) == "done");
    CHECK(changed(frame, FieldValues().number("width_mm", 20'001)) == "casebook.bad-field");
    CHECK(changed(frame, FieldValues().number("height_mm", 0.5)) == "face.size-out-of-range");
    CHECK(changed(frame, FieldValues().number("width_mm", 812)) == "done");
    CHECK(changed(id, FieldValues().text("title", "\t ")) == "casebook.bad-field");
    CHECK(changed(id, FieldValues().text("title", std::string_view("a\0b", 3))) == "casebook.bad-field");
    CHECK(changed(id, FieldValues().text("title", "a\x1b[2J")) == "casebook.bad-field");
    const Uuid viewing = b.add(id, "viewing_note", FieldValues().text("text", "one\r\n\ttwo"));
    CHECK(changed(viewing, FieldValues().text("text", "a\ab")) == "casebook.bad-field");
    CHECK(changed(id, FieldValues().value("asking_price", {{"minor", std::uint64_t{9'000'000'000'000'001}},
                                                           {"currency", "GBP"}})) == "casebook.bad-field");
    const auto finding_at = [&](PointMm corner) {
        Edit edit;
        edit.case_id = id;
        edit.kind = "finding";
        edit.values.record("face_frame", frame).text("layer", "paint").text("term", "loss");
        edit.values.region("region", Region::rectangle(corner, {20, 20}).value());
        return code_of(b.book.commit(b.author, {edit}));
    };
    CHECK(finding_at({-100, 600}) == "done");  // what is folded over the edge
    CHECK(finding_at({-101, 600}) == "casebook.off-the-face");
    CHECK(finding_at({812 + 81, 0}) == "casebook.off-the-face");
    CHECK(must(b.book.check()).problems == std::vector<std::string>{});
}

TEST_CASE("A file that was erased between being stored and being named is not named, and nobody is without a name") {
    Book b;
    const Uuid id = b.add_case();
    must(write_file_durably(b.folder / "letter", "signed"));
    const std::string file = must(b.book.store_original(b.folder / "letter")).sha256;
    const auto letter = FieldValues().text("title", "Letter").text("sha256", file);
    must(b.book.erase(b.author, b.add(id, "document", letter), "its term is over"));
    Edit edit;
    edit.case_id = id;
    edit.kind = "document";
    edit.values = letter;
    CHECK(code_of(b.book.commit(b.author, {edit})) == "casebook.file-erased");
    CHECK(b.book.person_named(" ").error().code == "casebook.missing-field");
}

TEST_CASE("Parts of a map that the program knows fit like fields, and a list is not swept aside by a path into it") {
    Book b;
    const Uuid id = b.add_case();
    const auto bands = nlohmann::json::parse(R"([{"up_to": 50000, "percent": 25}, {"percent": 20}])");
    const Uuid lot = b.add(id, "lot", FieldValues().value("terms", {{"premium", bands}, {"hall", "upper"}}));
    const auto changed = [&](const char* path, const nlohmann::json& value) {
        return code_of(b.change(lot, Operation::patch, FieldValues().value(path, value)));
    };
    CHECK(changed("terms/vat_on_premium_percent", 20) == "done");
    CHECK(changed("terms/vat_on_premium_percent", 2000) == "casebook.bad-field");
    CHECK(changed("terms/royalty", "maybe") == "casebook.bad-field");
    CHECK(changed("terms/premium", "none") == "casebook.bad-field");
    CHECK(changed("terms", {{"minimum_premium", -5}}) == "casebook.bad-field");
    CHECK(changed("terms/premium/0/percent", 3) == "casebook.bad-field");
    CHECK(must(b.book.record(lot)).body.as_json().at("terms").at("premium") == bands);
    const Uuid note = b.add(id, "viewing_note", FieldValues().value("answers/lined", {{"answer", "no"}}));
    const auto answered =
        b.change(note, Operation::patch, FieldValues().value("answers/lined", {{"answer", "perhaps"}}));
    CHECK(code_of(answered) == "casebook.bad-field");
    CHECK(must(b.book.check()).problems == std::vector<std::string>{});
}
