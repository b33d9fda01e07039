#include "book_fixture.hpp"
#include "found_bytes.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

constexpr std::string_view name = "Zebulon Quarrelhome";
constexpr std::string_view paper = "PASSPORT-QXJ-77120-IDENTITY";

struct TwoBooks {
    Book here{1};
    Book there{2};
    Uuid person;
    Uuid document;
    std::string file;

    TwoBooks() {
        const Uuid id = here.add_case();
        person = here.add(Uuid{}, "person", FieldValues().text("name", name).text("role", "client"));
        must(here.change(person, Operation::patch, FieldValues().text("address", "1 Thornapple Row")));
        must(write_file_durably(here.folder / "paper", paper));
        file = must(here.book.store_original(here.folder / "paper")).sha256;
        fs::remove(here.folder / "paper");
        document = here.add(id, "document",
                            FieldValues()
                                .text("title", "Identity papers of " + std::string(name))
                                .text("sort", "identity")
                                .text("destroy_after", "2031-03-03")
                                .text("sha256", file));
        must(there.book.merge_from(here.book));
        must(here.book.back_up(here.folder / "backup"));
    }
};

}  // namespace

TEST_CASE("Erased fields and papers vanish here, from backups, and from the other replica; all still verify") {
    TwoBooks books;
    Book& here = books.here;
    Book& there = books.there;
    REQUIRE_FALSE(files_with(here.folder.path(), name).empty());
    REQUIRE_FALSE(files_with(here.folder / "backup", paper).empty());
    REQUIRE_FALSE(files_with(there.folder.path(), paper).empty());
    REQUIRE_FALSE(files_with(there.folder.path(), "uarrelhome").empty());

    must(here.book.erase(here.author, books.person, "asked by the person"));
    must(here.book.erase(here.author, books.document, "term over"));
    CHECK(files_with(here.folder.path(), name) == std::vector<std::string>{});
    CHECK(files_with(here.folder.path(), "Thornapple") == std::vector<std::string>{});
    // As the full-text index writes it: in small letters, and without the beginning it shares with the word before.
    CHECK(files_with(here.folder.path(), "uarrelhome") == std::vector<std::string>{});
    CHECK(files_with(here.folder.path(), paper) == std::vector<std::string>{});

    must(there.book.merge_from(here.book));
    CHECK(files_with(there.folder.path(), name) == std::vector<std::string>{});
    CHECK(files_with(there.folder.path(), "uarrelhome") == std::vector<std::string>{});
    CHECK(files_with(there.folder.path(), paper) == std::vector<std::string>{});

    for (Book* book : {&here, &there}) {
        CHECK(must(book->book.check()).problems == std::vector<std::string>{});
        CHECK(must(book->book.rebuild()));
        CHECK(must(book->book.search("Zebulon")).empty());
        CHECK(must(book->book.record(books.person)).body.text("role") == "client");
    }
    CHECK(must(Casebook::open(here.folder / "backup", here.sources())).check()->ok());
}

TEST_CASE("What was erased is never taken in again, from a book that has not heard of it or from a file") {
    TwoBooks books;
    must(books.here.book.erase(books.here.author, books.person, "asked"));
    must(books.here.book.erase(books.here.author, books.document, "term over"));
    // The other side, unaware, goes on writing about the person and hands everything back.
    must(books.there.change(books.person, Operation::patch, FieldValues().text("telephone", "01632 960 555")));
    must(books.here.book.merge_from(books.there.book));
    CHECK(files_with(books.here.folder.path(), name).empty());
    CHECK(files_with(books.here.folder.path(), "960 555").empty());
    CHECK(files_with(books.here.folder.path(), paper).empty());

    const TemporaryFolder outside;
    must(write_file_durably(outside / "again", paper));
    CHECK(books.here.book.store_original(outside / "again").error().code == "casebook.file-erased");
    CHECK(must(books.here.book.check()).ok());

    must(books.there.book.merge_from(books.here.book));
    CHECK(files_with(books.there.folder.path(), "960 555").empty());
    CHECK(must(books.there.book.check()).ok());
}

TEST_CASE("A file that another record needs is not erased with a document") {
    TwoBooks books;
    Book& here = books.here;
    const Uuid id = must(here.book.cases()).front().id;
    here.add(id, "document", FieldValues().text("title", "The same paper").text("sha256", books.file));
    CHECK(here.book.erase(here.author, books.document, "term").error().code == "casebook.file-shared");
}

TEST_CASE("Earlier papers of a document go with it, and those put in elsewhere by somebody unaware") {
    TwoBooks books;
    Book& here = books.here;
    Book& there = books.there;
    const auto put_in = [&](Book& book, const Uuid& document, const std::string& bytes) {
        must(write_file_durably(book.folder / "scan", bytes));
        const std::string file = must(book.book.store_original(book.folder / "scan")).sha256;
        std::filesystem::remove(book.folder / "scan");
        must(book.change(document, Operation::patch, FieldValues().text("sha256", file)));
    };
    put_in(here, books.document, "PASSPORT-QXJ-77120-SECOND-SCAN");
    put_in(there, books.document, "PASSPORT-QXJ-77120-SCANNED-ELSEWHERE");
    must(here.book.erase(here.author, books.document, "term over"));
    CHECK(files_with(here.folder.path(), "PASSPORT-QXJ") == std::vector<std::string>{});
    must(there.book.merge_from(here.book));
    CHECK(files_with(there.folder.path(), "PASSPORT-QXJ") == std::vector<std::string>{});
    must(here.book.merge_from(there.book));
    CHECK(files_with(here.folder.path(), "PASSPORT-QXJ") == std::vector<std::string>{});
    CHECK(must(here.book.check()).problems == std::vector<std::string>{});
    CHECK(must(there.book.check()).problems == std::vector<std::string>{});
}

TEST_CASE("An earlier file that another record needs by now stays with that") {
    TwoBooks books;
    Book& here = books.here;
    must(write_file_durably(here.folder / "scan", "the right scan"));
    const std::string right = must(here.book.store_original(here.folder / "scan")).sha256;
    must(here.change(books.document, Operation::patch, FieldValues().text("sha256", right)));
    const Uuid id = must(here.book.cases()).front().id;
    here.add(id, "document", FieldValues().text("title", "Where it belongs").text("sha256", books.file));
    must(here.book.erase(here.author, books.document, "term over"));
    CHECK(fs::exists(here.book.original_path(books.file)));
    CHECK_FALSE(fs::exists(here.book.original_path(right)));
    CHECK(must(here.book.check()).problems == std::vector<std::string>{});
}

TEST_CASE("Whose name was erased can still be written about; nobody else is left without one") {
    TwoBooks books;
    Book& here = books.here;
    must(here.book.erase(here.author, books.person, "asked by the person"));
    must(here.change(books.person, Operation::patch, FieldValues().text("role", "other")));
    CHECK(must(here.book.record(books.person)).body.text("role") == "other");
    const auto unnamed = here.change(here.author, Operation::patch, FieldValues().unset("name"));
    REQUIRE_FALSE(unnamed);
    CHECK(unnamed.error().code == "casebook.bad-field");
    CHECK(must(here.book.check()).ok());
}
