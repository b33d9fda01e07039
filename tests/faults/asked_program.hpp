// The program asked through a shell, as a person or a script would, with all that it says.
#pragma once

#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "tedge/base/files.hpp"
#include "temporary_folder.hpp"

namespace tedge {

struct Asked {
    int status = 0;  // as waitpid gives it
    std::string out;
    std::string err;

    [[nodiscard]] bool crashed() const { return !WIFEXITED(status) || WEXITSTATUS(status) > 4; }
    [[nodiscard]] int code() const { return WEXITSTATUS(status); }
    [[nodiscard]] nlohmann::json fields() const { return nlohmann::json::parse(out, nullptr, false); }
};

// `before` stands in front of the program in the shell: "ulimit -f 100;".
inline Asked ask(const std::string& arguments, const std::string& before = "") {
    const TemporaryFolder folder;
    const std::string said = to_utf8(folder / "stderr");
    Asked asked;
    FILE* pipe = ::popen((before + " exec " TEDGE_PROGRAM " " + arguments + " 2>" + said).c_str(), "r");
    std::array<char, 4096> piece{};
    while (const std::size_t got = std::fread(piece.data(), 1, piece.size(), pipe)) asked.out.append(piece.data(), got);
    asked.status = ::pclose(pipe);
    asked.err = read_file(folder / "stderr").value_or("");
    return asked;
}

inline std::string quoted(const std::filesystem::path& path) {
    return "'" + to_utf8(path) + "'";
}

// A refusal as the contract wants it: exit code 1, for a script code, message and what to do next, for a person the
// same on one line of standard error.
inline void require_refused(const std::string& arguments, const std::string& code, const std::string& before = "") {
    CAPTURE(arguments, before);
    const Asked for_script = ask(arguments + " --json", before);
    CAPTURE(for_script.out, for_script.err);
    REQUIRE_FALSE(for_script.crashed());
    REQUIRE(for_script.code() == 1);
    const nlohmann::json fields = for_script.fields();
    REQUIRE(fields.is_object());
    CHECK(fields["error"]["code"] == code);
    const std::string message = fields["error"]["message"].get<std::string>();
    const std::string next = fields["error"]["next"].get<std::string>();
    CHECK(message.ends_with('.'));
    CHECK(next.ends_with('.'));
    CHECK(for_script.err.empty());
    const Asked for_person = ask(arguments, before);
    CHECK(for_person.code() == 1);
    CHECK(for_person.out.empty());
    CHECK(for_person.err == message + " " + next + "\n");
}

// A casebook with one picture, made by the program.
struct AskedBook {
    std::filesystem::path folder;
    std::string case_id;

    explicit AskedBook(const std::filesystem::path& at) : folder(at) {
        REQUIRE(ask("casebook create " + quoted(folder)).code() == 0);
        const Asked added = ask("case add " + quoted(folder) +
                                " --title 'River landscape' --width-mm 812 --height-mm 640 --by 'Ada Wren' --json");
        REQUIRE(added.code() == 0);
        case_id = added.fields()["id"].get<std::string>();
    }

    [[nodiscard]] std::string adding(const std::filesystem::path& photograph) const {
        return "photograph add " + quoted(folder) + " " + case_id + " " + quoted(photograph) +
               " --face recto --light normal --when as-received --by 'Ada Wren'";
    }
    [[nodiscard]] std::string adding_a_case() const {
        return "case add " + quoted(folder) + " --title 'Another' --by 'Ada Wren'";
    }

    [[nodiscard]] std::string adding(const std::string& kind, const std::string& values) const {
        return "record add " + quoted(folder) + " " + case_id + " " + kind + " '" + values + "'";
    }
    [[nodiscard]] std::string changing(const std::string& record, const std::string& values) const {
        return "record change " + quoted(folder) + " " + record + " '" + values + "'";
    }

    // Nothing lost, nothing half-written, nothing left behind.
    void require_sound(std::size_t cases, std::size_t originals) const {
        const Asked checked = ask("casebook check " + quoted(folder) + " --json");
        CAPTURE(checked.out, checked.err);
        REQUIRE(checked.code() == 0);
        CHECK(checked.fields()["problems"].empty());
        CHECK(checked.fields()["notes"].empty());
        CHECK(checked.fields()["cases"] == cases);
        CHECK(checked.fields()["originals"] == originals);
        CHECK(ask("case list " + quoted(folder) + " --json").fields()["cases"].size() == cases);
    }
};

}  // namespace tedge
