// kill -9 at random moments of `tedge run … --script -` while cases and multi-megabyte photographs are written:
// whatever was answered is there, every file is whole.
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <random>
#include <thread>

#include "fixed_sources.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

constexpr int pictures = 12;
constexpr int kills_by_default = 25;

int wanted_kills() {
    const char* asked = std::getenv("TEDGE_KILLS");
    return asked != nullptr ? std::atoi(asked) : kills_by_default;
}

// The program of this build, or the one that the environment names.
std::string program_path() {
    const char* named = std::getenv("TEDGE_PROGRAM");
    return named != nullptr ? named : TEDGE_PROGRAM;
}

// Noise does not compress: some five megabytes each, no two alike.
void make_pictures(const fs::path& folder) {
    for (int i = 0; i < pictures; ++i) {
        imaging::Raster16 raster(1100, 800, 3);
        std::mt19937 noise(static_cast<unsigned>(i));
        for (std::uint16_t& sample : raster.samples()) sample = static_cast<std::uint16_t>(noise());
        REQUIRE(
            imaging::write_picture(folder / ("p" + std::to_string(i) + ".tif"), raster, imaging::PictureFormat::tiff));
    }
}

struct Program {
    pid_t pid = -1;
    FILE* to = nullptr;
    FILE* from = nullptr;

    explicit Program(const fs::path& book) {
        const std::string path = program_path();
        int in[2];
        int out[2];
        REQUIRE(::pipe(in) == 0);
        REQUIRE(::pipe(out) == 0);
        pid = ::fork();
        if (pid == 0) {
            ::dup2(in[0], 0);
            ::dup2(out[1], 1);
            for (const int end : {in[0], in[1], out[0], out[1]}) ::close(end);
            ::execl(path.c_str(), "tedge", "run", book.c_str(), "--script", "-", "--by", "Ada Wren", nullptr);
            ::_exit(127);
        }
        ::close(in[0]);
        ::close(out[1]);
        to = ::fdopen(in[1], "w");
        from = ::fdopen(out[0], "r");
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    ~Program() {
        ::fclose(to);
        ::fclose(from);
        ::waitpid(pid, nullptr, 0);
    }
};

std::string read_line(FILE* from) {
    std::string line;
    for (int c = ::fgetc(from); c != EOF && c != '\n'; c = ::fgetc(from)) line += static_cast<char>(c);
    return line;
}

}  // namespace

TEST_CASE("Killed at random moments, the book keeps all that was answered and every file is whole") {
    std::signal(SIGPIPE, SIG_IGN);
    const TemporaryFolder folder;
    make_pictures(folder.path());
    FixedClock clock;
    CountingIds ids(9);
    const fs::path book_folder = folder / "book";
    std::string case_id;
    {
        auto book = casebook::Casebook::create(book_folder, {&clock, &ids}).value();
        casebook::Edit edit;
        edit.kind = "case";
        edit.values.text("title", "River landscape");
        case_id = to_text(book.commit(book.person_named("Ada Wren").value(), {edit}).value().front());
    }
    std::mt19937 random(20260303);
    std::vector<std::string> answered;
    std::size_t photographs = 0;
    std::size_t missing = 0;
    const int kills = wanted_kills();
    for (int round = 0; round < kills; ++round) {
        CAPTURE(round);
        Program program(book_folder);
        // The killer sleeps on a thread of its own, so that the blow may fall in the middle of anything.
        const auto delay = std::chrono::milliseconds(20 + static_cast<int>(random() % 900));
        const std::jthread killer([pid = program.pid, delay] {
            std::this_thread::sleep_for(delay);
            ::kill(pid, SIGKILL);
        });
        for (int i = 0; i < 200; ++i) {
            const int which = static_cast<int>(random() % pictures);
            const std::string command =
                i % 3 == 0 ? "case add --title \"picture " + std::to_string(round * 1000 + i) + "\"\n"
                           : "photograph add " + case_id + " " + to_utf8(folder.path()) + "/p" + std::to_string(which) +
                                 ".tif --face recto --light normal --when as-received\n";
            if (::fputs(command.c_str(), program.to) < 0 || ::fflush(program.to) != 0) break;
            const json answer = json::parse(read_line(program.from), nullptr, false);
            if (!answer.is_object()) break;
            REQUIRE_FALSE(answer.contains("error"));
            answered.push_back(answer["id"].get<std::string>());
            if (answer.contains("sha256")) ++photographs;
        }
        auto book = casebook::Casebook::open(book_folder, {&clock, &ids});
        REQUIRE(book);
        const auto report = book->check();
        REQUIRE(report);
        REQUIRE(report->problems == std::vector<std::string>{});
        missing = static_cast<std::size_t>(std::ranges::count_if(
            answered, [&](const std::string& id) { return !book->record(parse_uuid(id).value()).has_value(); }));
        REQUIRE(missing == 0);
    }
    std::printf("%d kills, %zu answers, %zu photographs among them, %zu missing\n", kills, answered.size(), photographs,
                missing);
    // Enough to have been a test; how many a slow machine gets done is not its matter.
    CHECK(answered.size() >= 5);
}
