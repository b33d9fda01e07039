// One byte of the database file flipped anywhere: it is reported, or it lay where nothing was written.
#include <random>
#include <set>

#include "book_fixture.hpp"
#include "small_book.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

struct Content {
    std::vector<Change> changes;
    std::string records;
    friend bool operator==(const Content&, const Content&) = default;
};

Expected<Content> content_of(Casebook& book) {
    Content content;
    auto changes = book.all_changes();
    if (!changes) return pass_on(changes);
    content.changes = *std::move(changes);
    std::set<Uuid> records;
    for (const Change& change : content.changes) records.insert(change.record);
    for (const Uuid& id : records) {
        const auto record = book.record(id);
        if (!record) return pass_on(record);
        content.records += record->kind + record->body.canonical_json() + "\n";
    }
    return content;
}

}  // namespace

TEST_CASE("A byte flipped anywhere in the database file is reported, or nothing of the book is changed by it") {
    const TemporaryFolder folder(TemporaryFolder::quick_place());
    FixedClock clock;
    CountingIds ids;
    fill_small_book(folder / "book", {&clock, &ids});
    const std::string sound = must(read_file(folder / "book/casebook.sqlite"));
    Content before;
    {
        Casebook book = must(Casebook::open(folder / "book", {&clock, &ids}));
        before = must(content_of(book));
    }
    std::mt19937 random(20260303);
    int reported = 0;
    for (int trial = 0; trial < 400; ++trial) {
        const fs::path damaged = folder / "damaged";
        fs::remove_all(damaged);
        fs::create_directories(damaged / "originals");
        std::string bytes = sound;
        const std::size_t at = random() % bytes.size();
        bytes[at] = static_cast<char>(bytes[at] ^ (1U << (random() % 8)));
        must(write_file_durably(damaged / "casebook.sqlite", bytes));
        CAPTURE(trial, at);
        auto book = Casebook::open(damaged, {&clock, &ids});
        const auto report = book ? book->check() : Expected<CheckReport>(pass_on(book));
        if (!report || !report->ok()) {
            ++reported;
            continue;
        }
        const auto after = content_of(*book);
        REQUIRE(after.has_value());
        REQUIRE(after->changes == before.changes);
        REQUIRE(after->records == before.records);
    }
    CHECK(reported > 100);  // enough to be a test; the rest fell on unused bytes, some three fifths of so small a file
}
