// What comes from elsewhere may be damaged, not its sender's to write, or meant to harm.
#include <sqlite3.h>

#include <fstream>

#include "book_fixture.hpp"
#include "kept_file.hpp"
#include "mentions.hpp"
#include "raw_sql.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

Change rewritten(const Change& change, std::string payload) {
    Change other = change;
    other.public_payload->text = std::move(payload);
    other.public_digest = payload_digest(*other.public_payload);
    other.hash = change_hash(other);
    return other;
}

}  // namespace

TEST_CASE("A damaged change is not taken in; its sound form is, when it comes") {
    Book here(1);
    Book there(2);
    const Uuid id = there.add_case("Winter landscape");
    auto changes = must(there.book.all_changes());
    const auto at = std::ranges::find(changes, id, &Change::record);
    const Change sound = *at;
    at->reason = "altered on the way";
    MergeReport report = must(here.book.merge(changes));
    CHECK(mentions(report.faults, "is damaged and was not taken in"));
    CHECK_FALSE(here.book.record(id).has_value());
    must(here.book.merge({sound}));
    CHECK(must(here.book.record(id)).body.text("title") == "Winter landscape");
    CHECK(must(here.book.check()).ok());
}

TEST_CASE("A payload altered on the way is left out, and filled in by one that fits") {
    Book here(1);
    Book there(2);
    const Uuid id = there.add_case("Winter landscape");
    auto changes = must(there.book.all_changes());
    const auto sound = changes;
    std::ranges::find(changes, id, &Change::record)->public_payload->text = R"({"set":{"title":"Forged"}})";
    must(here.book.merge(changes));
    CHECK_FALSE(must(here.book.record(id)).body.has("title"));
    CHECK(must(here.book.check()).ok());
    must(here.book.merge(sound));
    CHECK(must(here.book.record(id)).body.text("title") == "Winter landscape");
}

TEST_CASE("A row and an original that were altered here are made whole from another book") {
    Book here(1);
    Book there(2);
    const Uuid id = here.add_case("Winter landscape");
    must(write_file_durably(here.folder / "photo", std::string(3000, 'p')));
    const std::string file = must(here.book.store_original(here.folder / "photo")).sha256;
    here.add(
        id, "photograph",
        FieldValues().text("face", "recto").text("light", "normal").text("stage", "saleroom").text("sha256", file));
    must(there.book.merge_from(here.book));

    run_sql(here.path(), "UPDATE change SET reason = 'altered' WHERE kind = 'case'");
    run_sql(here.path(),
            "UPDATE change SET public_payload = '{\"set\":{\"face\":\"verso\"}}' WHERE kind = 'photograph'");
    must(write_file_durably(here.book.original_path(file), std::string(3000, 'q')));
    CHECK_FALSE(must(here.book.check()).ok());
    CHECK(must(here.book.damaged_originals()) == std::vector<std::string>{file});
    CHECK(fs::exists(here.book.original_path(file)));  // kept: it may be the only witness

    const MergeReport report = must(here.book.merge_from(there.book));
    CHECK(mentions(report.summary, "is whole again"));
    CHECK(must(here.book.check()).problems == std::vector<std::string>{});
    CHECK(must(here.book.damaged_originals()).empty());
}

TEST_CASE("A damaged original of another book does not come in under any name") {
    Book here(1);
    Book there(2);
    const Uuid id = there.add_case();
    must(write_file_durably(there.folder / "photo", std::string(3000, 'p')));
    const std::string file = must(there.book.store_original(there.folder / "photo")).sha256;
    there.add(
        id, "photograph",
        FieldValues().text("face", "recto").text("light", "normal").text("stage", "saleroom").text("sha256", file));
    must(write_file_durably(there.book.original_path(file), "rotten"));
    const MergeReport report = must(here.book.merge_from(there.book));
    CHECK(mentions(report.faults, "is damaged there"));
    const CheckReport check = must(here.book.check());
    CHECK(check.problems.size() == 1);  // the missing original
    CHECK(check.notes.empty());         // and no stray one
}

TEST_CASE("A book that meets its own later changes was set back, and counts in a chain of its own from then on") {
    Book b;
    const Uuid id = b.add_case("Before");
    const Uuid old_replica = b.book.replica();
    const auto early = must(b.book.all_changes());
    must(b.change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
    const auto late = must(b.book.all_changes());

    // The same folder as it was: made by hand, with the replica's old id.
    Book set_back(5);
    must(set_back.book.merge(early));
    run_sql(set_back.path(), "UPDATE book SET replica = x'" + to_hex(old_replica.bytes) + "'");
    Casebook again = must(Casebook::open(set_back.path(), set_back.sources()));
    REQUIRE(again.replica() == old_replica);
    must(again.merge(late));
    CHECK(again.replica() != old_replica);
    Edit edit;
    edit.operation = Operation::patch;
    edit.record = id;
    edit.values.text("subject", "a mill");
    must(again.commit(set_back.author, {edit}));
    CHECK(must(again.check()).problems == std::vector<std::string>{});
}

TEST_CASE("A record that names a path instead of a digest reaches no file outside the book") {
    Book b;
    const Uuid id = b.add_case();
    must(write_file_durably(b.folder / "outside", "not yours"));
    b.add(id, "document", FieldValues().text("title", "x").text("sha256", kept_file(b.book)));
    Change change = must(b.book.all_changes()).back();
    for (const Change& each : must(b.book.all_changes())) {
        if (each.kind == "document") change = each;
    }
    const std::string path = "../../outside";
    Change hostile = rewritten(change, R"({"set":{"sha256":")" + path + R"("}})");
    hostile.id = b.ids.next();
    hostile.record = b.ids.next();
    hostile.hash = change_hash(hostile);
    Change erase = rewritten(hostile, R"({"files":[")" + path + R"("]})");
    erase.id = b.ids.next();
    erase.operation = Operation::erase;
    erase.seen = {hostile.id};
    erase.hash = change_hash(erase);
    const MergeReport report = must(b.book.merge({hostile, erase}));
    CHECK(mentions(report.faults, "SHA-256"));
    CHECK(must(read_file(b.folder / "outside")) == "not yours");
    CHECK(b.book.check().has_value());
}

TEST_CASE("Values that do not fit the field table are named, and kept as they came") {
    Book b;
    const Uuid id = b.add_case();
    Change odd = rewritten(must(b.book.history(id)).front(), R"({"set":{"width_mm":"wide","title":7}})");
    odd.id = b.ids.next();
    odd.operation = Operation::patch;
    odd.seen = must(b.book.record(id)).newest_changes;
    odd.hash = change_hash(odd);
    const MergeReport report = must(b.book.merge({odd}));
    CHECK(mentions(report.faults, "\"width_mm\" is to be a number"));
    CHECK(must(b.book.record(id)).body.text("width_mm") == "wide");
    CHECK(mentions(must(b.book.check()).problems, "\"Width\" is to be a number"));
    CHECK_FALSE(must(b.book.record(id)).body.text("title").has_value());  // a reader of text is not given a number
    CHECK(b.book.person_named("Ute Hain").has_value());
    CHECK(must(b.book.cases()).size() == 1);
}

TEST_CASE("A row whose id was altered is made whole, not doubled") {
    Book here(1);
    Book there(2);
    const Uuid id = here.add_case("Winter landscape");
    must(here.change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
    must(there.book.merge_from(here.book));
    must(here.book.merge_from(there.book));
    run_sql(here.path(),
            "UPDATE change SET id = x'00000000000070008000000000000077' WHERE kind = 'case' AND operation = 'patch'");
    CHECK_FALSE(must(here.book.check()).ok());
    const std::size_t before = must(here.book.all_changes()).size();
    must(here.book.merge_from(there.book));
    CHECK(must(here.book.all_changes()).size() == before);
    CHECK(must(here.book.check()).problems == std::vector<std::string>{});
}

TEST_CASE("A sound copy that was given less does not take away what is still whole here") {
    Book here(1);
    Book there(2);
    const Uuid id = here.add_case("Winter landscape");
    must(here.change(id, Operation::patch, FieldValues().text("private_note", "not before spring")));
    must(there.book.merge_from(here.book));
    run_sql(here.path(), "UPDATE change SET reason = 'altered' WHERE kind = 'case'");
    auto sent = must(there.book.all_changes());
    for (Change& change : sent) change.public_payload.reset();
    // From the bench, too, which may not write private notes: the change is the same that the house has admitted.
    must(here.book.merge(sent, Reader::restorer));
    CHECK(must(here.book.check()).problems == std::vector<std::string>{});
    CHECK(must(here.book.record(id)).body.text("private_note") == "not before spring");

    run_sql(here.path(), "UPDATE change SET public_payload = '{}' WHERE kind = 'case'");
    const MergeReport report = must(here.book.merge(sent));
    CHECK(mentions(report.faults, "ours is kept"));
    CHECK_FALSE(must(here.book.check()).ok());
    must(here.book.merge_from(there.book));
    CHECK(must(here.book.check()).ok());
}

TEST_CASE("Another program that had to begin a new chain is followed, and no chain forks") {
    Book b;
    const Uuid id = b.add_case();
    Casebook second = must(Casebook::open(b.path(), b.sources()));
    const std::string other_chain = "01890000000070008000000000000abc";
    run_sql(b.path(), "UPDATE book SET replica = x'" + other_chain + "'");
    must(b.change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
    CHECK(to_hex(must(b.book.history(id)).back().replica.bytes) == other_chain);
    CHECK(must(second.check()).problems == std::vector<std::string>{});
}

TEST_CASE("Times and numbers that no clock gives do not reach ours") {
    Book b;
    const Uuid id = b.add_case();
    constexpr auto most = std::numeric_limits<std::int64_t>::max();
    constexpr auto least = std::numeric_limits<std::int64_t>::min();
    for (const auto& [count, number] : {std::pair(most, most), std::pair(most, least), std::pair(least, most)}) {
        Change odd = must(b.book.history(id)).front();
        odd.id = b.ids.next();
        odd.replica = b.ids.next();
        odd.clock.count = count;
        odd.number = number;
        odd.hash = change_hash(odd);
        must(b.book.merge({odd}));
        must(b.change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
    }
    for (const Change& change : must(b.book.history(id))) {
        if (change.replica == b.book.replica()) CHECK(change.clock.count < 1000);
    }
    CHECK(mentions(must(b.book.check()).problems, "changes are missing"));  // told, and nothing overflows
}

TEST_CASE("A payload nested to exhaust whoever walks it is kept and named, not read") {
    Book b;
    const Uuid id = b.add_case("Winter landscape");
    const std::string deep = R"({"set":{"title":)" + std::string(200'000, '[') + std::string(200'000, ']') + "}}";
    Change hostile = rewritten(must(b.book.history(id)).front(), deep);
    hostile.id = b.ids.next();
    hostile.operation = Operation::patch;
    hostile.seen = must(b.book.record(id)).newest_changes;
    hostile.hash = change_hash(hostile);
    CHECK(mentions(must(b.book.merge({hostile})).faults, "cannot be read"));
    CHECK(must(b.book.record(id)).body.text("title") == "Winter landscape");
    CHECK(mentions(must(b.book.check()).problems, "a payload of it cannot be read"));
}
