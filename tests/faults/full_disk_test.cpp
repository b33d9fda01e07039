// A disk without room, a folder that may not be written to, a newer book, another program at work: each told in one
// sentence, and nothing that was saved is lost.
#include <sqlite3.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <random>
#include <thread>

#include "asked_program.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
namespace fs = std::filesystem;

namespace {

// Noise does not compress: some five megabytes.
fs::path large_picture(const fs::path& file) {
    imaging::Raster16 raster(1100, 800, 3);
    std::mt19937 noise(11);
    for (std::uint16_t& sample : raster.samples()) sample = static_cast<std::uint16_t>(noise());
    REQUIRE(imaging::write_picture(file, raster, imaging::PictureFormat::tiff).has_value());
    return file;
}

// A small disk of its own, in memory; only the system's administrator may mount one.
class SmallDisk {
public:
    explicit SmallDisk(const fs::path& at) : at_(at) {
        fs::create_directories(at_);
        mounted_ = ::geteuid() == 0 && shell("mount -t tmpfs -o size=12m tmpfs");
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;
    ~SmallDisk() {
        if (mounted_) static_cast<void>(shell("umount -l"));
    }

    [[nodiscard]] bool is_there() const { return mounted_; }
    [[nodiscard]] fs::path path() const { return at_; }
    void make_read_only() { REQUIRE(shell("mount -o remount,ro")); }
    // Writes until so much room is left.
    void fill_up(std::uintmax_t bytes_left) const {
        std::ofstream filler(at_ / "filler", std::ios::app | std::ios::binary);
        const std::string piece(4096, 'f');
        while (fs::space(at_).available > bytes_left && filler) filler << piece << std::flush;
    }
    void make_room() const { fs::remove(at_ / "filler"); }

private:
    [[nodiscard]] bool shell(const std::string& command) const {
        return std::system((command + " " + quoted(at_) + " 2>/dev/null").c_str()) == 0;
    }
    fs::path at_;
    bool mounted_ = false;
};

void run_sql(const fs::path& book, const char* sql) {
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((book / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    CHECK(sqlite3_exec(db, sql, nullptr, nullptr, nullptr) == SQLITE_OK);
    sqlite3_close(db);
}

}  // namespace

TEST_CASE("On a full disk neither a photograph nor a record is half-written") {
    const TemporaryFolder folder;
    const SmallDisk disk(folder / "disk");
    if (!disk.is_there()) {
        WARN("no small disk can be mounted here: tried with a limit on file sizes only");
        return;
    }
    const AskedBook book(disk.path() / "book");
    const fs::path picture = large_picture(folder / "large.tif");
    disk.fill_up(2 << 20);
    require_refused(book.adding(picture), "files.disk-full");
    disk.fill_up(0);
    require_refused(book.adding_a_case(), "casebook.disk-full");
    disk.make_room();
    book.require_sound(1, 0);
    CHECK(ask(book.adding(picture)).code() == 0);
    CHECK(ask(book.adding_a_case()).code() == 0);
    book.require_sound(2, 1);
}

TEST_CASE("A limit on the size of files is told like a full disk, and does not end the program") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    const fs::path picture = large_picture(folder / "large.tif");
    require_refused(book.adding(picture), "files.disk-full", "ulimit -f 4000;");  // 512 bytes each
    require_refused(book.adding_a_case(), "casebook.disk-full", "ulimit -f 65;");
    book.require_sound(1, 0);
    CHECK(ask(book.adding(picture)).code() == 0);
    book.require_sound(1, 1);
}

TEST_CASE("A folder that may not be written to is read and checked, and writing is refused") {
    const TemporaryFolder folder;
    SmallDisk disk(folder / "disk");
    const AskedBook book(disk.path() / "book");
    const auto may_write = fs::perms::owner_write | fs::perms::group_write | fs::perms::others_write;
    if (disk.is_there()) {
        disk.make_read_only();
    } else {
        for (const fs::path& path : {book.folder / "casebook.sqlite", book.folder}) {
            fs::permissions(path, may_write, fs::perm_options::remove);
        }
    }
    require_refused(book.adding_a_case(), "casebook.read-only");
    require_refused(book.adding(large_picture(folder / "large.tif")), "casebook.read-only");
    CHECK(ask("case show " + quoted(book.folder) + " " + book.case_id).code() == 0);
    book.require_sound(1, 0);
    if (disk.is_there()) require_refused("casebook create " + quoted(disk.path() / "new"), "files.read-only");
    if (!disk.is_there()) fs::permissions(book.folder, fs::perms::owner_all);
}

TEST_CASE("A book of a newer program is shown, and not written to") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    run_sql(book.folder, "PRAGMA user_version = 99");
    require_refused(book.adding_a_case(), "casebook.read-only");
    CHECK(ask(book.adding_a_case()).err.find("newer") != std::string::npos);
    CHECK(ask("case show " + quoted(book.folder) + " " + book.case_id).code() == 0);
    book.require_sound(1, 0);
    // What a newer program adds to the tables is left as it is.
    run_sql(book.folder, "PRAGMA user_version = 1");
    book.require_sound(1, 0);
}

TEST_CASE("While another program holds the book, a writer waits, then says so; a reader does not wait") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    sqlite3* other = nullptr;
    REQUIRE(sqlite3_open((book.folder / "casebook.sqlite").c_str(), &other) == SQLITE_OK);
    REQUIRE(sqlite3_exec(other, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr) == SQLITE_OK);
    const auto begin = std::chrono::steady_clock::now();
    CHECK(ask("case list " + quoted(book.folder)).code() == 0);
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(4));  // a writer waits five
    require_refused(book.adding_a_case(), "casebook.busy");
    sqlite3_close(other);
    book.require_sound(1, 0);
}

TEST_CASE("Two programs that write at the same time both get everything in") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    constexpr std::size_t each = 40;
    std::ofstream script(folder / "script");
    for (std::size_t i = 0; i < each; ++i) script << "case add --title 'picture " << i << "'\n";
    script.close();
    std::array<Asked, 2> ran;
    {
        std::vector<std::jthread> programs;
        for (Asked& one : ran) {
            programs.emplace_back([&] {
                one = ask("run " + quoted(book.folder) + " --by 'Ada Wren' --script " + quoted(folder / "script"));
            });
        }
    }
    for (const Asked& one : ran) {
        CAPTURE(one.out, one.err);
        CHECK(one.code() == 0);
        CHECK(one.err.empty());
        CHECK(static_cast<std::size_t>(std::count(one.out.begin(), one.out.end(), '\n')) == each);
    }
    book.require_sound(1 + 2 * each, 0);
}
