// A database file with pages lost, as a failing disk leaves it: whatever page it is, each answer says what to do, doing
// that helps, and no change that could be read is lost on the way.
#include <algorithm>
#include <set>

#include "book_fixture.hpp"
#include "mentions.hpp"
#include "raw_sql.hpp"
#include "small_book.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t page_bytes = 4096;  // sqlite3's usual size of a page

void require_told(const Error& error) {
    CAPTURE(error.code, error.message, error.next);
    REQUIRE((error.code == "casebook.damaged" || error.code == "casebook.not-a-casebook"));
    REQUIRE(error.message.ends_with('.'));
    REQUIRE(error.next.ends_with('.'));
}

bool says(const Error& error, std::string_view what) {
    return error.next.find(what) != std::string::npos;
}

class DamagedBook {
public:
    explicit DamagedBook(const fs::path& folder) : folder_(folder) {
        fill_small_book(folder_ / "sound", sources());
        bytes_ = must(read_file(folder_ / "sound/casebook.sqlite"));
        Casebook sound = must(Casebook::open(folder_ / "sound", sources()));
        for (const Change& change : must(sound.all_changes())) changes_.insert(change.hash);
        REQUIRE(bytes_.size() % page_bytes == 0);
    }

    [[nodiscard]] Sources sources() { return {&clock_, &ids_}; }
    [[nodiscard]] fs::path path() const { return folder_ / "damaged"; }
    [[nodiscard]] const std::string& sound_bytes() const { return bytes_; }
    [[nodiscard]] std::size_t pages() const { return bytes_.size() / page_bytes; }
    [[nodiscard]] std::size_t changes() const { return changes_.size(); }

    void put(const std::string& bytes) {
        fs::remove_all(path());
        fs::create_directories(path() / "originals");
        must(write_file_durably(path() / "casebook.sqlite", bytes));
    }

    // Follows what is said, from one answer to the next, as somebody would who only reads the sentences. Answers how
    // many changes are in a sound book at the end; nothing where only a backup is left.
    std::optional<std::size_t> follow_advice() {
        auto book = Casebook::open(path(), sources());
        if (!book) {
            require_told(book.error());
            return says(book.error(), "merge this one") ? merged_anew() : by_backup(book.error());
        }
        const auto report = book->check();
        if (!report) {
            require_told(report.error());
            return rebuilt(*book);
        }
        if (report->ok()) return sound_changes(*book);
        if (mentions(report->notes, "Not all changes can be read")) return merged_anew();
        return rebuilt(*book);
    }

private:
    std::optional<std::size_t> by_backup(const Error& error) {
        REQUIRE((says(error, "backup") || error.code == "casebook.not-a-casebook"));
        return std::nullopt;
    }

    std::optional<std::size_t> rebuilt(Casebook& book) {
        const auto done = book.rebuild();
        if (!done) {
            require_told(done.error());
            REQUIRE(says(done.error(), "merge this one"));
            return merged_anew();
        }
        const auto after = must(book.check());
        // A change whose own bytes were hit is altered for good; all that is made from changes is as it should be.
        for (const std::string& problem : after.problems) {
            CAPTURE(problem);
            REQUIRE(problem.starts_with("Change "));
        }
        if (!after.ok()) return merged_anew();
        REQUIRE_FALSE(must(book.search("flaking")).empty());
        return sound_changes(book);
    }

    std::optional<std::size_t> merged_anew() {
        auto other = Casebook::open(path(), sources());
        if (!other) other = Casebook::open_damaged(path(), sources());
        if (!other) {
            require_told(other.error());
            return by_backup(other.error());
        }
        fs::remove_all(folder_ / "new");
        Casebook fresh = must(Casebook::create(folder_ / "new", sources()));
        const auto report = fresh.merge_from(*other);
        if (!report) {
            require_told(report.error());
            return by_backup(report.error());
        }
        if (report->changes < changes()) REQUIRE_FALSE(report->faults.empty());
        for (const std::string& problem : must(fresh.check()).problems) {
            CAPTURE(problem);
            REQUIRE((problem.starts_with("Change ") || mentions({problem}, "a record that is not here")));
        }
        return sound_changes(fresh);
    }

    std::size_t sound_changes(Casebook& book) {
        std::size_t count = 0;
        for (const Change& change : must(book.all_changes())) count += changes_.contains(change.hash) ? 1U : 0U;
        return count;
    }

    fs::path folder_;
    FixedClock clock_;
    CountingIds ids_;
    std::string bytes_;
    std::set<Sha256Digest> changes_;
};

// The name of the table or index of each page.
std::vector<std::string> owners_of_pages(const fs::path& folder, std::size_t pages) {
    std::vector<std::string> owners(pages + 1);
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((folder / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    sqlite3_stmt* row = nullptr;
    REQUIRE(sqlite3_prepare_v2(db, "SELECT pageno, name FROM dbstat", -1, &row, nullptr) == SQLITE_OK);
    while (sqlite3_step(row) == SQLITE_ROW) {
        owners.at(static_cast<std::size_t>(sqlite3_column_int(row, 0))) =
            reinterpret_cast<const char*>(sqlite3_column_text(row, 1));
    }
    sqlite3_finalize(row);
    sqlite3_close(db);
    return owners;
}

std::string zeroed(std::string bytes, std::size_t page) {
    const auto at = bytes.begin() + static_cast<std::ptrdiff_t>((page - 1) * page_bytes);
    std::fill(at, at + page_bytes, '\0');
    return bytes;
}

// The page as another file's, in which nothing fits.
std::string overwritten(std::string bytes, std::size_t page) {
    for (std::size_t i = 0; i < page_bytes; ++i) {
        bytes[(page - 1) * page_bytes + i] = static_cast<char>((i * 131 + page) & 0xFF);
    }
    return bytes;
}

}  // namespace

TEST_CASE("Whichever page of the file is lost, the advice given leads out, and all that could be read is kept") {
    const TemporaryFolder folder(TemporaryFolder::quick_place());
    DamagedBook book(folder.path());
    const auto owners = owners_of_pages(folder / "sound", book.pages());
    const auto damages = {zeroed, overwritten};
    int leaves = 0;
    for (std::size_t page = 1; page <= book.pages(); ++page) {
        for (const auto& damage : damages) {
            CAPTURE(page, owners[page], damage == zeroed ? "zeroed" : "overwritten");
            book.put(damage(book.sound_bytes(), page));
            const auto left = book.follow_advice();
            // Without its beginning, or its table of changes' own, nothing can be found in the file; and nothing is
            // taken over where it cannot be known which changes were held back.
            if (page == 1 || owners[page] == "sqlite_schema" || owners[page] == "held_change") continue;
            if (owners[page] != "change") {
                CHECK(left == book.changes());
            } else if (left) {
                ++leaves;
                CHECK(*left + 10 > book.changes());  // no more than lay on that page
            }
        }
    }
    CHECK(leaves > 8);
}

TEST_CASE("A file cut short is called damaged, and what is left of it can be merged into a new book") {
    const TemporaryFolder folder(TemporaryFolder::quick_place());
    DamagedBook book(folder.path());
    std::optional<std::size_t> before;
    for (std::size_t pages = book.pages() - 1; pages > 0; --pages) {
        CAPTURE(pages, book.pages());
        book.put(book.sound_bytes().substr(0, pages * page_bytes));
        const auto opened = Casebook::open(book.path(), book.sources());
        REQUIRE_FALSE(opened);
        CHECK(opened.error().code == "casebook.damaged");
        CHECK(says(opened.error(), "backup"));
        const auto left = book.follow_advice();
        if (pages + 1 == book.pages()) CHECK((left && *left + 10 > book.changes()));
    }
    book.put("");
    CHECK(Casebook::open(book.path(), book.sources()).error().code == "casebook.damaged");
    book.put(std::string(3 * page_bytes, '\0'));
    CHECK(Casebook::open(book.path(), book.sources()).error().code == "casebook.damaged");
    CHECK(Casebook::create(book.path(), book.sources()).error().code == "casebook.exists");
}

TEST_CASE("Damaged indexes of words and places are made anew by rebuilding, while another program reads") {
    const TemporaryFolder folder(TemporaryFolder::quick_place());
    DamagedBook damaged(folder.path());
    const auto owners = owners_of_pages(folder / "sound", damaged.pages());
    std::string bytes = damaged.sound_bytes();
    for (std::size_t page = 2; page <= damaged.pages(); ++page) {
        const std::string& owner = owners[page];
        if (owner.starts_with("text_index") || owner.starts_with("place_index") || owner == "record" ||
            owner == "sqlite_autoindex_record_1" || owner == "indexed_record") {
            bytes = overwritten(std::move(bytes), page);
        }
    }
    damaged.put(bytes);
    Casebook book = must(Casebook::open(damaged.path(), damaged.sources()));
    Casebook reader = must(Casebook::open(damaged.path(), damaged.sources()));
    const auto report = must(book.check());
    CHECK_FALSE(report.ok());
    CHECK(mentions(report.notes, "rebuild the casebook"));
    CHECK_FALSE(must(book.rebuild()));  // the records could not be read, so they were not the same
    CHECK(must(book.check()).problems == std::vector<std::string>{});
    CHECK(must(book.rebuild()));
    CHECK(must(book.search("flaking")).size() == 40);
    CHECK(must(reader.search("flaking")).size() == 40);
    CHECK(must(Casebook::open(damaged.path(), damaged.sources())).replica() == book.replica());
}
