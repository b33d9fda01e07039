// An erasure that is held up is finished later, and says so until then.
#include <sqlite3.h>

#include "book_fixture.hpp"
#include "found_bytes.hpp"
#include "mentions.hpp"
#include "raw_sql.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

constexpr std::string_view name = "Zebulon Quarrelhome";

struct Known : Book {
    Uuid person = add(Uuid{}, "person", FieldValues().text("name", name));
};

}  // namespace

TEST_CASE("While another program reads old pages, an erasure stands recorded and is finished at the next opening") {
    Known b;
    sqlite3* reader = nullptr;
    REQUIRE(sqlite3_open((b.path() / "casebook.sqlite").c_str(), &reader) == SQLITE_OK);
    REQUIRE(sqlite3_exec(reader, "BEGIN; SELECT count(*) FROM change", nullptr, nullptr, nullptr) == SQLITE_OK);
    must(b.book.erase(b.author, b.person, "asked"));
    CHECK_FALSE(must(b.book.record(b.person)).body.has("name"));
    CHECK(must(b.book.search("Zebulon")).empty());
    CHECK(mentions(must(b.book.check()).notes, "waits until other programs"));
    sqlite3_exec(reader, "COMMIT", nullptr, nullptr, nullptr);
    sqlite3_close(reader);

    Casebook again = must(Casebook::open(b.path(), b.sources()));
    CHECK(files_with(b.path(), name) == std::vector<std::string>{});
    CHECK(must(again.check()).notes.size() == 1);  // only that changes stand without a part of what was written
    CHECK(must(again.check()).ok());
}

TEST_CASE("A backup that was away is reached when it is there again") {
    Known b;
    must(b.book.back_up(b.folder / "backup"));
    const Uuid later = b.add_case("Added after the backup");
    fs::rename(b.folder / "backup", b.folder / "away");
    must(b.book.erase(b.author, b.person, "asked"));
    CHECK(files_with(b.path(), name).empty());
    CHECK_FALSE(files_with(b.folder / "away", name).empty());
    CHECK(mentions(must(b.book.check()).notes, "has not reached the backup"));
    fs::rename(b.folder / "away", b.folder / "backup");
    Casebook again = must(Casebook::open(b.path(), b.sources()));
    CHECK(files_with(b.folder / "backup", name) == std::vector<std::string>{});
    CHECK_FALSE(mentions(must(again.check()).notes, "has not reached the backup"));

    // The backup was brought up to date by the way, verifies, and is a replica of its own.
    Casebook backup = must(Casebook::open(b.folder / "backup", b.sources()));
    CHECK(must(backup.check()).problems == std::vector<std::string>{});
    CHECK(must(backup.record(later)).body.text("title") == "Added after the backup");
    CHECK(backup.replica() != b.book.replica());
}

TEST_CASE("An erasure cut short after its commit is finished at the next opening") {
    Known b;
    const Uuid id = b.add_case();
    must(write_file_durably(b.folder / "paper", "PASSPORT-QXJ-77120"));
    const std::string file = must(b.book.store_original(b.folder / "paper")).sha256;
    const Uuid document = b.add(id, "document", FieldValues().text("title", "identity papers").text("sha256", file));
    must(b.book.erase(b.author, document, "term over"));
    // As after a crash between the commit and the removal of the file.
    must(make_folder_durably(b.book.original_path(file).parent_path()));
    must(write_file_durably(b.book.original_path(file), "PASSPORT-QXJ-77120"));
    must(make_folder_durably(b.book.derived_folder()));
    must(write_file_durably(b.book.derived_folder() / "tile", "made from it"));
    run_sql(b.path(), "UPDATE book SET purge_pending = 1");
    CHECK_FALSE(must(b.book.check()).ok());
    Casebook again = must(Casebook::open(b.path(), b.sources()));
    CHECK_FALSE(fs::exists(again.original_path(file)));
    CHECK_FALSE(fs::exists(again.derived_folder() / "tile"));
    CHECK(must(again.check()).problems == std::vector<std::string>{});
}

TEST_CASE("After an erasure new personal fields may be written, and those stay") {
    Known b;
    Book other(2);
    must(other.book.merge_from(b.book));
    must(b.book.erase(b.author, b.person, "asked"));
    Edit knowing;
    knowing.operation = Operation::patch;
    knowing.record = b.person;
    knowing.values.text("address", "Poste restante, with consent");
    knowing.reason = "asked to be written to there";
    must(b.book.commit(b.author, {knowing}));
    must(other.change(b.person, Operation::patch, FieldValues().text("telephone", "01632 960 555")));  // unaware
    must(other.book.merge_from(b.book));
    must(b.book.merge_from(other.book));
    for (Casebook* book : {&b.book, &other.book}) {
        const Body body = must(book->record(b.person)).body;
        CHECK(body.text("address") == "Poste restante, with consent");
        CHECK_FALSE(body.has("telephone"));
        CHECK(must(book->check()).ok());
    }
    CHECK(files_with(other.path(), "960 555").empty());
    CHECK(files_with(b.path(), "960 555").empty());
}

TEST_CASE("Another book that was made where a backup lay is not given ours") {
    Known b;
    must(b.book.back_up(b.folder / "backup"));
    fs::remove_all(b.folder / "backup");
    FixedClock clock;
    CountingIds ids(9);
    {
        Casebook other = must(Casebook::create(b.folder / "backup", {&clock, &ids}));
        must(other.person_named("Ute Hain"));
    }
    must(b.book.erase(b.author, b.person, "asked"));
    Casebook other = must(Casebook::open(b.folder / "backup", {&clock, &ids}));
    CHECK(must(other.all_changes()).size() == 1);
    CHECK(mentions(must(b.book.check()).notes, "has not reached the backup"));
}

TEST_CASE("An erasure that cannot be finished keeps nobody from opening the book") {
    Known b;
    must(b.book.erase(b.author, b.person, "asked"));
    run_sql(b.path(), "UPDATE book SET purge_pending = 1");
    sqlite3* writer = nullptr;
    REQUIRE(sqlite3_open((b.path() / "casebook.sqlite").c_str(), &writer) == SQLITE_OK);
    REQUIRE(sqlite3_exec(writer, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr) == SQLITE_OK);
    auto again = Casebook::open(b.path(), b.sources());
    CHECK(again.has_value());
    CHECK(must(again->people()).size() == 2);
    sqlite3_close(writer);
}
