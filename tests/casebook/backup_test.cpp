// A backup of a book in which not everything is sound, and merging with such a book.
#include <algorithm>
#include <thread>

#include "book_fixture.hpp"
#include "kept_file.hpp"
#include "mentions.hpp"
#include "raw_sql.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

// Three photographs: one as it was, one altered, one gone.
struct HalfLost : Book {
    Uuid id = add_case();
    std::string sound = photograph("sound");
    Uuid altered_record;
    std::string altered = photograph("altered");
    std::string missing = photograph("missing");

    HalfLost() {
        must(write_file_durably(book.original_path(altered), "altered by a failing disk"));
        fs::remove(book.original_path(missing));
    }

    std::string photograph(const std::string& bytes) {
        must(write_file_durably(folder / "photo", bytes));
        const std::string file = must(book.store_original(folder / "photo")).sha256;
        altered_record = add(
            id, "photograph",
            FieldValues().text("face", "recto").text("light", "normal").text("stage", "saleroom").text("sha256", file));
        return file;
    }
};

std::vector<std::string> names_of(const BackupReport& report) {
    std::vector<std::string> names;
    for (const LeftOut& file : report.left_out) names.push_back(file.sha256);
    std::ranges::sort(names);
    return names;
}

}  // namespace

TEST_CASE("A backup takes all that is sound and names every original that it could not take, with its record") {
    HalfLost b;
    const BackupReport report = must(b.book.back_up(b.folder / "backup"));
    CHECK_FALSE(report.is_whole());
    CHECK(report.originals == 1);
    std::vector<std::string> wanted{b.altered, b.missing};
    std::ranges::sort(wanted);
    CHECK(names_of(report) == wanted);
    for (const LeftOut& file : report.left_out) {
        CHECK(file.records.size() == 1);
        CHECK(file.sentence.find(file.sha256) != std::string::npos);
        CHECK(file.sentence.find(to_text(file.records.front())) != std::string::npos);
        CHECK(file.sentence.find(file.sha256 == b.missing ? "missing" : "altered") != std::string::npos);
    }
    Casebook copy = must(Casebook::open(b.folder / "backup", b.sources()));
    CHECK(fs::exists(copy.original_path(b.sound)));
    CHECK_FALSE(fs::exists(copy.original_path(b.altered)));
    CHECK(must(copy.check()).changes == must(b.book.check()).changes);
    CHECK(b.book.back_up(b.folder / "backup").error().code == "casebook.exists");
}

TEST_CASE("A backup of a sound book is whole, and an erased file is not missed in it") {
    Book b;
    const Uuid id = b.add_case();
    must(write_file_durably(b.folder / "paper", "a paper"));
    const std::string file = must(b.book.store_original(b.folder / "paper")).sha256;
    const Uuid document = b.add(id, "document", FieldValues().text("title", "A paper").text("sha256", file));
    CHECK(must(b.book.back_up(b.folder / "first")).originals == 1);
    must(b.book.erase(b.author, document, "term over"));
    const BackupReport report = must(b.book.back_up(b.folder / "second"));
    CHECK(report.is_whole());
    CHECK(report.originals == 0);
}

TEST_CASE("A backup of a damaged database says so, and holds what the changes name all the same") {
    HalfLost b;
    // Records that cannot be read, and a mark on a change that is not there.
    run_sql(b.path(), "DROP TABLE record; INSERT INTO clock_mark VALUES (zeroblob(16))");
    const BackupReport report = must(b.book.back_up(b.folder / "backup"));
    CHECK_FALSE(report.is_whole());
    CHECK(mentions(report.problems, "The database is damaged, and so is its copy"));
    CHECK(report.originals == 1);
    CHECK(report.left_out.size() == 2);
}

TEST_CASE("A backup that fails leaves nothing of the book behind") {
    HalfLost b;
    fs::create_directories(b.folder / "full");
    must(write_file_durably(b.folder / "full/originals", "no folder"));
    CHECK_FALSE(b.book.back_up(b.folder / "full"));
    for (const auto& entry : fs::directory_iterator(b.folder / "full")) CHECK(entry.path().filename() == "originals");
}

TEST_CASE("Of two backups to one folder at once one is there and whole, and the other says so") {
    Book b;
    const Uuid id = b.add_case();
    b.add(id, "document", FieldValues().text("title", "A paper").text("sha256", kept_file(b.book)));
    FixedClock clock;
    CountingIds ids{44};
    Casebook other = must(Casebook::open(b.path(), {&clock, &ids}));
    for (int round = 0; round < 8; ++round) {
        CAPTURE(round);
        const fs::path to = b.folder / ("copy" + std::to_string(round));
        fs::create_directories(to);
        must(write_file_durably(to / ".incoming-killed.sqlite", "half a book"));
        Expected<BackupReport> second = fail("test.not-run", "");
        std::thread thread([&] { second = other.back_up(to); });
        const auto first = b.book.back_up(to);
        thread.join();
        CHECK((first.has_value() || second.has_value()));
        for (const auto& report : {first, second}) {
            if (!report) CHECK(report.error().code == "casebook.exists");
        }
        CHECK(must(must(Casebook::open(to, b.sources())).check()).problems == std::vector<std::string>{});
        for (const auto& entry : fs::directory_iterator(to))
            CHECK_FALSE(to_utf8(entry.path().filename()).starts_with(".incoming-"));
    }
}

TEST_CASE("Merging tells of every original that the other book names and neither has") {
    HalfLost b;
    Book other(2);
    const MergeReport report = must(other.book.merge_from(b.book));
    CHECK(fs::exists(other.book.original_path(b.sound)));
    CHECK(mentions(report.faults, b.missing + " is named there but missing there too"));
    CHECK(mentions(report.faults, b.altered + " is damaged there"));
    CHECK(report.faults.size() == 2);

    // What stands here whole is not missed, whatever the other lacks.
    must(write_file_durably(other.folder / "photo", "missing"));
    must(other.book.store_original(other.folder / "photo"));
    CHECK_FALSE(mentions(must(other.book.merge_from(b.book)).faults, b.missing));
}
