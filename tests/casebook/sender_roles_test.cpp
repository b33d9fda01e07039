// What somebody outside the house sends is kept; what their role may do is folded.
#include "book_fixture.hpp"
#include "mentions.hpp"

using namespace tedge;
using namespace tedge::casebook;

TEST_CASE("What a role may not write is kept, passed on and reported, but the record stays as it was") {
    Book house(1);
    Book bench_book(2);
    const Uuid id = house.add_case("Winter landscape");
    const Uuid cost = house.add(id, "cost_line", FieldValues().text("name", "cleaning"));
    must(bench_book.book.merge_from(house.book));
    must(bench_book.change(id, Operation::patch, FieldValues().text("artist", "a better name")));
    must(bench_book.change(id, Operation::patch, FieldValues().text("private_note", "sell it soon")));
    must(bench_book.change(cost, Operation::patch, FieldValues().text("note", "twice as much")));
    must(bench_book.change(cost, Operation::remove));
    const auto sent = must(bench_book.book.all_changes());

    const MergeReport report = must(house.book.merge(sent, Reader::restorer));
    CHECK(mentions(report.faults, "not for its sender's role to make"));
    const Body body = must(house.book.record(id)).body;
    CHECK(body.text("artist") == "a better name");
    CHECK_FALSE(body.has("private_note"));
    CHECK_FALSE(must(house.book.record(cost)).deleted);
    CHECK_FALSE(must(house.book.record(cost)).body.has("note"));
    CHECK(must(house.book.all_changes()).size() == sent.size());  // nothing dropped
    CHECK(must(house.book.check()).problems == std::vector<std::string>{});
    CHECK(mentions(must(house.book.check()).notes, "kept and not folded"));
    CHECK(must(house.book.rebuild()));

    // Another book of the house takes the mark over; one that admitted it brings it in everywhere.
    Book second(3);
    must(second.book.merge_from(house.book));
    CHECK_FALSE(must(second.book.record(id)).body.has("private_note"));
    Book third(4);
    must(third.book.merge(sent));
    must(house.book.merge_from(third.book));
    CHECK(must(house.book.record(id)).body.text("private_note") == "sell it soon");
    CHECK(must(house.book.record(cost)).deleted);
}

TEST_CASE("Nobody outside the house erases") {
    Book house(1);
    Book bench_book(2);
    const Uuid person = house.add(Uuid{}, "person", FieldValues().text("name", "Ute Hain"));
    must(bench_book.book.merge_from(house.book));
    must(bench_book.book.erase(bench_book.author, person, "by mistake"));
    must(house.book.merge(must(bench_book.book.all_changes()), Reader::restorer));
    CHECK(must(house.book.record(person)).body.text("name") == "Ute Hain");
    CHECK(must(house.book.check()).ok());
}

TEST_CASE("A payload that comes after its change is held against the sender's role too") {
    Book house(1);
    Book bench_book(2);
    const Uuid id = house.add_case("Winter landscape");
    must(bench_book.book.merge_from(house.book));
    must(bench_book.change(id, Operation::patch, FieldValues().text("private_note", "sell it soon")));
    const auto whole = must(bench_book.book.all_changes());
    auto empty = whole;
    for (Change& change : empty) change.public_payload.reset();
    must(house.book.merge(empty, Reader::restorer));
    const MergeReport report = must(house.book.merge(whole, Reader::restorer));
    CHECK(mentions(report.faults, "not for its sender's role to make"));
    CHECK_FALSE(must(house.book.record(id)).body.has("private_note"));
    CHECK(must(house.book.record(id)).body.text("title") == "Winter landscape");
    CHECK(must(house.book.check()).problems == std::vector<std::string>{});
    must(house.book.merge(whole));  // the house itself vouches for it
    CHECK(must(house.book.record(id)).body.text("private_note") == "sell it soon");
}

TEST_CASE("A role settles conflicts about what it may write, and deletes only what is all its matter") {
    Book house(1);
    Book bench_book(2);
    const Uuid id = house.add_case("Winter landscape");
    const Uuid frame = house.add_face(id);
    const Uuid finding = house.add(id, "finding",
                                   FieldValues()
                                       .record("face_frame", frame)
                                       .region("region", Region::rectangle({0, 0}, {5, 5}).value())
                                       .text("layer", "paint")
                                       .text("term", "flaking"));
    must(bench_book.book.merge_from(house.book));
    for (const auto* field : {"private_note", "artist"}) {
        must(house.change(id, Operation::patch, FieldValues().text(field, "ours")));
        must(bench_book.change(id, Operation::patch, FieldValues().text(field, "theirs")));
    }
    must(bench_book.book.merge_from(house.book));
    must(house.book.merge_from(bench_book.book));
    REQUIRE(must(house.book.conflicts()).size() == 2);
    for (const Conflict& conflict : must(bench_book.book.conflicts())) {
        must(bench_book.change(id, Operation::resolve, {}, {conflict.earlier, conflict.later}));
    }
    must(bench_book.change(finding, Operation::remove));
    must(bench_book.change(id, Operation::remove));
    must(house.book.merge(must(bench_book.book.all_changes()), Reader::restorer));
    const auto left = must(house.book.conflicts());
    REQUIRE(left.size() == 1);
    CHECK(left[0].path == "private_note");
    CHECK(must(house.book.record(finding)).deleted);
    CHECK_FALSE(must(house.book.record(id)).deleted);
    CHECK(must(house.book.check()).problems == std::vector<std::string>{});
    CHECK(must(house.book.rebuild()));
}

TEST_CASE("A role writes nothing into a record by naming it as one of another kind") {
    Book house(1);
    const Uuid id = house.add_case("Winter landscape");
    const Uuid cost = house.add(id, "cost_line", FieldValues().text("name", "cleaning"));
    Change forged = must(house.book.history(cost)).front();
    forged.id = house.ids.next();
    forged.replica = house.ids.next();
    forged.number = 1;
    forged.previous = {};
    forged.kind = "treatment_step";  // where a restorer may write notes; into a cost they may not
    forged.operation = Operation::patch;
    forged.seen = must(house.book.record(cost)).newest_changes;
    forged.public_payload->text = R"({"set":{"note":"twice as much"}})";
    forged.public_digest = payload_digest(*forged.public_payload);
    forged.hash = change_hash(forged);
    const MergeReport report = must(house.book.merge({forged}, Reader::restorer));
    CHECK(mentions(report.faults, "not for its sender's role to make"));
    CHECK_FALSE(must(house.book.record(cost)).body.has("note"));
    CHECK(must(house.book.record(cost)).kind == "cost_line");
}
