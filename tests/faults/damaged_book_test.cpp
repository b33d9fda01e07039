// The program before a book that a disk has spoilt: every answer is one sentence with what to do, and doing it helps.
#include "asked_program.hpp"
#include "must.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
namespace fs = std::filesystem;
using nlohmann::json;

namespace {

struct Spoilt {
    TemporaryFolder folder;
    AskedBook book{folder / "book"};

    Spoilt() {
        for (int i = 0; i < 30; ++i) {
            const Asked added = ask(book.adding_a_case());
            CAPTURE(added.out, added.err);
            REQUIRE(added.code() == 0);
        }
    }
    [[nodiscard]] fs::path database() const { return book.folder / "casebook.sqlite"; }
};

}  // namespace

TEST_CASE("A casebook cut short is damaged for every command, and the way out that is named leads out") {
    Spoilt spoilt;
    const std::string sound = must(read_file(spoilt.database()));
    must(write_file_durably(spoilt.database(), sound.substr(0, sound.size() - 4096)));
    for (const char* command : {"casebook check ", "casebook rebuild ", "case list ", "casebook conflicts "}) {
        require_refused(command + quoted(spoilt.book.folder), "casebook.damaged");
    }
    require_refused("casebook backup " + quoted(spoilt.book.folder) + " --to " + quoted(spoilt.folder / "backup"),
                    "casebook.damaged");
    CHECK(ask("casebook check " + quoted(spoilt.book.folder)).err.find("merge this one into it") != std::string::npos);
    REQUIRE(ask("casebook create " + quoted(spoilt.folder / "new")).code() == 0);
    const Asked merged =
        ask("casebook merge " + quoted(spoilt.folder / "new") + " --from " + quoted(spoilt.book.folder) + " --json");
    CAPTURE(merged.out, merged.err);
    CHECK(merged.code() == 0);
    CHECK(merged.fields()["changes"] > 20);
    CHECK(ask("case list " + quoted(spoilt.folder / "new") + " --json").fields()["cases"].size() > 20);

    must(write_file_durably(spoilt.database(), std::string(9000, '\0')));
    require_refused("casebook check " + quoted(spoilt.book.folder), "casebook.damaged");
    require_refused("casebook merge " + quoted(spoilt.folder / "new") + " --from " + quoted(spoilt.book.folder),
                    "casebook.damaged");
}

TEST_CASE("A backup that could not take every original names them and says by its exit code that it is not whole") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    REQUIRE(imaging::write_picture(folder / "photo.png", imaging::Raster8(40, 30, 3), imaging::PictureFormat::png));
    const Asked stored = ask(book.adding(folder / "photo.png") + " --json");
    std::string sha256;
    for (const auto& entry : fs::recursive_directory_iterator(book.folder / "originals")) {
        if (entry.is_regular_file()) sha256 = to_utf8(entry.path().filename());
    }
    CAPTURE(stored.out, stored.err);
    const std::string backup = "casebook backup " + quoted(book.folder) + " --to ";
    const Asked whole = ask(backup + quoted(folder / "first") + " --json");
    CHECK(whole.code() == 0);
    CHECK(whole.fields()["whole"] == true);
    CHECK(whole.fields()["originals"] == 1);
    CHECK(whole.fields()["left_out"].empty());

    REQUIRE(sha256.size() == 64);
    fs::remove(book.folder / "originals" / sha256.substr(0, 2) / sha256);
    const Asked half = ask(backup + quoted(folder / "second") + " --json");
    CHECK(half.code() == 3);
    CHECK(half.fields()["whole"] == false);
    CHECK(half.fields()["originals"] == 0);
    CHECK(half.fields()["left_out"][0]["sha256"] == sha256);
    CHECK(half.fields()["left_out"][0]["records"].size() == 1);
    CHECK(ask(backup + quoted(folder / "third")).out.find(sha256) != std::string::npos);

    REQUIRE(ask("casebook create " + quoted(folder / "new")).code() == 0);
    const Asked merged = ask("casebook merge " + quoted(folder / "new") + " --from " + quoted(book.folder) + " --json");
    CHECK(merged.code() == 0);
    CHECK(merged.fields()["faults"][0].get<std::string>().find(sha256) != std::string::npos);
}
