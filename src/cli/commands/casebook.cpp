#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> create(Context& context, const Arguments& arguments) {
    const auto made = casebook::Casebook::create(path_from_utf8(arguments.position("DIR")), context.sources());
    if (!made) return pass_on(made);
    Answer answer;
    answer.fields = {{"folder", arguments.position("DIR")}, {"replica", to_text(made->replica())}};
    answer.lines = {fmt::format("An empty casebook lies in {}.", arguments.position("DIR"))};
    return answer;
}

Expected<Answer> check(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto report = (*book)->check(context.progress());
    if (!report) return pass_on(report);
    Answer answer;
    answer.fields = {{"ok", report->ok()},     {"problems", report->problems}, {"notes", report->notes},
                     {"cases", report->cases}, {"changes", report->changes},   {"originals", report->originals}};
    answer.lines = report->problems;
    answer.lines.insert(answer.lines.end(), report->notes.begin(), report->notes.end());
    answer.lines.push_back(fmt::format(
        "{}, {}, {} read: {}.", counted(report->cases, "case", "cases"), counted(report->changes, "change", "changes"),
        counted(report->originals, "original", "originals"), report->ok() ? "all as written" : "see above"));
    answer.code = report->ok() ? ExitCode::done : ExitCode::refused;
    return answer;
}

Expected<Answer> rebuild(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto identical = (*book)->rebuild();
    if (!identical) return pass_on(identical);
    Answer answer;
    answer.fields = {{"identical", *identical}};
    answer.lines = {*identical ? "The records were made anew and are the same."
                               : "The records were made anew; some had differed."};
    return answer;
}

Expected<Answer> back_up(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto report = (*book)->back_up(path_from_utf8(*arguments.option("to")));
    if (!report) return pass_on(report);
    Answer answer;
    answer.fields = {{"folder", *arguments.option("to")},
                     {"whole", report->is_whole()},
                     {"originals", report->originals},
                     {"left_out", nlohmann::json::array()},
                     {"problems", report->problems}};
    answer.lines = report->problems;
    for (const casebook::LeftOut& file : report->left_out) {
        nlohmann::json records = nlohmann::json::array();
        for (const Uuid& record : file.records) records.push_back(to_text(record));
        answer.fields["left_out"].push_back(
            {{"sha256", file.sha256}, {"records", records}, {"message", file.sentence}});
        answer.lines.push_back(file.sentence);
    }
    answer.lines.push_back(fmt::format("A copy with {} lies in {}{}",
                                       counted(report->originals, "original", "originals"), *arguments.option("to"),
                                       report->is_whole() ? "." : "; it is not whole, see above."));
    answer.code = report->is_whole() ? ExitCode::done : ExitCode::not_to_be_trusted;
    return answer;
}

// What is left of a damaged book is taken over as well.
Expected<casebook::Casebook> book_to_merge(Context& context, const std::string& folder) {
    auto other = casebook::Casebook::open(path_from_utf8(folder), context.sources());
    if (other || other.error().code != "casebook.damaged") return other;
    return casebook::Casebook::open_damaged(path_from_utf8(folder), context.sources());
}

Expected<Answer> merge(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    auto other = book_to_merge(context, *arguments.option("from"));
    if (!other) return pass_on(other);
    const auto report = (*book)->merge_from(*other);
    if (!report) return pass_on(report);
    Answer answer;
    answer.fields = {{"changes", report->changes},
                     {"summary", report->summary},
                     {"faults", report->faults},
                     {"conflicts", nlohmann::json::array()}};
    for (const casebook::Conflict& c : report->conflicts) {
        answer.fields["conflicts"].push_back({{"record", to_text(c.record)},
                                              {"path", c.path},
                                              {"earlier", to_text(c.earlier)},
                                              {"later", to_text(c.later)}});
    }
    answer.lines = report->summary;
    answer.lines.insert(answer.lines.end(), report->faults.begin(), report->faults.end());
    answer.lines.push_back(fmt::format("{} taken in.", counted(report->changes, "change", "changes")));
    return answer;
}

}  // namespace

std::vector<Command> casebook_commands() {
    return {
        {"casebook create", {{"DIR"}, {}}, "Makes an empty casebook in a folder.", create},
        {"casebook check", {{"DIR"}, {}}, "Verifies every change, record and original.", check},
        {"casebook rebuild", {{"DIR"}, {}}, "Makes records and indexes anew from the changes.", rebuild},
        {"casebook backup",
         {{"DIR"}, {"to"}, {"to"}},
         "Copies the book to another folder; erasing reaches it there. Names what it could not take (exit code 3).",
         back_up},
        {"casebook merge",
         {{"DIR"}, {"from"}, {"from"}},
         "Takes in what another casebook has and this one has not, also what is left of a damaged one.",
         merge},
    };
}

}  // namespace tedge::cli
