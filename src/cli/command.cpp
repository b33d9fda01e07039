#include "command.hpp"

#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <iostream>
#include <new>
#include <set>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/cases.hpp"

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

std::unexpected<Error> unknown_command(std::string_view word) {
    constexpr std::size_t worth_repeating = 40;
    return fail(
        "usage.unknown-command",
        word.size() > worth_repeating ? "There is no such command." : fmt::format("There is no command \"{}\".", word),
        "tedge --help lists them all.");
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
    if (!command.grammar.may_follow.empty()) line += fmt::format(" [{}]", command.grammar.may_follow);
    for (const std::string_view option : command.grammar.options) {
        const bool needed = command.grammar.needed.contains(option);
        line += needed ? fmt::format(" --{} …", option) : fmt::format(" [--{} …]", option);
    }
    for (const std::string_view flag : command.grammar.flags) line += fmt::format(" [--{}]", flag);
    return line;
}

// "photograph" alone is the beginning of several commands.
std::unexpected<Error> unfinished_or_unknown(const std::string& word) {
    const auto begins = [&](const Command& command) { return split(command.name, ' ').front() == word; };
    if (std::ranges::none_of(all_commands(), begins)) return unknown_command(word);
    return fail("usage.unknown-command", fmt::format("\"{}\" is the beginning of several commands.", word),
                fmt::format("tedge help {} lists them.", word));
}

bool begin_alike(const std::vector<std::string_view>& name, std::span<const std::string> words) {
    const std::size_t length = std::min(name.size(), words.size());
    return std::equal(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(length), name.begin());
}

// The commands that the words begin like; all of them where there are no words.
Answer help_on(std::span<const std::string> words) {
    Answer answer;
    answer.lines = {"tedge " TEDGE_VERSION ": one case per picture, from the lot to the dossier.", ""};
    answer.fields["commands"] = nlohmann::json::array();
    for (const Command& command : all_commands()) {
        if (!begin_alike(split(command.name, ' '), words)) continue;
        answer.lines.push_back(usage_line(command));
        answer.lines.push_back(fmt::format("    {}", command.help));
        answer.fields["commands"].push_back({{"use", usage_line(command)}, {"help", command.help}});
    }
    answer.lines.insert(
        answer.lines.end(),
        {"", "Everywhere: --json (one JSON object on one line), --by NAME (the author), -- (ends options)."});
    return answer;
}

// "help", "help photograph add" and "photograph add --help" are the same question.
std::optional<std::vector<std::string>> asked_help_on(const std::vector<std::string>& words) {
    const auto options = std::ranges::find_if(words, [](const std::string& word) { return word.starts_with("--"); });
    std::vector<std::string> on(words.begin(), options);
    if (!on.empty() && on.front() == "help") {
        on.erase(on.begin());
        return on;
    }
    const auto end = std::ranges::find(words, "--");
    return std::find(options, end, "--help") != end ? std::optional(on) : std::nullopt;
}

// Words that stand anywhere and belong to the program, taken out before a command sees the rest.
bool take_json_flag(std::vector<std::string>& words) {
    const auto end = std::ranges::find(words, "--");
    const auto found = std::find(words.begin(), end, "--json");
    if (found == end) return false;
    words.erase(found);
    return true;
}

// Options that name a file or a folder to be written, beside the pictures that a command names itself.
constexpr std::array<std::string_view, 3> outputs{"out", "points-out", "csv"};

// Before any work: there is a folder to write into, nothing that the command reads is written over, and the name of a
// picture says what kind to write.
Expected<void> check_outputs(const Arguments& arguments, const Grammar& grammar) {
    namespace fs = std::filesystem;
    std::vector<std::string> read;
    for (const std::string_view name : grammar.positions) read.push_back(arguments.position(name));
    for (const std::string_view name : {"points", "pairs", "plan"}) read.push_back(arguments.option_or(name, ""));
    std::set<std::string_view> written = grammar.pictures;
    written.insert(outputs.begin(), outputs.end());
    for (const std::string_view name : written) {
        const std::string text = arguments.option_or(name, "");
        if (grammar.pictures.contains(name) && arguments.option(name))
            if (const auto format = said_by(name, imaging::format_for(path_from_utf8(text))); !format)
                return pass_on(format);
        const fs::path file = path_from_utf8(text);
        std::error_code ignored;
        if (file.has_parent_path() && !fs::is_directory(file.parent_path(), ignored))
            return fail("usage.no-such-folder", fmt::format("There is no folder to write {} into.", text),
                        "Make the folder first.", {{"option", std::string(name)}});
        const auto is_same = [&](const std::string& other) {
            return fs::is_regular_file(file, ignored) && fs::equivalent(file, path_from_utf8(other), ignored);
        };
        if (std::ranges::any_of(read, is_same))
            return fail("usage.writes-over-input", fmt::format("{} is read by this command.", text),
                        "Give another name to what it writes.", {{"option", std::string(name)}});
    }
    return {};
}

// Records that came from elsewhere may hold what a terminal obeys.
std::string for_a_terminal(std::string_view line) {
    return without_controls(line, "\n\t");
}

void print(const Expected<Answer>& answer, bool json) {
    if (answer && answer->printed) return;
    if (json) {
        std::cout << one_line(answer ? answer->fields : error_fields(answer.error())) << "\n";
    } else if (answer) {
        for (const std::string& line : answer->lines) std::cout << for_a_terminal(line) << "\n";
    } else {
        std::cerr << for_a_terminal(answer.error().message + " " + answer.error().next) << "\n";
    }
}

}  // namespace

std::span<const Command> all_commands() {
    static const std::vector<Command> commands = [] {
        std::vector<Command> all;
        for (const auto& area : {casebook_commands(),      settling_commands(),
                                 case_commands(),          record_commands(),
                                 gate_commands(),          face_commands(),
                                 photograph_commands(),    photograph_folder_commands(),
                                 shot_commands(),          photograph_difference_commands(),
                                 relief_change_commands(), remake_commands(),
                                 chart_commands(),         capture_commands(),
                                 weave_commands(),         crack_commands(),
                                 legibility_commands(),    forecast_commands(),
                                 money_commands(),         ceiling_commands(),
                                 viewing_commands(),       cost_commands(),
                                 sale_commands(),          ceiling_of_case_commands(),
                                 card_commands(),          sale_day_commands(),
                                 account_commands(),       stock_commands(),
                                 duty_commands(),          cleaning_commands(),
                                 research_commands(),      register_commands(),
                                 picture_commands(),       dossier_commands(),
                                 bag_commands(),           run_commands()}) {
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

Expected<casebook::CaseSnapshot> Context::snapshot(const Arguments& arguments) {
    const auto opened = book(arguments.position("DIR"));
    if (!opened) return pass_on(opened);
    const auto case_id = usecases::find_case(**opened, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    return (*opened)->snapshot(*case_id);
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
    if (words.empty()) {
        return fail("usage.unknown-command", "No command was given.", "tedge --help lists them all.");
    }
    if (chosen == nullptr) return unfinished_or_unknown(words.front());
    words.erase(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(taken));
    if (folder && chosen->on_casebook()) words.insert(words.begin(), *folder);
    Grammar grammar = chosen->grammar;
    grammar.options.insert("by");
    const auto arguments = Arguments::parse(words, grammar);
    if (!arguments) return pass_on(arguments);
    if (auto outputs = check_outputs(*arguments, grammar); !outputs) return pass_on(outputs);
    try {
        return chosen->run(context, *arguments);
    } catch (const std::exception& fault) {
        return std::unexpected(error_of_fault(fault));
    }
}

Error error_of_fault(const std::exception& fault) {
    // Image libraries say it in an exception of their own.
    const bool no_memory = dynamic_cast<const std::bad_alloc*>(&fault) != nullptr ||
                           std::string_view(fault.what()).find("Insufficient memory") != std::string_view::npos;
    if (no_memory)
        return {"program.no-memory",
                "There is not enough memory for this.",
                "What was saved is safe. Close other programs, or take smaller pictures.",
                {}};
    return {"program.fault",
            fmt::format("tedge met a fault of its own: {}.", fault.what()),
            "What was saved is safe; please report this.",
            {}};
}

namespace {

Expected<Answer> answer_of(const std::vector<std::string>& words, std::stop_token stop) {
    if (!words.empty() && words.front() == "--version") {
        Answer version{{{"version", TEDGE_VERSION}}, {"tedge " TEDGE_VERSION}};
        return version;
    }
    if (const auto on = asked_help_on(words)) {
        Answer help = help_on(*on);
        if (help.fields["commands"].empty()) return unknown_command(on->front());
        return help;
    }
    SystemClock clock;
    SystemIdSource ids(clock);
    Context context(clock, ids, Progress(std::move(stop), {}));
    return run_words(context, words);
}

}  // namespace

int run_program(const std::vector<std::string>& words, std::stop_token stop) {
    std::vector<std::string> rest = words;
    const bool json = take_json_flag(rest);
    const auto answer = answer_of(rest, std::move(stop));
    print(answer, json);
    if (!std::cout.flush()) {
        std::cerr
            << "The answer cannot be written where the output goes. Look for room there; what was saved is safe.\n";
        return static_cast<int>(ExitCode::refused);
    }
    return static_cast<int>(answer ? answer->code : code_of(answer.error()));
}

}  // namespace tedge::cli
