#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iostream>
#include <utility>

#include "command.hpp"
#include "shell_words.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> answer_line(Context& context, const std::string& folder, const std::string& line) {
    auto words = shell_words(line);
    if (!words) return pass_on(words);
    // Every line is answered in JSON anyhow.
    const auto options_end = std::ranges::find(*words, "--");
    words->erase(std::remove(words->begin(), options_end, "--json"), options_end);
    if (!words->empty() && words->front() == "run") {
        return fail("usage.script-in-script", "A script does not run another script.", "Run the other one by itself.");
    }
    return run_words(context, *std::move(words), folder);
}

// Each answer is on the pipe before the next line is read: who sends commands knows what is durable.
bool print_now(const Expected<Answer>& answer) {
    std::cout << one_line(answer ? answer->fields : error_fields(answer.error())) << "\n" << std::flush;
    return std::cout.good();
}

Expected<Answer> run(Context& context, const Arguments& arguments) {
    const std::string& folder = arguments.position("DIR");
    const std::string script = *arguments.option("script");
    if (const auto book = context.book(folder); !book) return pass_on(book);
    std::ifstream file;
    if (script != "-") {
        file.open(path_from_utf8(script));
        if (!file) return fail("files.missing", fmt::format("There is no script {}.", script), "Check the path.");
    }
    std::istream& in = script == "-" ? std::cin : file;
    std::size_t refused = 0;
    bool is_first = true;
    for (std::string line; std::getline(in, line);) {
        if (context.progress().stopped()) return cancelled();
        constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";  // some editors begin a file with it
        if (std::exchange(is_first, false) && line.starts_with(byte_order_mark)) line.erase(0, byte_order_mark.size());
        if (line.ends_with('\r')) line.pop_back();  // written by an editor that ends lines with two characters
        if (trimmed(line).empty() || trimmed(line).starts_with('#')) continue;
        const auto answer = answer_line(context, folder, line);
        if (!print_now(answer)) break;  // nobody hears the answers: nothing more is done in silence
        if (!answer || answer->code != ExitCode::done) ++refused;
    }
    if (in.bad()) return fail("files.unreadable", fmt::format("The script {} cannot be read.", script), "Check it.");
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
