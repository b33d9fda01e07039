// Random histories of three replicas. The release build goes through a thousand; the sanitizer build, which needs many
// times as long for each, through the first hundred of the same.
#include <random>
#include <set>

#include "book_fixture.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

#ifdef __SANITIZE_ADDRESS__
constexpr unsigned history_count = 100;
#else
constexpr unsigned history_count = 1000;
#endif

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

// All that a book says, as one text: changes with their payloads, records with their bytes, conflicts.
std::string state_of(Casebook& book) {
    std::string text;
    std::set<Uuid> records;
    for (const Change& change : must(book.all_changes())) {
        records.insert(change.record);
        text += to_text(change.id) + to_hex(change.hash) + (change.public_payload ? change.public_payload->text : "-") +
                (change.personal_payload ? change.personal_payload->text : "-") + "\n";
    }
    for (const Uuid& id : records) {
        const Record record = must(book.record(id));
        text += to_text(id) + to_text(record.case_id) + record.kind + (record.deleted ? " deleted " : " ") +
                record.body.canonical_json() + to_text(record.first_written) + to_text(record.last_written);
        for (const Uuid& newest : record.newest_changes) text += to_text(newest);
        text += "\n";
    }
    for (const Conflict& c : must(book.conflicts())) {
        text += to_text(c.record) + c.path + to_text(c.earlier) + to_text(c.later) + "\n";
    }
    return text;
}

// Clocks differ by seconds; one in eight is a quarter of an hour ahead, beyond what moves another's.
std::chrono::milliseconds lead_of(std::mt19937& random) {
    return std::chrono::milliseconds(random() % 2000 + (random() % 8 == 0 ? 900'000 : 0));
}

template <class T>
const T& any_of(const std::vector<T>& list, std::mt19937& random) {
    return list[random() % list.size()];
}

// One random act on what the replica knows: cases and their map-valued notes, people and their personal fields.
class RandomActs {
public:
    RandomActs(Replica& replica, std::mt19937& random) : replica_(replica), random_(random) {}

    void act() {
        replica_.clock.advance(std::chrono::milliseconds(random_() % 50));
        const auto cases = must(replica_.book.cases());
        if (cases.empty() || draw(6) == 0) return open_case();
        const Uuid target = any_of(cases, random_).id;
        switch (draw(12)) {
            case 0:
                return commit(edit(Operation::remove, target));
            case 1:
                return settle_conflict();
            case 2:
                return commit(edit(Operation::patch, target, FieldValues().unset("artist")));
            case 3:
                return write_note(target);
            case 4:
                return write_about_person();
            case 5:
                return restore_something();
            case 6:
                if (draw(3) == 0) must(replica_.book.erase(replica_.author, any_person(), "asked"));
                return;
            default:
                return commit(edit(Operation::patch, target,
                                   FieldValues().text(draw(2) == 0 ? "title" : "artist", "text " + number())));
        }
    }

private:
    std::size_t draw(std::size_t below) { return random_() % below; }
    std::string number() { return std::to_string(random_() % 1000); }

    static Edit edit(Operation operation, const Uuid& record, const FieldValues& values = {}) {
        Edit made;
        made.operation = operation;
        made.record = record;
        made.values = values;
        return made;
    }

    void commit(const Edit& made) { must(replica_.book.commit(replica_.author, {made})); }

    void open_case() {
        Edit made;
        made.kind = "case";
        made.values.text("title", "picture " + number());
        commit(made);
    }

    void write_note(const Uuid& case_id) {
        const auto notes = must(replica_.book.records(case_id, "viewing_note"));
        const std::string path = "answers/" + std::string(1, static_cast<char>('a' + draw(3)));
        Edit made = notes.empty() ? Edit() : edit(Operation::patch, any_of(notes, random_).id);
        made.kind = "viewing_note";
        made.case_id = case_id;
        if (draw(4) == 0 && !notes.empty()) {
            made.values.unset(path);
        } else {
            made.values.text(path, number());
        }
        commit(made);
    }

    Uuid any_person() { return any_of(must(replica_.book.people()), random_).id; }

    void write_about_person() {
        Edit made = edit(Operation::patch, any_person(),
                         FieldValues().text(draw(2) == 0 ? "telephone" : "address", "private " + number()));
        made.reason = "met again";  // also of whom was erased: with a reason that may be
        commit(made);
    }

    void restore_something() {
        for (const Change& change : must(replica_.book.all_changes())) {
            if (change.operation != Operation::remove || !must(replica_.book.record(change.record)).deleted) continue;
            return commit(edit(Operation::restore, change.record));
        }
    }

    void settle_conflict() {
        const auto conflicts = must(replica_.book.conflicts());
        if (conflicts.empty()) return;
        const Conflict& conflict = any_of(conflicts, random_);
        Edit made = edit(Operation::resolve, conflict.record);
        made.names = {conflict.earlier, conflict.later};
        if (conflict.path == "title" || conflict.path == "artist") made.values.text(conflict.path, "settled");
        commit(made);
    }

    Replica& replica_;
    std::mt19937& random_;
};

}  // namespace

TEST_CASE("Random histories of three replicas end alike in any order of merging") {
    for (unsigned history = 0; history < history_count; ++history) {
        CAPTURE(history);
        const TemporaryFolder folder(TemporaryFolder::quick_place());
        std::mt19937 random(history);
        std::vector<std::unique_ptr<Replica>> replicas;
        for (std::uint8_t i = 0; i < 3; ++i) {
            replicas.push_back(std::make_unique<Replica>(folder / std::to_string(i), static_cast<std::uint8_t>(i + 1),
                                                         lead_of(random)));
        }
        for (int step = 0; step < 12; ++step) {
            const std::size_t at = random() % 3;
            if (random() % 4 == 0) {
                must(replicas[at]->book.merge_from(replicas[(at + 1) % 3]->book));
            } else {
                RandomActs(*replicas[at], random).act();
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
