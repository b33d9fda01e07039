#include "command.hpp"

#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cli {

namespace {

std::string login_name() {
    const passwd* entry = ::getpwuid(::geteuid());
    return entry != nullptr ? entry->pw_name : "unknown";
}

std::string author_name(const Arguments& arguments) {
    if (const auto by = arguments.option("by")) return *by;
    const char* named = std::getenv("TEDGE_AUTHOR");
    return named != nullptr && *named != '\0' ? named : login_name();
}

// How many of the words the command's name takes up, or 0 where they do not begin with it.
std::size_t name_length(const Command& command, const std::vector<std::string>& words) {
    const auto parts = split(command.name, ' ');
    if (words.size() < parts.size() || !std::equal(parts.begin(), parts.end(), words.begin())) return 0;
    return parts.size();
}

std::string usage_line(const Command& command) {
    std::string line = fmt::format("tedge {}", command.name);
    for (const std::string_view position : command.grammar.positions) line += fmt::format(" {}", position);
    for (const std::string_view option : command.grammar.options) {
        const bool needed = command.grammar.needed.contains(option);
        line += needed ? fmt::format(" --{} …", option) : fmt::format(" [--{} …]", option);
    }
    for (const std::string_view flag : command.grammar.flags) line += fmt::format(" [--{}]", flag);
    return line;
}

void print_help(std::ostream& out) {
    out << "tedge " TEDGE_VERSION ": one case per picture, from the lot to the dossier.\n\n";
    for (const Command& command : all_commands()) out << usage_line(command) << "\n    " << command.help << "\n";
    out << "\nEverywhere: --json (one JSON object on one line), --by NAME (the author), -- (ends options).\n";
}

// Words that stand anywhere and belong to the program, taken out before a command sees the rest.
bool take_json_flag(std::vector<std::string>& words) {
    const auto end = std::ranges::find(words, "--");
    const auto found = std::find(words.begin(), end, "--json");
    if (found == end) return false;
    words.erase(found);
    return true;
}

void print(const Expected<Answer>& answer, bool json) {
    if (answer && answer->printed) return;
    if (json) {
        std::cout << one_line(answer ? answer->fields : error_fields(answer.error())) << "\n"
                  << std::flush;  // whoever sent the command waits for its line
    } else if (answer) {
        for (const std::string& line : answer->lines) std::cout << line << "\n";
    } else {
        std::cerr << answer.error().message << " " << answer.error().next << "\n";
    }
}

}  // namespace

std::span<const Command> all_commands() {
    static const std::vector<Command> commands = [] {
        std::vector<Command> all;
        for (const auto& area :
             {casebook_commands(), settling_commands(), case_commands(), record_commands(), face_commands(),
              photograph_commands(), money_commands(), cleaning_commands(), research_commands(), picture_commands(),
              dossier_commands(), bag_commands(), run_commands()}) {
            all.insert(all.end(), area.begin(), area.end());
        }
        return all;
    }();
    return commands;
}

Expected<casebook::Casebook*> Context::book(const std::string& folder) {
    if (folder_ == folder) return book_.get();
    auto opened = casebook::Casebook::open(path_from_utf8(folder), sources());
    if (!opened) return pass_on(opened);
    book_ = std::make_unique<casebook::Casebook>(*std::move(opened));
    folder_ = folder;
    return book_.get();
}

Expected<usecases::Acting> Context::acting(const Arguments& arguments) {
    const auto opened = book(arguments.position("DIR"));
    if (!opened) return pass_on(opened);
    const auto author = (*opened)->person_named(author_name(arguments));
    if (!author) return pass_on(author);
    return usecases::Acting{**opened, *author, *clock_};
}

Expected<Answer> run_words(Context& context, std::vector<std::string> words, const std::optional<std::string>& folder) {
    const Command* chosen = nullptr;
    std::size_t taken = 0;
    for (const Command& command : all_commands()) {
        const std::size_t length = name_length(command, words);
        if (length > taken) {
            chosen = &command;
            taken = length;
        }
    }
    if (chosen == nullptr) {
        return fail("usage.unknown-command",
                    words.empty() ? "No command was given." : fmt::format("There is no command \"{}\".", words.front()),
                    "tedge --help lists them all.");
    }
    words.erase(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(taken));
    if (folder && chosen->on_casebook()) words.insert(words.begin(), *folder);
    Grammar grammar = chosen->grammar;
    grammar.options.insert("by");
    const auto arguments = Arguments::parse(words, grammar);
    if (!arguments) return pass_on(arguments);
    return chosen->run(context, *arguments);
}

int run_program(const std::vector<std::string>& words, std::stop_token stop) {
    std::vector<std::string> rest = words;
    const bool json = take_json_flag(rest);
    if (!rest.empty() && rest.front() == "--version") {
        std::cout << "tedge " TEDGE_VERSION "\n";
        return 0;
    }
    if (rest.empty() || rest.front() == "--help" || rest.front() == "help") {
        print_help(rest.empty() ? std::cerr : std::cout);
        return rest.empty() ? 2 : 0;
    }
    SystemClock clock;
    SystemIdSource ids(clock);
    Context context(clock, ids, Progress(std::move(stop), {}));
    const auto answer = run_words(context, std::move(rest));
    print(answer, json);
    return static_cast<int>(answer ? answer->code : code_of(answer.error()));
}

}  // namespace tedge::cli
