// A little of every case at once says the same as each case read by itself.
#include "book_fixture.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

std::vector<std::string> described(const std::vector<Record>& records) {
    std::vector<std::string> lines;
    for (const Record& r : records) lines.push_back(r.kind + " " + to_text(r.id) + " " + r.body.canonical_json());
    return lines;
}

std::vector<std::string> kinds_in(const CaseSnapshot& snapshot) {
    std::vector<std::string> kinds;
    for (const Record& record : snapshot.records) kinds.push_back(record.kind);
    return kinds;
}

}  // namespace

TEST_CASE("Of every case come the records wanted, in their order, and the people they name") {
    Book b;
    const Uuid holder = b.add(Uuid{}, "person", FieldValues().text("name", "Ute Hain"));
    b.add(Uuid{}, "person", FieldValues().text("name", "Nobody's matter"));
    const Uuid first = b.add_case("First");
    const Uuid gone = b.add_case("Gone");
    const Uuid last = b.add_case("Last");
    const auto custody = [&](std::string_view place) {
        return FieldValues().text("place", place).text("from", "2026-03-03").record("holder", holder);
    };
    b.add(last, "custody", custody("the bench"));
    const Uuid deleted = b.add(last, "custody", custody("nowhere"));
    b.add(last, "custody", custody("the store"));
    for (const char* text : {"one", "two", "three"}) b.add(last, "viewing_note", FieldValues().text("text", text));
    b.add(last, "deadline", FieldValues().text("what", "varnish").text("on", "2026-06-01"));
    b.add(gone, "custody", custody("the van"));
    must(b.change(deleted, Operation::remove));
    must(b.change(gone, Operation::remove));

    const auto all = must(b.book.snapshots({.all_of = {"custody"}, .any_of = {"viewing_note", "custody"}}));
    REQUIRE(all.size() == 2);
    CHECK(all[0].picture.id == first);
    CHECK(all[0].records.empty());
    CHECK(all[0].people.empty());
    CHECK(all[1].picture.body.text("title") == "Last");
    CHECK(kinds_in(all[1]) == std::vector<std::string>{"custody", "custody", "viewing_note"});
    CHECK(all[1].records[1].body.text("place") == "the store");
    REQUIRE(all[1].people.size() == 1);
    CHECK(all[1].people[0].body.text("name") == "Ute Hain");
}

TEST_CASE("With every kind wanted, the case is the same as read by itself") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid frame = b.add_face(id);
    b.add(id, "finding",
          FieldValues()
              .record("face_frame", frame)
              .region("region", Region::rectangle({0, 0}, {5, 5}).value())
              .text("layer", "paint")
              .text("term", "flaking"));
    b.add(id, "viewing_note", FieldValues().text("text", "seen from afar"));
    KindsWanted kinds;
    for (const Kind* kind : all_kinds()) {
        if (!kind->book_wide) kinds.all_of.emplace_back(kind->name);
    }
    const auto all = must(b.book.snapshots(kinds));
    REQUIRE(all.size() == 1);
    const CaseSnapshot alone = must(b.book.snapshot(id));
    CHECK(described(all[0].records) == described(alone.records));
    CHECK(described({all[0].picture}) == described({alone.picture}));
}
