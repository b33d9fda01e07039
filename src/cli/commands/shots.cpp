// The shot list of a case.
#include <fmt/format.h>

#include "command.hpp"
#include "shot_options.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/shot_list.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;
using usecases::ListedShot;
using usecases::ShotState;

json text_or_null(const std::string& text) {
    return text.empty() ? json(nullptr) : json(text);
}

json fields_of(const ListedShot& row) {
    json photographs = json::array();
    for (const Uuid& id : row.photographs) photographs.push_back(to_text(id));
    return {{"face", row.shot.face},
            {"light", row.shot.light},
            {"stage", row.shot.stage},
            {"state", usecases::to_text(row.state)},
            {"how", text_or_null(row.how)},
            {"source", text_or_null(row.source)},
            {"status", text_or_null(row.status)},
            {"note", text_or_null(row.note)},
            {"not_needed", text_or_null(row.not_needed)},
            {"is_past", row.is_past},
            {"caution", row.shot.light == "ultraviolet" ? json(usecases::ultraviolet_caution()) : json(nullptr)},
            {"photographs", std::move(photographs)}};
}

std::string line_of(const ListedShot& row) {
    std::string line =
        fmt::format("{:<11} {}, {}, {}", usecases::to_text(row.state), row.shot.stage, row.shot.face, row.shot.light);
    if (row.state == ShotState::missing && !row.how.empty()) line += ": " + row.how;
    if (row.state == ShotState::missing && row.is_past) line += ". The work has gone on since: it may be too late";
    if (row.state == ShotState::guessed) line += ": look at it and confirm what was guessed";
    if (!row.note.empty()) line += ". " + row.note;
    if (row.state == ShotState::not_needed) line += ": " + row.not_needed;
    return line;
}

Expected<Answer> list(Context& context, const Arguments& arguments) {
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    const usecases::ShotList shots = usecases::shot_list(*snapshot);
    Answer answer;
    json rows = json::array();
    for (const ListedShot& row : shots.shots) {
        rows.push_back(fields_of(row));
        answer.lines.push_back(line_of(row));
    }
    for (const std::string& caution : shots.cautions) answer.lines.push_back("Caution: " + caution);
    const std::size_t missing = shots.in_state(ShotState::missing).size();
    answer.lines.push_back(fmt::format("The work stands at {}; {} still missing.", shots.stage, missing));
    answer.fields = {{"stage", shots.stage},
                     {"shots", std::move(rows)},
                     {"missing", missing},
                     {"to_confirm", shots.in_state(ShotState::guessed).size()},
                     {"cautions", shots.cautions}};
    return answer;
}

Expected<usecases::ShotWish> wish_of(const Arguments& arguments) {
    const auto shot = said_of_shot(arguments);
    if (!shot) return pass_on(shot);
    const auto not_needed = arguments.option("not-needed");
    if (not_needed && trimmed(*not_needed).empty())
        return fail("usage.no-reason", "--not-needed says why the photograph is not needed, and nothing is said.",
                    "Give the reason in a few words, or leave the option out: then the photograph is wanted.");
    usecases::ShotWish wish;
    wish.shot = {std::string(to_text(*shot->face)), shot->light, shot->stage};
    wish.note = arguments.option_or("note", "");
    wish.not_needed = not_needed.value_or("");
    return wish;
}

Expected<Answer> want(Context& context, const Arguments& arguments) {
    const auto wish = wish_of(arguments);
    if (!wish) return pass_on(wish);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto done = usecases::wish_shot(*acting, *case_id, *wish);
    if (!done) return pass_on(done);
    Answer answer = done_answer(*done, wish->not_needed.empty() ? "wanted" : "not needed");
    const bool is_ultraviolet = wish->shot.light == "ultraviolet" && wish->not_needed.empty();
    answer.fields["caution"] = is_ultraviolet ? json(usecases::ultraviolet_caution()) : json(nullptr);
    if (is_ultraviolet) answer.lines.push_back("Caution: " + usecases::ultraviolet_caution());
    return answer;
}

}  // namespace

std::vector<Command> shot_commands() {
    return {
        {"case shots",
         {{"DIR", "CASE"}, {}, {}, {}},
         "Which photographs are wanted, and which are still missing.",
         list},
        {"case want-shot",
         {{"DIR", "CASE"}, {"face", "light", "when", "note", "not-needed"}, {"face", "light", "when"}},
         "Adds a photograph to the shot list, or says why one is not needed.",
         want},
    };
}

}  // namespace tedge::cli
