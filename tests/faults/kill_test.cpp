// kill -9 at random moments of `tedge run … --script -` while cases and multi-megabyte photographs are written:
// whatever was answered is there, every file is whole.
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <memory>
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

constexpr int kills_per_book = 10;
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

// Noise does not compress: some five megabytes. A number behind its end, where no reader looks, makes each copy a file
// of its own, so that every one is written and none is there already.
class Pictures {
public:
    explicit Pictures(const fs::path& folder) : folder_(folder) {
        imaging::Raster16 raster(1100, 800, 3);
        std::mt19937 noise(20260304);
        for (std::uint16_t& sample : raster.samples()) sample = static_cast<std::uint16_t>(noise());
        REQUIRE(imaging::write_picture(folder / "first.tif", raster, imaging::PictureFormat::tiff));
        bytes_ = read_file(folder / "first.tif").value();
    }
    fs::path next() {
        const fs::path file = folder_ / "next.tif";
        std::ofstream(file, std::ios::binary) << bytes_ << "number " << ++count_;
        return file;
    }

private:
    fs::path folder_;
    std::string bytes_;
    int count_ = 0;
};

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

// A book with one case. A new one now and then, so that a check after every kill has not ever more to read.
struct Hunted {
    FixedClock clock;
    CountingIds ids{9};
    fs::path folder;
    std::string case_id;
    std::vector<std::string> answered;

    explicit Hunted(const fs::path& at) : folder(at) {
        fs::remove_all(folder);
        auto book = casebook::Casebook::create(folder, {&clock, &ids}).value();
        casebook::Edit edit;
        edit.kind = "case";
        edit.values.text("title", "River landscape");
        case_id = to_text(book.commit(book.person_named("Ada Wren").value(), {edit}).value().front());
    }

    // How many of what was answered are not there.
    std::size_t require_whole() {
        auto book = casebook::Casebook::open(folder, {&clock, &ids});
        REQUIRE(book);
        const auto report = book->check();
        REQUIRE(report);
        REQUIRE(report->problems == std::vector<std::string>{});
        const auto missing = std::ranges::count_if(
            answered, [&](const std::string& id) { return !book->record(parse_uuid(id).value()).has_value(); });
        return static_cast<std::size_t>(missing);
    }
};

struct Tally {
    std::size_t answers = 0;
    std::size_t photographs = 0;
    std::size_t missing = 0;
};

// Commands, each sent when the one before it is answered, until the program is gone.
void write_until_killed(Program& program, Hunted& book, Pictures& pictures, Tally& tally) {
    for (int i = 0; i < 200; ++i) {
        const std::string command = i % 3 == 0 ? "case add --title \"picture " + std::to_string(i) + "\"\n"
                                               : "photograph add " + book.case_id + " " + to_utf8(pictures.next()) +
                                                     " --face recto --light normal --when as-received\n";
        if (::fputs(command.c_str(), program.to) < 0 || ::fflush(program.to) != 0) return;
        const json answer = json::parse(read_line(program.from), nullptr, false);
        if (!answer.is_object()) return;
        REQUIRE_FALSE(answer.contains("error"));
        book.answered.push_back(answer["id"].get<std::string>());
        ++tally.answers;
        if (!answer.contains("sha256")) continue;
        REQUIRE(answer["already"] == false);
        ++tally.photographs;
    }
}

}  // namespace

TEST_CASE("Killed at random moments, the book keeps all that was answered and every file is whole") {
    std::signal(SIGPIPE, SIG_IGN);
    const TemporaryFolder folder;
    Pictures pictures(folder.path());
    std::mt19937 random(20260303);
    Tally tally;
    std::unique_ptr<Hunted> book;
    const int kills = wanted_kills();
    for (int round = 0; round < kills; ++round) {
        CAPTURE(round);
        if (round % kills_per_book == 0) book = std::make_unique<Hunted>(folder / "book");
        Program program(book->folder);
        // The killer sleeps on a thread of its own, so that the blow may fall in the middle of anything.
        const auto delay = std::chrono::milliseconds(20 + static_cast<int>(random() % 900));
        const std::jthread killer([pid = program.pid, delay] {
            std::this_thread::sleep_for(delay);
            ::kill(pid, SIGKILL);
        });
        write_until_killed(program, *book, pictures, tally);
        tally.missing += book->require_whole();
        REQUIRE(tally.missing == 0);
    }
    std::printf("%d kills, %zu answers, %zu photographs of five megabytes among them, %zu missing\n", kills,
                tally.answers, tally.photographs, tally.missing);
    // Enough to have been a test; how many a slow machine gets done is not its matter.
    CHECK(tally.answers >= 5);
}
