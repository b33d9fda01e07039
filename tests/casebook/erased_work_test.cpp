// Writing in what was erased: by somebody who does not know of it, and by somebody who does.
#include "book_fixture.hpp"
#include "found_bytes.hpp"
#include "mentions.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

constexpr std::string_view told = "not knowing that it had been erased, went with it";

std::size_t count_told(const std::vector<std::string>& lines) {
    return static_cast<std::size_t>(
        std::ranges::count_if(lines, [](const std::string& line) { return line.find(told) != std::string::npos; }));
}

struct Apart {
    Book here{1};
    Book there{2};
    Uuid person = here.add(Uuid{}, "person", FieldValues().text("name", "Zebulon Quarrelhome").text("role", "client"));

    Apart() { must(there.book.merge_from(here.book)); }

    void merge_both_ways(std::vector<std::string>& heard_here, std::vector<std::string>& heard_there) {
        heard_here = must(here.book.merge_from(there.book)).summary;
        heard_there = must(there.book.merge_from(here.book)).summary;
    }

    Expected<std::vector<Uuid>> write(const FieldValues& values, std::string_view reason = {}) {
        Edit edit;
        edit.operation = Operation::patch;
        edit.record = person;
        edit.values = values;
        edit.reason = reason;
        return here.book.commit(here.author, {edit});
    }
};

}  // namespace

TEST_CASE("Erased here and written in there: both sides hear in the merge, and in the check, that work was dropped") {
    Apart books;
    must(books.here.book.erase(books.here.author, books.person, "asked"));
    must(books.there.change(books.person, Operation::patch, FieldValues().text("telephone", "01632 960 555")));
    std::vector<std::string> here;
    std::vector<std::string> there;
    books.merge_both_ways(here, there);
    for (const auto* heard : {&here, &there}) {
        CHECK(count_told(*heard) == 1);
        CHECK(mentions(*heard, "What Ada Wren wrote in the person " + to_text(books.person)));
    }
    for (Book* book : {&books.here, &books.there}) {
        CHECK(count_told(must(book->book.check()).notes) == 1);
        CHECK(must(book->book.check()).ok());
        CHECK(files_with(book->folder.path(), "960 555").empty());
        CHECK(must(book->book.conflicts()).empty());  // there is nothing to choose between
    }
    // Told once: nothing more was dropped since.
    books.merge_both_ways(here, there);
    CHECK(count_told(here) + count_told(there) == 0);
}

TEST_CASE("What was about no person is not dropped, and nothing is said of it or of what was meant to be erased") {
    Apart books;
    must(books.here.change(books.person, Operation::patch, FieldValues().text("address", "1 Thornapple Row")));
    must(books.here.book.erase(books.here.author, books.person, "asked"));
    must(books.there.change(books.person, Operation::patch, FieldValues().text("role", "other")));
    std::vector<std::string> here;
    std::vector<std::string> there;
    books.merge_both_ways(here, there);
    CHECK(count_told(here) + count_told(there) == 0);
    for (Book* book : {&books.here, &books.there}) {
        CHECK(must(book->book.record(books.person)).body.text("role") == "other");
        CHECK(count_told(must(book->book.check()).notes) == 0);
    }
}

TEST_CASE("A file put into a document by somebody unaware of its erasure is told of when it goes") {
    Apart books;
    const Uuid id = books.here.add_case();
    const Uuid document = books.here.add(id, "document", FieldValues().text("title", "Identity papers"));
    must(books.there.book.merge_from(books.here.book));
    must(books.here.book.erase(books.here.author, document, "term over"));
    must(write_file_durably(books.there.folder / "scan", "PASSPORT-QXJ-77120"));
    const std::string file = must(books.there.book.store_original(books.there.folder / "scan")).sha256;
    must(books.there.change(document, Operation::patch, FieldValues().text("sha256", file)));
    std::vector<std::string> here;
    std::vector<std::string> there;
    books.merge_both_ways(here, there);
    CHECK(count_told(here) == 1);
    CHECK(count_told(there) == 1);
    CHECK_FALSE(fs::exists(books.there.book.original_path(file)));
}

TEST_CASE("What names an erased record does not come back by an edit; other personal fields do with a reason alone") {
    Apart books;
    must(books.here.book.erase(books.here.author, books.person, "asked"));
    const auto named = books.write(FieldValues().text("name", "Zebulon Quarrelhome"), "met again");
    REQUIRE_FALSE(named);
    CHECK(named.error().code == "casebook.erased-record");
    CHECK(named.error().values.at("field") == "name");
    CHECK(files_with(books.here.folder.path(), "Quarrelhome").empty());

    const auto silently = books.write(FieldValues().text("telephone", "01632 960 777"));
    REQUIRE_FALSE(silently);
    CHECK(silently.error().code == "casebook.erased-record");
    CHECK(books.write(FieldValues().text("telephone", "01632 960 777"), "  ").error().code == "casebook.erased-record");
    must(books.write(FieldValues().text("telephone", "01632 960 777"), "he rang, and agrees that we keep it"));
    CHECK(must(books.here.book.record(books.person)).body.text("telephone") == "01632 960 777");
    // Who still has the record before him as it was has to look again, whatever his reason.
    Edit stale;
    stale.operation = Operation::patch;
    stale.record = books.person;
    stale.values.text("telephone", "01632 960 888");
    stale.reason = "typed before";
    stale.seen = {must(books.here.book.history(books.person)).front().id};
    CHECK(books.here.book.commit(books.here.author, {stale}).error().code == "casebook.erased-record");
    // What stands so by now is not written anew.
    must(books.write(FieldValues().text("telephone", "01632 960 777").text("role", "other")));
    must(books.write(FieldValues().text("role", "client")));  // about no person

    // Written with the erasure in sight, it is no dropped work elsewhere, and arrives.
    const auto heard = must(books.there.book.merge_from(books.here.book)).summary;
    CHECK(count_told(heard) == 0);
    CHECK(must(books.there.book.record(books.person)).body.text("telephone") == "01632 960 777");
    CHECK(must(books.there.book.check()).ok());
}

TEST_CASE("An erasure says what went, what stays, and which records of the case still speak of persons") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid owner = b.add(Uuid{}, "person", FieldValues().text("name", "Zebulon Quarrelhome"));
    must(b.change(id, Operation::patch, FieldValues().record("owner", owner)));
    must(b.change(id, Operation::patch, FieldValues().unset("owner").text("artist", "Joost van Ellen")));
    const Uuid paper = b.add(id, "document", FieldValues().text("title", "Letter of Zebulon Quarrelhome"));
    must(b.change(paper, Operation::remove));
    const Erasure done = must(b.book.erase(b.author, id, "asked"));
    CHECK(done.fields == std::vector<std::string>{"owner"});
    CHECK(done.files == 0);
    CHECK(done.stays == std::vector<std::string>{"artist", "title"});
    CHECK(done.others == std::vector<Uuid>{paper});
    CHECK(done.held_up.empty());
    CHECK(must(b.book.erase(b.author, paper, "asked")).fields == std::vector<std::string>{"title"});
    CHECK(must(b.book.erase(b.author, id, "asked")).fields.empty());
}
