#include "book_fixture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;

TEST_CASE("Merging tells a person what came in, and a second time nothing") {
    Book here(1);
    Book there(2);
    const Uuid id = there.add_case("Winter landscape");
    there.add_face(id);
    const MergeReport report = must(here.book.merge_from(there.book));
    CHECK(report.changes == 3);  // the person, the case, the face
    CHECK(std::ranges::find(report.summary, "Picture \"Winter landscape\" added") != report.summary.end());
    CHECK(must(here.book.merge_from(there.book)).changes == 0);
}

TEST_CASE("Files come along with the records that name them") {
    Book here(1);
    Book there(2);
    const Uuid id = there.add_case();
    must(write_file_durably(there.folder / "photo", "bytes"));
    const StoredFile stored = must(there.book.store_original(there.folder / "photo"));
    there.add(id, "photograph",
              FieldValues()
                  .text("face", "recto")
                  .text("light", "normal")
                  .text("stage", "saleroom")
                  .text("sha256", stored.sha256));
    must(here.book.merge_from(there.book));
    CHECK(must(read_file(here.book.original_path(stored.sha256))) == "bytes");
    CHECK(must(here.book.check()).ok());
}

TEST_CASE("A clock far ahead does not move ours; its change is kept and marked") {
    Book here(1);
    Book there(2);
    there.clock.advance(std::chrono::hours(5));
    const Uuid id = there.add_case();
    const MergeReport report = must(here.book.merge_from(there.book));
    CHECK_FALSE(report.faults.empty());
    CHECK(must(here.book.record(id)).body.has("title"));
    const Uuid later = here.add_case("Ours");
    CHECK(must(here.book.history(later)).front().clock.ms == here.clock.now().time_since_epoch().count());
    CHECK(must(here.book.check()).ok());
    CHECK_FALSE(must(here.book.check()).notes.empty());
}

TEST_CASE("A copied folder becomes a replica of its own; a forked chain is reported and both sides are kept") {
    Book b;
    const Uuid id = b.add_case();
    const auto copy_path = b.folder / "copy";
    std::filesystem::copy(b.path(), copy_path, std::filesystem::copy_options::recursive);
    CountingIds other_ids(7);
    Casebook copy = must(Casebook::open(copy_path, {&b.clock, &other_ids}));
    CHECK(copy.replica() != b.book.replica());

    // Two machines that counted on in one chain, as after a machine was set back in time.
    auto changes = must(b.book.all_changes());
    Change forked = *std::ranges::find(changes, id, &Change::record);
    forked.id = other_ids.next();
    forked.hash = change_hash(forked);
    must(b.book.merge({forked}));
    const CheckReport report = must(b.book.check());
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].find("forks") != std::string::npos);
    CHECK(must(b.book.all_changes()).size() == changes.size() + 1);
}
