#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "book_fixture.hpp"
#include "raw_sql.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

Edit case_titled(std::string_view title) {
    Edit edit;
    edit.kind = "case";
    edit.values.text("title", title);
    return edit;
}

}  // namespace

TEST_CASE("Opening has a named outcome") {
    Book b;
    CHECK(b.book.opening() == Opening::created);
    b.add_case();
    {
        const Casebook again = must(Casebook::open(b.path(), b.sources()));
        CHECK(again.opening() == Opening::current);
        CHECK(again.replica() == b.book.replica());
        CHECK_FALSE(again.read_only());
    }
    CHECK(Casebook::create(b.path(), b.sources()).error().code == "casebook.exists");
    CHECK(Casebook::open(b.folder / "nowhere", b.sources()).error().code == "casebook.missing");
}

TEST_CASE("A book of a newer program opens for reading only, and says so when written to") {
    Book b;
    const Uuid id = b.add_case();
    run_sql(b.path(), "PRAGMA user_version = 99");
    Casebook newer = must(Casebook::open(b.path(), b.sources()));
    CHECK(newer.opening() == Opening::newer_read_only);
    CHECK(must(newer.record(id)).body.has("title"));
    CHECK(newer.commit(b.author, {case_titled("x")}).error().code == "casebook.read-only");
    CHECK(newer.rebuild().error().code == "casebook.read-only");
}

TEST_CASE("What is no casebook is not taken for one") {
    const TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids;
    must(make_folder_durably(folder / "text"));
    must(write_file_durably(folder / "text/casebook.sqlite", std::string(5000, 't')));
    CHECK(Casebook::open(folder / "text", {&clock, &ids}).error().code == "casebook.not-a-casebook");
    must(make_folder_durably(folder / "other"));
    run_sql(folder / "other", "CREATE TABLE t (a); PRAGMA application_id = 5");
    CHECK(Casebook::open(folder / "other", {&clock, &ids}).error().code == "casebook.not-a-casebook");
    must(make_folder_durably(folder / "empty"));
    must(write_file_durably(folder / "empty/casebook.sqlite", ""));
    CHECK(Casebook::open(folder / "empty", {&clock, &ids}).error().code == "casebook.not-a-casebook");
}

TEST_CASE("A record of a newer schema is shown but not edited, and its unknown fields are kept") {
    Book b;
    const Uuid id = b.add_case();
    auto changes = must(b.book.history(id));
    Change newer = changes.back();
    newer.id = b.ids.next();
    newer.number += 1;
    newer.previous = changes.back().hash;
    newer.seen = {changes.back().id};
    newer.operation = Operation::patch;
    newer.schema = 2;
    newer.public_payload->text = R"({"set":{"frame_history":"carved"}})";
    newer.public_digest = payload_digest(*newer.public_payload);
    newer.hash = change_hash(newer);
    must(b.book.merge({newer}));
    const Record record = must(b.book.record(id));
    CHECK(record.newer);
    CHECK(record.body.text("frame_history") == "carved");
    CHECK(b.change(id, Operation::patch, FieldValues().text("title", "x")).error().code == "casebook.newer-record");
    CHECK(must(b.book.check()).ok());
}

TEST_CASE("A second program that holds the book is waited for, then named in one sentence") {
    Book b;
    sqlite3* other = nullptr;
    REQUIRE(sqlite3_open((b.path() / "casebook.sqlite").c_str(), &other) == SQLITE_OK);
    REQUIRE(sqlite3_exec(other, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr) == SQLITE_OK);
    const auto refused = b.book.commit(b.author, {case_titled("x")});
    CHECK(refused.error().code == "casebook.busy");
    CHECK(must(b.book.cases()).empty());  // reading goes on
    REQUIRE(sqlite3_exec(other, "COMMIT", nullptr, nullptr, nullptr) == SQLITE_OK);
    sqlite3_close(other);
    CHECK(b.book.commit(b.author, {case_titled("x")}).has_value());
}

TEST_CASE("Several programs write into one book at once and nothing is lost") {
    const TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids(200);
    Casebook book = must(Casebook::create(folder / "book", {&clock, &ids}));
    std::vector<pid_t> children;
    for (std::uint8_t child = 0; child < 4; ++child) {
        const pid_t pid = fork();
        if (pid == 0) {
            SystemClock own_clock;
            SystemIdSource own_ids(own_clock);
            auto own = Casebook::open(folder / "book", {&own_clock, &own_ids});
            bool ok = own.has_value();
            const auto author =
                ok ? own->person_named("Writer " + std::to_string(child)) : Expected<Uuid>(fail("", ""));
            for (int i = 0; i < 25 && ok && author; ++i)
                ok = own->commit(*author, {case_titled("picture")}).has_value();
            _exit(ok && author ? 0 : 1);
        }
        children.push_back(pid);
    }
    const std::int64_t version_before = must(book.data_version());
    for (const pid_t pid : children) {
        int status = 0;
        waitpid(pid, &status, 0);
        CHECK(status == 0);
    }
    CHECK(must(book.cases()).size() == 100);
    CHECK(must(book.check()).problems == std::vector<std::string>{});
    CHECK(must(book.data_version()) != version_before);
}

TEST_CASE("A full disk gives a sentence, and what was saved before is whole") {
    Book b;
    b.add_case("Before");
    const pid_t pid = fork();
    if (pid == 0) {
        // In a child, for the limit counts for the whole process.
        std::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{300'000, 300'000};
        setrlimit(RLIMIT_FSIZE, &limit);
        SystemClock clock;
        SystemIdSource ids(clock);
        auto own = Casebook::open(b.path(), {&clock, &ids});
        if (!own) _exit(2);
        for (int i = 0; i < 400; ++i) {
            const auto done = own->commit(b.author, {case_titled(std::string(2000, 'x'))});
            if (!done) _exit(done.error().code == "casebook.disk-full" && !done.error().next.empty() ? 0 : 3);
        }
        _exit(4);
    }
    int status = 0;
    waitpid(pid, &status, 0);
    CHECK(WEXITSTATUS(status) == 0);
    Casebook after = must(Casebook::open(b.path(), b.sources()));
    CHECK(must(after.check()).problems == std::vector<std::string>{});
    CHECK(must(after.cases()).front().body.text("title") == "Before");
}

TEST_CASE("A folder that cannot be written to opens for reading") {
    Book b;
    const Uuid id = b.add_case();
    const fs::path copy = b.folder / "copy";
    {
        Casebook closing = must(Casebook::open(b.path(), b.sources()));
        must(closing.back_up(copy));
    }
    fs::permissions(copy / "casebook.sqlite", fs::perms::owner_read);
    fs::permissions(copy, fs::perms::owner_read | fs::perms::owner_exec);
    const pid_t pid = fork();
    if (pid == 0) {
        // Root may write anywhere; the test means an ordinary person.
        if (geteuid() == 0 && (chmod(b.folder.path().c_str(), 0755) != 0 || chown(copy.c_str(), 65534, 65534) != 0 ||
                               chown((copy / "casebook.sqlite").c_str(), 65534, 65534) != 0 || setuid(65534) != 0)) {
            _exit(9);
        }
        auto opened = Casebook::open(copy, b.sources());
        if (!opened) _exit(2);
        if (opened->opening() != Opening::folder_read_only) _exit(3);
        if (!opened->record(id)) _exit(4);
        const auto refused = opened->commit(b.author, {case_titled("x")});
        _exit(!refused && refused.error().code == "casebook.read-only" ? 0 : 5);
    }
    int status = 0;
    waitpid(pid, &status, 0);
    CHECK(WEXITSTATUS(status) == 0);
    fs::permissions(copy, fs::perms::owner_all);
}

TEST_CASE("A creation that was cut short can be gone on with; a foreign database is not touched") {
    const TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids;
    must(make_folder_durably(folder / "cut"));
    must(write_file_durably(folder / "cut/casebook.sqlite", ""));
    CHECK(Casebook::create(folder / "cut", {&clock, &ids}).has_value());
    must(make_folder_durably(folder / "other"));
    run_sql(folder / "other", "CREATE TABLE t (a); PRAGMA application_id = 5");
    const std::string before = must(read_file(folder / "other/casebook.sqlite"));
    CHECK(Casebook::create(folder / "other", {&clock, &ids}).error().code == "casebook.exists");
    CHECK(must(read_file(folder / "other/casebook.sqlite")) == before);
}

TEST_CASE("Views follow the field tables of the program that opens the book") {
    Book b;
    b.add_case("Winter landscape");
    run_sql(b.path(), "DROP VIEW case_view; UPDATE book SET views = 'made by an older program'");
    Casebook again = must(Casebook::open(b.path(), b.sources()));
    run_sql(b.path(), "CREATE TABLE probe AS SELECT title, artist, width_mm FROM case_view");
}

namespace {

// A writer that dies: what it committed last lies in the log beside the file.
void leave_log_behind(const fs::path& folder) {
    const pid_t pid = fork();
    if (pid == 0) {
        SystemClock clock;
        SystemIdSource ids(clock);
        auto book = Casebook::open(folder, {&clock, &ids});
        const auto author = book ? book->person_named("Ada Wren") : Expected<Uuid>(fail("", ""));
        _exit(author && book->commit(*author, {case_titled("Last before the fall")}) ? 0 : 1);
    }
    int status = 0;
    waitpid(pid, &status, 0);
    REQUIRE(WEXITSTATUS(status) == 0);
    REQUIRE(fs::file_size(folder / "casebook.sqlite-wal") > 0);
}

// How many cases an ordinary person without the right to write sees; 100 and more: what went wrong.
int cases_seen_without_rights(const Book& b, const fs::path& folder, Sources sources) {
    const pid_t pid = fork();
    if (pid == 0) {
        if (geteuid() == 0 && (chmod(b.folder.path().c_str(), 0755) != 0 || setuid(65534) != 0)) _exit(101);
        auto opened = Casebook::open(folder, sources);
        if (!opened || opened->opening() != Opening::folder_read_only) _exit(102);
        const auto cases = opened->cases();
        _exit(cases ? static_cast<int>(cases->size()) : 103);
    }
    int status = 0;
    waitpid(pid, &status, 0);
    return WEXITSTATUS(status);
}

}  // namespace

TEST_CASE("In a folder that cannot be written to, what lies in the log is read too") {
    Book b;
    b.add_case("First");
    const fs::path copy = b.folder / "copy";
    must(b.book.back_up(copy));
    leave_log_behind(copy);
    const bool with_memory = GENERATE(true, false);
    if (!with_memory) fs::remove(copy / "casebook.sqlite-shm");
    const auto readable = fs::perms::owner_read | fs::perms::group_read | fs::perms::others_read;
    for (const auto& entry : fs::directory_iterator(copy)) {
        if (entry.is_regular_file()) fs::permissions(entry.path(), readable);
    }
    fs::permissions(copy, readable | fs::perms::owner_exec | fs::perms::group_exec | fs::perms::others_exec);
    CHECK(cases_seen_without_rights(b, copy, b.sources()) == 2);
    fs::permissions(copy, fs::perms::owner_all);
}
