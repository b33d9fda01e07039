// Input that nobody would type and a broken script, a full disk or a stranger's file brings: a sentence, never a crash.
#include <sys/stat.h>

#include <string>

#include "asked_program.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

struct Book : TemporaryFolder, AskedBook {
    Book() : AskedBook(*this / "book") {}

    [[nodiscard]] std::string path() const { return quoted(folder); }
    [[nodiscard]] std::string recto() const {
        const Asked faces = ask("face list " + path() + " " + case_id + " --json");
        return faces.fields()["frames"][0]["id"].get<std::string>();
    }
};

std::string nested(int deep) {
    return R"({"answers": )" + std::string(static_cast<std::size_t>(deep), '[') +
           std::string(static_cast<std::size_t>(deep), ']') + "}";
}

void require_wrong_use(const std::string& arguments, const std::string& code) {
    CAPTURE(arguments.substr(0, 200));
    const Asked asked = ask(arguments + " --json");
    REQUIRE_FALSE(asked.crashed());
    CHECK(asked.code() == 2);
    CHECK(asked.fields()["error"]["code"] == code);
}

}  // namespace

TEST_CASE("Values nested without end, or that name a field twice, are refused in a sentence") {
    const Book book;
    require_wrong_use(book.adding("viewing_note", nested(50'000)), "usage.not-values");
    const std::string any_id = book.recto();
    require_wrong_use("photograph forecast " + book.path() + " " + any_id + " --cleaned " + any_id + " --windows '[" +
                          nested(50'000) + "]'",
                      "usage.not-windows");
    require_wrong_use(book.adding("deadline", R"({"what": "a", "what": "b", "on": "2026-03-01"})"), "usage.not-values");
    require_wrong_use(book.adding("viewing_note", R"({"answers": {"a": {"note": "x", "note": "y"}}})"),
                      "usage.not-values");
    CHECK(ask(book.adding("viewing_note", R"({"answers": {"a": {"note": "x"}, "b": {"note": "x"}}})")).code() == 0);
}

TEST_CASE("Output that cannot be written is told, and no script goes on in silence") {
    const Book book;
    const Asked asked = ask("case list " + book.path() + " >/dev/full");
    CHECK(asked.code() == 1);
    CHECK(asked.err.find("cannot be written") != std::string::npos);
    const std::string line =
        R"(record add )" + book.case_id + R"( deadline "{\"what\": \"collect\", \"on\": \"2026-03-01\"}")";
    const Asked run =
        ask("run " + book.path() + " --script - >/dev/full", "printf '%s\\n%s\\n' '" + line + "' '" + line + "' |");
    CHECK(run.code() == 1);
    CHECK(ask("case show " + book.path() + " " + book.case_id + " --json").out.find("collect") != std::string::npos);
}

TEST_CASE("A folder or a pipe in place of a file is told at once") {
    const Book book;
    require_refused("run " + book.path() + " --script " + quoted(book / "."), "files.unreadable");
    REQUIRE(::mkfifo((book / "pipe").c_str(), 0600) == 0);
    require_refused("photograph add " + book.path() + " " + book.case_id + " " + quoted(book / "pipe") +
                        " --face recto --light normal --when as-received",
                    "files.unreadable");
}

TEST_CASE("An empty name of a casebook is named as that") {
    require_wrong_use("casebook create ''", "usage.missing-argument");
    require_wrong_use("casebook check ''", "usage.missing-argument");
}

TEST_CASE("Names longer than the system takes are told in JSON too") {
    const Book book;
    const std::string endless(300, 'n');
    for (const char* command : {"casebook create ", "casebook check ", "case list "}) {
        const Asked asked = ask(command + quoted(book / endless) + " --json");
        CAPTURE(asked.out, asked.err);
        CHECK(asked.code() == 1);
        CHECK(asked.fields()["error"]["message"].get<std::string>().ends_with('.'));
        CHECK(asked.err.empty());
    }
    CHECK(ask(std::string(500, 'x') + " --json").out.size() < 200);
}

TEST_CASE("Figures that no painting has are refused at every door, and check names those of an older book") {
    const Book book;
    const std::string recto = book.recto();
    require_refused(book.changing(recto, R"({"width_mm": -4})"), "casebook.bad-field");
    require_refused(book.changing(recto, R"({"height_mm": 1e308})"), "casebook.bad-field");
    require_refused(book.changing(recto, R"({"width_mm": 0})"), "face.size-out-of-range");
    require_refused(book.changing(book.case_id, R"({"width_mm": 1e9})"), "casebook.bad-field");
    require_refused(book.changing(book.case_id, R"({"title": "  "})"), "casebook.bad-field");
    require_refused(book.changing(book.case_id, R"({"title": "a\u0000b"})"), "casebook.bad-field");
    require_refused(book.adding("picture_frame", R"({"outer_width_mm": -1})"), "casebook.bad-field");
    require_refused(book.adding("measurement", R"({"what": "warp", "value": 1e308, "unit": "mm"})"),
                    "casebook.bad-field");
    require_refused(book.adding("treatment_step", R"({"act": "filling", "hours": -60})"), "casebook.bad-field");
    const auto finding = [&](const char* ring) {
        return book.adding("finding", R"({"face_frame": ")" + recto +
                                          R"(", "layer": "paint", "term": "loss", "region": )" +
                                          R"({"type": "Polygon", "coordinates": [)" + ring + "]}}");
    };
    require_refused(finding("[[5000,10],[5010,10],[5010,20],[5000,10]]"), "casebook.off-the-face");
    CHECK(ask(finding("[[-30,10],[10,10],[10,20],[-30,10]]")).code() == 0);  // over the fold of the edge
    CHECK(ask("casebook check " + book.path() + " --json").fields()["ok"] == true);
}

TEST_CASE("Help is given of all commands, of some, and of one") {
    CHECK(ask("--help").code() == 0);
    const Asked one = ask("photograph add --help");
    CHECK(one.code() == 0);
    CHECK(one.out.find("tedge photograph add DIR CASE FILE") != std::string::npos);
    CHECK(one.out.find("tedge photograph place") == std::string::npos);
    CHECK(ask("help photograph").out.find("tedge photograph place") != std::string::npos);
    require_wrong_use("help nothing-of-that-name", "usage.unknown-command");
}

TEST_CASE("What a photograph's file says of itself is not written by hand, and a file that is named is here") {
    const Book book;
    const std::string digest(64, '1');
    require_refused(
        book.adding("photograph",
                    R"({"face": "recto", "light": "normal", "stage": "as-received", "sha256": ")" + digest + R"("})"),
        "photograph.facts-of-the-file");
    require_refused(book.adding("document", R"({"title": "Letter", "sha256": ")" + digest + R"("})"),
                    "casebook.no-such-file");
}

TEST_CASE("A closed gate is passed on the command line by name and reason, for the one act") {
    const Book book;
    const std::string trial = book.adding(
        "trial", R"({"face_frame": ")" + book.recto() +
                     R"(", "region": {"type": "Polygon", "coordinates": [[[10,10],[20,10],[20,20],[10,10]]]}, )"
                     R"("passage": "sky", "layer": "varnish", "agent": "isooctane"})");
    require_refused(trial, "gate.closed");
    const Asked gates = ask("gate ask" + trial.substr(std::string("record add").size()) + " --json");
    std::string codes;
    const json asked_for = gates.fields();
    for (const json& gate : asked_for["gates"]) {
        for (const json& missing : gate["missing"]) {
            if (missing["closes"] == true) codes += (codes.empty() ? "" : ",") + missing["code"].get<std::string>();
        }
    }
    REQUIRE_FALSE(codes.empty());
    require_wrong_use(trial + " --name 'Ada Wren'", "usage.no-override");
    const Asked passed = ask(trial + " --override " + codes + " --name 'Ada Wren' --reason 'no camera here' --json");
    CAPTURE(passed.out, passed.err);
    REQUIRE(passed.code() == 0);
    const json answered = passed.fields();
    for (const json& gate : answered["warnings"]) CHECK(gate["state"] == "warn");
    const std::string id = passed.fields()["id"].get<std::string>();
    const std::string elsewhere =
        R"({"region": {"type": "Polygon", "coordinates": [[[60,10],[70,10],[70,20],[60,10]]]}})";
    require_refused(book.changing(id, elsewhere), "gate.closed");
    CHECK(
        ask(book.changing(id, elsewhere) + " --override " + codes + " --name 'Ada Wren' --reason 'here too'").code() ==
        0);
    CHECK(ask(book.changing(id, R"({"verdict": "too-weak"})")).code() == 0);
}
