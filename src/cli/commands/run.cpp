#include <fmt/format.h>

#include <fstream>
#include <iostream>

#include "command.hpp"
#include "shell_words.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> answer_line(Context& context, const std::string& folder, const std::string& line) {
    auto words = shell_words(line);
    if (!words) return pass_on(words);
    std::erase(*words, "--json");  // every line is answered in JSON anyhow
    return run_words(context, *std::move(words), folder);
}

// Each answer is on the pipe before the next line is read: who sends commands knows what is durable.
void print_now(const Expected<Answer>& answer) {
    std::cout << one_line(answer ? answer->fields : error_fields(answer.error())) << std::endl;
}

Expected<Answer> run(Context& context, const Arguments& arguments) {
    const std::string folder = arguments.position("DIR");
    const std::string script = *arguments.option("script");
    if (const auto book = context.book(folder); !book) return pass_on(book);
    std::ifstream file;
    if (script != "-") {
        file.open(path_from_utf8(script));
        if (!file) return fail("files.missing", fmt::format("There is no script {}.", script), "Check the path.");
    }
    std::istream& in = script == "-" ? std::cin : file;
    std::size_t refused = 0;
    for (std::string line; std::getline(in, line);) {
        if (context.progress().stopped()) return cancelled();
        if (trimmed(line).empty() || trimmed(line).starts_with('#')) continue;
        const auto answer = answer_line(context, folder, line);
        print_now(answer);
        if (!answer || answer->code != ExitCode::done) ++refused;
    }
    Answer answer;
    answer.printed = true;
    answer.code = refused == 0 ? ExitCode::done : ExitCode::refused;
    return answer;
}

}  // namespace

std::vector<Command> run_commands() {
    return {
        {"run",
         {{"DIR"}, {"script"}, {"script"}},
         "Runs a command a line (\"-\": from standard input), each answered by one line of JSON once it is durable.",
         run}};
}

}  // namespace tedge::cli
