// A house's whole book: 1,000 cases with 100,000 changes. Opening, searching and listing the cases in seconds; writing
// one change as a ratio to a plain SQLite transaction of the same durability (WAL, synchronous FULL) in the same run,
// act for act.
//
//   bench_casebook [FOLDER]     FOLDER (a disk, not memory) is made, filled and removed again
//
// Prints figures and judges none of them but two: ends with 1 when check or rebuild find something.
#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <random>
#include <stdexcept>

#include "tedge/base/files.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/usecases/cases.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

constexpr int case_count = 1000;
constexpr int changes_per_case = 100;  // the case itself, its parts, and edits of them
constexpr int parts_per_case = 40;
constexpr int photographs_per_case = 4;

template <class T>
T must(Expected<T> result) {
    if (!result) throw std::runtime_error(result.error().code + ": " + result.error().message);
    return std::move(*result);
}

double seconds_of(auto work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> values) {
    std::ranges::sort(values);
    return values[values.size() / 2];
}

constexpr std::array words{"river",    "ferry", "winter",  "mill",       "frozen", "lemons",  "harbour",  "dusk",
                           "old",      "man",   "flaking", "craquelure", "tear",   "fill",    "ochre",    "glaze",
                           "strainer", "label", "chalk",   "signature",  "letter", "invoice", "saleroom", "heirs"};

// One word in four is of the trade; the others are names and places, some thousands of them, as in real notes.
std::string word(std::mt19937& random) {
    constexpr std::array syllables{"ba",  "der", "hol", "ing", "jo",   "ken", "lau",
                                   "mer", "nor", "pel", "ri",  "sten", "tu",  "vel"};
    if (random() % 4 == 0) return words[random() % words.size()];
    std::string made;
    for (int i = 0; i < 3; ++i) made += syllables[random() % syllables.size()];
    return made;
}

std::string phrase(std::mt19937& random, int count) {
    std::string text;
    for (int i = 0; i < count; ++i) text += (i == 0 ? "" : " ") + word(random);
    return text;
}

double number(std::mt19937& random, unsigned below) {
    return static_cast<double>(random() % below);
}

Edit patch(const Uuid& record, std::string_view field, const std::string& text) {
    Edit edit;
    edit.operation = Operation::patch;
    edit.record = record;
    edit.values.text(field, text);
    return edit;
}

Edit part_of(const Uuid& case_id, const Uuid& frame, IdSource& ids, std::mt19937& random) {
    Edit edit;
    edit.case_id = case_id;
    edit.record = ids.next();
    if (random() % 2 == 0) {
        edit.kind = "finding";
        edit.values.record("face_frame", frame)
            .region("region", Region::rectangle({number(random, 700), number(random, 500)}, {20, 15}).value())
            .text("layer", "paint")
            .text("term", phrase(random, 2))
            .text("text", phrase(random, 12));
    } else {
        edit.kind = "provenance_link";
        edit.values.number("order", number(random, 100))
            .text("owner", phrase(random, 2))
            .text("source", phrase(random, 8));
    }
    return edit;
}

Edit in_case(const Uuid& case_id, std::string_view kind, FieldValues values, IdSource& ids) {
    Edit edit;
    edit.case_id = case_id;
    edit.record = ids.next();
    edit.kind = kind;
    edit.values = std::move(values);
    return edit;
}

// What all cases name.
struct House {
    Uuid holder;
    std::string photograph;  // digest of the file
};

// What a list of cases shows of each: where it is, who holds it, what falls due, its pictures.
void add_what_is_listed(std::vector<Edit>& edits, const Uuid& case_id, const House& house, IdSource& ids,
                        std::mt19937& random) {
    edits.push_back(in_case(
        case_id, "custody",
        FieldValues().text("place", phrase(random, 2)).text("from", "2026-03-03").record("holder", house.holder), ids));
    edits.push_back(
        in_case(case_id, "deadline", FieldValues().text("what", phrase(random, 3)).text("on", "2026-05-01"), ids));
    edits.push_back(in_case(case_id, "lot", FieldValues().text("saleroom", phrase(random, 2)), ids));
    edits.push_back(in_case(
        case_id, "survey",
        FieldValues().text("surveyed_on", "2026-03-04").text("face", "recto").text("loose_paint", "mapped"), ids));
    for (int i = 0; i < photographs_per_case; ++i) {
        edits.push_back(in_case(case_id, "photograph",
                                FieldValues()
                                    .text("face", i % 2 == 0 ? "recto" : "verso")
                                    .text("light", "normal")
                                    .text("stage", "as-received")
                                    .text("sha256", house.photograph),
                                ids));
    }
}

std::vector<Edit> one_case(int number, const House& house, IdSource& ids, std::mt19937& random) {
    std::vector<Edit> edits(2);
    edits[0].kind = "case";
    edits[0].record = ids.next();
    edits[0].values.text("title", fmt::format("{} {}", phrase(random, 3), number)).number("width_mm", 812);
    const Uuid case_id = edits[0].record;
    edits[1].kind = "face_frame";
    edits[1].record = ids.next();
    edits[1].case_id = case_id;
    edits[1].values.text("face", "recto").number("width_mm", 812).number("height_mm", 610);
    const Uuid frame = edits[1].record;
    for (int i = 0; i < parts_per_case; ++i) edits.push_back(part_of(case_id, frame, ids, random));
    const std::size_t parts = edits.size();
    add_what_is_listed(edits, case_id, house, ids, random);
    while (edits.size() < changes_per_case) {
        const Edit& part = edits[2 + random() % (parts - 2)];
        edits.push_back(patch(part.record, part.kind == "finding" ? "text" : "source", phrase(random, 10)));
    }
    return edits;
}

// The plainest thing that keeps as much: one row of the same size in one transaction, waited for.
class PlainTable {
public:
    explicit PlainTable(const fs::path& file) {
        sqlite3_open(file.c_str(), &db_);
        run("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE t (id INTEGER PRIMARY KEY, row BLOB)");
    }
    PlainTable(const PlainTable&) = delete;
    PlainTable& operator=(const PlainTable&) = delete;
    ~PlainTable() { sqlite3_close(db_); }

    void append() { run("BEGIN IMMEDIATE; INSERT INTO t (row) VALUES (randomblob(700)); COMMIT"); }

private:
    void run(const char* sql) {
        if (sqlite3_exec(db_, sql, nullptr, nullptr, nullptr) != SQLITE_OK)
            throw std::runtime_error(sqlite3_errmsg(db_));
    }
    sqlite3* db_ = nullptr;
};

struct Writing {
    double ours = 0.0;
    double plain = 0.0;
};

// Turn and turn about, so that both meet the same disk.
Writing write_turn_about(Casebook& book, const Uuid& author, const fs::path& folder, std::mt19937& random) {
    PlainTable plain(folder / "plain.sqlite");
    const auto cases = must(book.cases());
    std::vector<double> ours;
    std::vector<double> theirs;
    for (int i = 0; i < 500; ++i) {
        const Edit edit = patch(cases[random() % cases.size()].id, "subject", phrase(random, 10));
        ours.push_back(seconds_of([&] { must(book.commit(author, {edit})); }));
        theirs.push_back(seconds_of([&] { plain.append(); }));
    }
    return {median(ours), median(theirs)};
}

void print_search_times(Casebook& book) {
    std::vector<double> times;
    std::size_t hits = 0;
    for (const char* wanted : {"flaking", "frozen mill", "river ferry winter 7", "heirs lett", "ochre glaze tear",
                               "holder", "mervelk", "s", "nothing like it", "signature 999"}) {
        for (int i = 0; i < 5; ++i) times.push_back(seconds_of([&] { hits += must(book.search(wanted)).size(); }));
    }
    fmt::print("search: median {:.1f} ms, longest {:.1f} ms ({} hits)\n", 1e3 * median(times),
               1e3 * *std::ranges::max_element(times), hits);
}

// The median of five openings; the last one stays open.
Casebook open_five_times(const fs::path& folder, Sources sources) {
    std::vector<double> openings;
    for (int i = 0; i < 5; ++i) {
        openings.push_back(seconds_of([&] { must(Casebook::open(folder, sources)); }));
    }
    fmt::print("open: median {:.1f} ms, first {:.1f} ms, file {} MB\n", 1e3 * median(openings), 1e3 * openings.front(),
               fs::file_size(folder / "casebook.sqlite") >> 20U);
    return must(Casebook::open(folder, sources));
}

void list_cases(Casebook& book) {
    std::size_t listed = 0;
    const auto time = [&](auto list) {
        std::vector<double> times;
        for (int i = 0; i < 5; ++i) times.push_back(seconds_of([&] { listed = list(); }));
        return 1e3 * median(times);
    };
    const double one_by_one = time([&] {
        std::size_t count = 0;
        for (const Record& record : must(book.cases())) {
            count += usecases::card_of(must(book.snapshot(record.id))).title.empty() ? 0U : 1U;
        }
        return count;
    });
    const double at_once = time([&] { return must(usecases::cards(book)).size(); });
    const double with_gates = time([&] {
        KindsWanted kinds = usecases::kinds_on_cards();
        for (const std::string_view kind : kinds_asked_by_gates()) kinds.all_of.emplace_back(kind);
        return must(book.snapshots(kinds)).size();
    });
    fmt::print("cards of {} cases: {:.0f} ms, with what gates ask {:.0f} ms, case by case {:.0f} ms\n", listed, at_once,
               with_gates, one_by_one);
    const std::vector<Record> cases = must(book.cases());
    std::size_t at = 0;
    // What the rack reads after an act: the case that was changed, and what is contested.
    const double one = time([&] {
        const Uuid id = cases[(at += 97) % cases.size()].id;
        const bool titled = !usecases::card_of(must(book.snapshot(id))).title.empty();
        return must(book.conflicts()).size() + (titled ? 1U : 0U);
    });
    fmt::print("one card after an act: {:.1f} ms, ratio to reading the rack {:.4f}\n", one, one / with_gates);
}

void fill(const fs::path& folder, Sources sources, std::mt19937& random) {
    Casebook book = must(Casebook::create(folder, sources));
    const Uuid author = must(book.person_named("Ada Wren"));
    if (!write_file_durably(folder.parent_path() / "photograph", "a photograph")) throw std::runtime_error("disk");
    const House house{author, must(book.store_original(folder.parent_path() / "photograph")).sha256};
    const double filling = seconds_of([&] {
        for (int i = 0; i < case_count; ++i) must(book.commit(author, one_case(i, house, *sources.ids, random)));
    });
    fmt::print("filled in {:.1f} s\n", filling);
}

// True when check and rebuild find nothing.
bool run(const fs::path& folder) {
    SystemClock clock;
    SystemIdSource ids(clock);
    std::mt19937 random(3);
    fill(folder / "book", {&clock, &ids}, random);
    Casebook book = open_five_times(folder / "book", {&clock, &ids});
    const Uuid author = must(book.person_named("Ada Wren"));
    print_search_times(book);
    const Uuid some_case = must(book.cases())[500].id;
    fmt::print("snapshot of a case: {:.1f} ms\n", 1e3 * seconds_of([&] { must(book.snapshot(some_case)); }));
    list_cases(book);
    const Writing writing = write_turn_about(book, author, folder, random);
    fmt::print("append: {:.2f} ms, plain transaction {:.2f} ms, ratio {:.2f}\n", 1e3 * writing.ours,
               1e3 * writing.plain, writing.ours / writing.plain);
    CheckReport report;
    const double checking = seconds_of([&] { report = must(book.check()); });
    fmt::print("check: {:.1f} s, {} changes, {} problems\n", checking, report.changes, report.problems.size());
    bool identical = false;
    const double rebuilding = seconds_of([&] { identical = must(book.rebuild()); });
    fmt::print("rebuild: {:.1f} s, identical: {}\n", rebuilding, identical);
    return report.ok() && identical;
}

}  // namespace

int main(int count, char** arguments) {
    const fs::path folder = count > 1 ? fs::path(arguments[1]) : fs::temp_directory_path() / "tedge-bench-casebook";
    fs::remove_all(folder);
    fs::create_directories(folder);
    int status = 0;
    try {
        status = run(folder) ? 0 : 1;
    } catch (const std::exception& problem) {
        fmt::print("{}\n", problem.what());
        status = 1;
    }
    fs::remove_all(folder);
    return status;
}
