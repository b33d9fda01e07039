// One byte of the database file flipped anywhere: it is reported, or it lay where nothing was written.
#include <random>
#include <set>

#include "book_fixture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

// A small book with something of everything, closed, so that all of it lies in the one file.
void fill(const fs::path& folder, Sources sources) {
    Casebook book = must(Casebook::create(folder, sources));
    const Uuid author = must(book.person_named("Ada Wren"));
    const auto commit = [&](Edit edit) { return must(book.commit(author, {std::move(edit)})).front(); };
    Edit picture;
    picture.kind = "case";
    picture.values.text("title", "River landscape with a ferry").text("private_note", std::string(3000, 'n'));
    const Uuid id = commit(picture);
    Edit frame;
    frame.kind = "face_frame";
    frame.case_id = id;
    frame.values.text("face", "recto").number("width_mm", 812).number("height_mm", 610);
    const Uuid recto = commit(frame);
    for (int i = 0; i < 40; ++i) {
        Edit finding;
        finding.kind = "finding";
        finding.case_id = id;
        finding.reason = "seen in raking light";
        finding.values.record("face_frame", recto)
            .region("region", Region::rectangle({10.0 * i, 20}, {8, 8}).value())
            .text("layer", "paint")
            .text("term", "flaking " + std::to_string(i));
        commit(finding);
    }
}

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
    fill(folder / "book", {&clock, &ids});
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
