#include "tedge/base/files.hpp"

#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <fstream>

#include "tedge/base/digest.hpp"
#include "tedge/base/own_files.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
namespace fs = std::filesystem;

namespace {

std::size_t entries(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

// Lets no file of this process grow beyond `bytes` while it lives: what a full disk does to a writer.
class FullDisk {
public:
    explicit FullDisk(rlim_t bytes) : old_handler_(std::signal(SIGXFSZ, SIG_IGN)) {
        getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit now{bytes, before_.rlim_max};
        setrlimit(RLIMIT_FSIZE, &now);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;
    ~FullDisk() {
        setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, old_handler_);
    }

private:
    rlimit before_{};
    void (*old_handler_)(int);
};

}  // namespace

TEST_CASE("A file written durably is there in full, with nothing beside it") {
    const TemporaryFolder folder;
    REQUIRE(write_file_durably(folder / "note.txt", "first"));
    REQUIRE(write_file_durably(folder / "note.txt", "second"));
    CHECK(read_file(folder / "note.txt") == "second");
    CHECK(entries(folder.path()) == 1);
}

TEST_CASE("A full disk leaves the old file as it was and nothing of the new one") {
    const TemporaryFolder folder;
    REQUIRE(write_file_durably(folder / "note.txt", "old"));
    Expected<void> written;
    {
        const FullDisk full(1000);
        written = write_file_durably(folder / "note.txt", std::string(5000, 'n'));
    }
    REQUIRE_FALSE(written.has_value());
    CHECK(written.error().code == "files.disk-full");
    CHECK(read_file(folder / "note.txt") == "old");
    CHECK(entries(folder.path()) == 1);
}

TEST_CASE("What cannot be read says so") {
    const TemporaryFolder folder;
    CHECK(read_file(folder / "none").error().code == "files.missing");
    CHECK(read_file(folder.path()).error().code == "files.unreadable");
    REQUIRE(write_file_durably(folder / "big", std::string(100, 'b')));
    CHECK(read_file(folder / "big", 99).error().code == "files.too-large");
    CHECK(read_file(folder / "big", 100).has_value());
}

TEST_CASE("A file taken in carries its digest and disappears unless it is published") {
    const TemporaryFolder folder;
    REQUIRE(write_file_durably(folder / "from", "picture"));
    {
        const auto dropped = IncomingFile::copy(folder / "from", folder.path());
        REQUIRE(dropped);
        CHECK(entries(folder.path()) == 2);
    }
    CHECK(entries(folder.path()) == 1);

    auto kept = IncomingFile::copy(folder / "from", folder.path());
    REQUIRE(kept);
    CHECK(kept->sha256_hex() == to_hex(sha256("picture")));
    CHECK(kept->size_bytes() == 7);
    REQUIRE(kept->publish(folder / "to"));
    CHECK(read_file(folder / "to") == "picture");
    CHECK(entries(folder.path()) == 2);
}

TEST_CASE("Folders are made with their parents, and paths are UTF-8") {
    const TemporaryFolder folder;
    const fs::path deep = folder / path_from_utf8("Käse") / "αβ";
    REQUIRE(make_folder_durably(deep));
    REQUIRE(make_folder_durably(deep));
    CHECK(fs::is_directory(deep));
    CHECK(to_utf8(deep.filename()) == "αβ");
    REQUIRE(write_file_durably(folder / "taken", "a file"));
    CHECK(make_folder_durably(folder / "taken").error().code == "files.unwritable");
    CHECK(make_folder_durably(folder / std::string(300, 'n')).error().code == "files.unwritable");
    CHECK(check_is_file(folder / "taken"));
    CHECK(check_is_file(folder.path()).error().code == "files.unreadable");
    CHECK(check_is_file("/dev/null").error().code == "files.unreadable");
    CHECK(check_is_file(folder / "none").error().code == "files.missing");
}

TEST_CASE("A table is written over one with the same heads, and over nothing else") {
    const TemporaryFolder folder;
    const auto file = folder / "list.csv";
    REQUIRE(write_table_durably(file, "number,title\n1,Ferry\n"));
    REQUIRE(write_table_durably(file, "number,title\n2,Mill\n"));
    CHECK(read_file(file).value() == "number,title\n2,Mill\n");
    const auto refused = write_table_durably(file, "month,needed\n");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "table.exists");
    CHECK(refused.error().message.find("list.csv already, and it is no such table") != std::string::npos);
    CHECK(read_file(file).value() == "number,title\n2,Mill\n");
    fs::create_directory(folder / "book");
    CHECK(write_table_durably(folder / "book", "number,title\n").error().code == "table.exists");
}
