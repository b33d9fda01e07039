// A command is a name, what it takes, a line of help, and a function over the use cases. One small file per command.
#pragma once

#include <exception>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>

#include "answer.hpp"
#include "arguments.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/usecases/acting.hpp"

namespace tedge::cli {

// What commands share: time, ids, the author, and the casebook that is opened once.
class Context {
public:
    Context(Clock& clock, IdSource& ids, Progress progress)
        : clock_(&clock), ids_(&ids), progress_(std::move(progress)) {}

    [[nodiscard]] Clock& clock() { return *clock_; }
    [[nodiscard]] casebook::Sources sources() { return {clock_, ids_}; }
    [[nodiscard]] const Progress& progress() const { return progress_; }

    // Opens the book of DIR, or hands out the one that is open already.
    [[nodiscard]] Expected<casebook::Casebook*> book(const std::string& folder);
    // The same with an author: --by, else TEDGE_AUTHOR, else the login name.
    [[nodiscard]] Expected<usecases::Acting> acting(const Arguments& arguments);

    // The case that CASE names in the book of DIR, as it stands.
    [[nodiscard]] Expected<casebook::CaseSnapshot> snapshot(const Arguments& arguments);

private:
    Clock* clock_;
    IdSource* ids_;
    Progress progress_;
    std::optional<std::string> folder_;
    std::unique_ptr<casebook::Casebook> book_;
};

struct Command {
    std::string_view name;  // "case add"
    Grammar grammar;        // DIR first where it works on a casebook
    std::string_view help;  // one line
    Expected<Answer> (*run)(Context&, const Arguments&);

    [[nodiscard]] bool on_casebook() const { return !grammar.positions.empty() && grammar.positions[0] == "DIR"; }
};

[[nodiscard]] std::span<const Command> all_commands();

// Finds the command that the words begin with and runs it; `folder` is put in for DIR where it is given (tedge run).
[[nodiscard]] Expected<Answer> run_words(Context& context, std::vector<std::string> words,
                                         const std::optional<std::string>& folder = std::nullopt);

// What a command threw, told like any refusal, so that a script reads a line for it and the next command still runs.
// Too little memory is no fault: program.no-memory; all else is program.fault.
[[nodiscard]] Error error_of_fault(const std::exception& fault);

// The whole program. Returns the exit code.
[[nodiscard]] int run_program(const std::vector<std::string>& words, std::stop_token stop);

// Commands of one area, in the files of commands/.
[[nodiscard]] std::vector<Command> casebook_commands();
[[nodiscard]] std::vector<Command> settling_commands();
[[nodiscard]] std::vector<Command> case_commands();
[[nodiscard]] std::vector<Command> face_commands();
[[nodiscard]] std::vector<Command> photograph_commands();
[[nodiscard]] std::vector<Command> photograph_difference_commands();
[[nodiscard]] std::vector<Command> relief_change_commands();
[[nodiscard]] std::vector<Command> remake_commands();
[[nodiscard]] std::vector<Command> photograph_folder_commands();
[[nodiscard]] std::vector<Command> shot_commands();
[[nodiscard]] std::vector<Command> chart_commands();
[[nodiscard]] std::vector<Command> capture_commands();
[[nodiscard]] std::vector<Command> crack_commands();
[[nodiscard]] std::vector<Command> legibility_commands();
[[nodiscard]] std::vector<Command> forecast_commands();
[[nodiscard]] std::vector<Command> cleaning_commands();
[[nodiscard]] std::vector<Command> money_commands();
[[nodiscard]] std::vector<Command> card_commands();
[[nodiscard]] std::vector<Command> sale_day_commands();
[[nodiscard]] std::vector<Command> ceiling_commands();
[[nodiscard]] std::vector<Command> ceiling_of_case_commands();
[[nodiscard]] std::vector<Command> viewing_commands();
[[nodiscard]] std::vector<Command> cost_commands();
[[nodiscard]] std::vector<Command> sale_commands();
[[nodiscard]] std::vector<Command> account_commands();
[[nodiscard]] std::vector<Command> stock_commands();
[[nodiscard]] std::vector<Command> duty_commands();
[[nodiscard]] std::vector<Command> research_commands();
[[nodiscard]] std::vector<Command> bag_commands();
[[nodiscard]] std::vector<Command> record_commands();
[[nodiscard]] std::vector<Command> gate_commands();
[[nodiscard]] std::vector<Command> dossier_commands();
[[nodiscard]] std::vector<Command> register_commands();
[[nodiscard]] std::vector<Command> picture_commands();
[[nodiscard]] std::vector<Command> weave_commands();
[[nodiscard]] std::vector<Command> run_commands();

}  // namespace tedge::cli
