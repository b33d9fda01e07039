#include <random>

#include "book_fixture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

// A book without a temporary folder of its own, so that thousands can be made in one.
struct Replica {
    FixedClock clock;
    CountingIds ids;
    Casebook book;
    Uuid author;

    Replica(const std::filesystem::path& folder, std::uint8_t series, std::chrono::milliseconds lead)
        : ids(series), book(must(Casebook::create(folder, {&clock, &ids}))) {
        clock.advance(lead);
        author = must(book.person_named("Ada Wren"));
    }
};

std::string state_of(Casebook& book) {
    std::string text;
    for (const Record& person : must(book.people())) text += to_text(person.id) + person.body.canonical_json() + "\n";
    for (const Record& record : must(book.cases())) {
        text += to_text(record.id) + record.body.canonical_json();
        for (const Record& part : must(book.records(record.id, ""))) {
            text += to_text(part.id) + part.kind + part.body.canonical_json() + to_text(part.last_written);
            for (const Uuid& id : part.newest_changes) text += to_text(id);
        }
        text += "\n";
    }
    for (const Conflict& c : must(book.conflicts())) {
        text += to_text(c.record) + c.path + to_text(c.earlier) + to_text(c.later) + "\n";
    }
    return text;
}

// One random act on what the replica knows.
void act_at_random(Replica& replica, std::mt19937& random) {
    replica.clock.advance(std::chrono::milliseconds(random() % 50));
    auto cases = must(replica.book.cases());
    Edit edit;
    if (cases.empty() || random() % 6 == 0) {
        edit.kind = "case";
        edit.values.text("title", "picture " + std::to_string(random() % 100));
        must(replica.book.commit(replica.author, {edit}));
        return;
    }
    const Record& target = cases[random() % cases.size()];
    edit.record = target.id;
    switch (random() % 8) {
        case 0:
            edit.operation = Operation::remove;
            break;
        case 1: {
            const auto conflicts = must(replica.book.conflicts());
            if (conflicts.empty()) return;
            const Conflict& c = conflicts[random() % conflicts.size()];
            edit.record = c.record;
            edit.operation = Operation::resolve;
            edit.names = {c.earlier, c.later};
            edit.values.text("title", "settled");
            if (must(replica.book.record(c.record)).kind != "case") return;
            break;
        }
        case 2:
            edit.operation = Operation::patch;
            edit.values.unset("artist");
            break;
        default:
            edit.operation = Operation::patch;
            edit.values.text(random() % 2 == 0 ? "title" : "artist", "text " + std::to_string(random() % 1000));
    }
    must(replica.book.commit(replica.author, {edit}));
}

}  // namespace

TEST_CASE("A thousand random histories of three replicas end alike in any order of merging") {
    for (unsigned history = 0; history < 1000; ++history) {
        CAPTURE(history);
        const TemporaryFolder folder(TemporaryFolder::quick_place());
        std::mt19937 random(history);
        std::vector<std::unique_ptr<Replica>> replicas;
        for (std::uint8_t i = 0; i < 3; ++i) {
            replicas.push_back(std::make_unique<Replica>(folder / std::to_string(i), static_cast<std::uint8_t>(i + 1),
                                                         std::chrono::milliseconds(random() % 2000)));
        }
        for (int step = 0; step < 12; ++step) {
            const std::size_t at = random() % 3;
            if (random() % 4 == 0) {
                must(replicas[at]->book.merge_from(replicas[(at + 1) % 3]->book));
            } else {
                act_at_random(*replicas[at], random);
            }
        }
        std::vector<std::pair<std::size_t, std::size_t>> pairs{{0, 1}, {1, 2}, {2, 0}, {1, 0}, {2, 1}, {0, 2}};
        for (int round = 0; round < 2; ++round) {
            std::shuffle(pairs.begin(), pairs.end(), random);
            for (const auto& [to, from] : pairs) must(replicas[to]->book.merge_from(replicas[from]->book));
        }
        const std::string first = state_of(replicas[0]->book);
        REQUIRE(state_of(replicas[1]->book) == first);
        REQUIRE(state_of(replicas[2]->book) == first);
        if (history % 50 == 0) {
            for (const auto& replica : replicas) {
                const CheckReport report = must(replica->book.check());
                REQUIRE(report.problems == std::vector<std::string>{});
                REQUIRE(must(replica->book.rebuild()));
            }
        }
    }
}

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
