// Many photographs at once: a folder taken in, and what is said of several together.
#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "shot_options.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/say_photographs.hpp"
#include "tedge/usecases/take_in_folder.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;
using usecases::FolderFile;

std::string_view outcome_of(const FolderFile& file) {
    if (file.refused) return "refused";
    return file.taken && file.taken->already ? "already" : "taken";
}

json fields_of(const FolderFile& file) {
    json guesses = json::array();
    for (const auto& guess : file.shot.guesses)
        guesses.push_back({{"field", guess.field}, {"value", guess.value}, {"why", guess.why}});
    return {{"file", to_utf8(file.file.filename())},
            {"outcome", outcome_of(file)},
            {"id", file.taken ? json(to_text(file.taken->id)) : json(nullptr)},
            {"sha256", file.taken ? json(file.taken->sha256) : json(nullptr)},
            {"face", to_text(file.shot.face)},
            {"light", file.shot.light},
            {"stage", file.shot.stage},
            {"raking_side", file.shot.raking_side.empty() ? json(nullptr) : json(file.shot.raking_side)},
            {"photographer", file.shot.photographer.empty() ? json(nullptr) : json(file.shot.photographer)},
            {"licence", file.shot.licence.empty() ? json(nullptr) : json(file.shot.licence)},
            {"guesses", std::move(guesses)},
            {"damaged", file.taken && !file.taken->damaged.empty() ? json(file.taken->damaged) : json(nullptr)},
            {"notes", file.taken ? json(file.taken->notes) : json::array()},
            {"error", file.refused ? error_fields(*file.refused)["error"] : json(nullptr)}};
}

std::string line_of(const FolderFile& file) {
    const std::string name = without_controls(to_utf8(file.file.filename()));
    if (file.refused) return fmt::format("{}  refused: {} {}", name, file.refused->message, file.refused->next);
    if (file.taken->already) return fmt::format("{}  was here already", name);
    std::string line =
        fmt::format("{}  taken in: {}, {}, {}", name, to_text(file.shot.face), file.shot.light, file.shot.stage);
    if (!file.shot.guesses.empty()) line += fmt::format(" (guessed: {})", in_words(file.shot.guesses));
    return line;
}

std::size_t count_of(const std::vector<FolderFile>& files, std::string_view outcome) {
    return static_cast<std::size_t>(
        std::ranges::count_if(files, [&](const FolderFile& file) { return outcome_of(file) == outcome; }));
}

void add_folders(const std::vector<std::filesystem::path>& folders, Answer& answer) {
    std::vector<std::string> names;
    for (const std::filesystem::path& each : folders) names.push_back(without_controls(to_utf8(each.filename())));
    answer.fields["folders_left"] = names;
    if (!names.empty())
        answer.lines.push_back(fmt::format("What lies in folders inside was not looked at: {}. Take each in by itself.",
                                           join(names, ", ")));
}

Answer answer_of(const std::vector<FolderFile>& files) {
    Answer answer;
    json list = json::array();
    for (const FolderFile& file : files) {
        list.push_back(fields_of(file));
        answer.lines.push_back(line_of(file));
    }
    const std::size_t taken = count_of(files, "taken"), already = count_of(files, "already"),
                      refused = count_of(files, "refused");
    answer.fields = {{"files", std::move(list)}, {"taken", taken}, {"already", already}, {"refused", refused}};
    answer.lines.push_back(fmt::format("{} taken in, {} were here already, {} refused.", taken, already, refused));
    // A letter among the pictures is no failure; a picture that did not come in is.
    if (std::ranges::any_of(files, &FolderFile::is_lost)) answer.code = ExitCode::refused;
    return answer;
}

Expected<Answer> add_folder(Context& context, const Arguments& arguments) {
    const auto said = said_of_shot(arguments);
    if (!said) return pass_on(said);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    usecases::FolderWanted wanted;
    wanted.case_id = *case_id;
    wanted.folder = path_from_utf8(arguments.position("FOLDER"));
    wanted.said = *said;
    wanted.photographer = arguments.option_or("photographer", "");
    wanted.licence = arguments.option_or("licence", "");
    wanted.has_scale = arguments.flag("scale");
    wanted.has_chart = arguments.flag("chart");
    wanted.keep_damaged = arguments.flag("keep-damaged");
    const auto files = usecases::take_in_folder(*acting, wanted, {}, context.progress());
    if (!files) return pass_on(files);
    Answer answer = answer_of(*files);
    if (const auto folders = usecases::folders_in(wanted.folder)) add_folders(*folders, answer);
    return answer;
}

// "all", "guessed", or ids with commas between them.
Expected<std::vector<Uuid>> named_photographs(casebook::Casebook& book, const Uuid& case_id, std::string_view named) {
    std::vector<Uuid> ids;
    if (named == "all" || named == "guessed") {
        const auto records = book.records(case_id, "photograph");
        if (!records) return pass_on(records);
        for (const auto& record : *records) {
            if (!record.deleted && (named == "all" || record.body.flag("guessed"))) ids.push_back(record.id);
        }
        return ids;
    }
    for (const std::string_view part : split(named, ',')) {
        const auto id = parse_uuid(trimmed(part));
        if (!id) return pass_on(id);
        const auto record = book.record(*id);
        if (!record) return pass_on(record);
        if (record->case_id != case_id || record->kind != "photograph")
            return fail("photograph.other-case", "One of these is no photograph of this case.",
                        "Name photographs of the case.", {{"record", to_text(*id)}});
        ids.push_back(*id);
    }
    return ids;
}

Expected<Answer> say(Context& context, const Arguments& arguments) {
    usecases::SaidOfPhotographs said;
    const auto shot = said_of_shot(arguments);
    if (!shot) return pass_on(shot);
    said.shot = *shot;
    said.photographer = arguments.option_or("photographer", "");
    said.licence = arguments.option_or("licence", "");
    said.confirms = arguments.flag("confirm");
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto ids = named_photographs(acting->book, *case_id, arguments.position("PHOTOGRAPHS"));
    if (!ids) return pass_on(ids);
    const auto done = usecases::say_photographs(*acting, *ids, said);
    if (!done) return pass_on(done);
    Answer answer;
    json changed = json::array();
    for (const auto& one : *done) changed.push_back(to_text(one.record));
    answer.fields = {{"changed", std::move(changed)}};
    answer.lines = {fmt::format("Said of {}.", counted(done->size(), "photograph", "photographs"))};
    return answer;
}

}  // namespace

std::vector<Command> photograph_folder_commands() {
    return {
        {"photograph add-folder",
         {{"DIR", "CASE", "FOLDER"},
          {"face", "light", "when", "raking-from", "raking-angle", "photographer", "licence"},
          {},
          {"scale", "chart", "keep-damaged"}},
         "Takes all photographs of a folder in; what is not said of them is guessed and marked as a guess.",
         add_folder},
        {"photograph say",
         {{"DIR", "CASE", "PHOTOGRAPHS"},
          {"face", "light", "when", "raking-from", "raking-angle", "photographer", "licence"},
          {},
          {"confirm"}},
         "Says of several photographs (ids with commas, \"guessed\" or \"all\") what they show, or that the guesses "
         "hold.",
         say},
    };
}

}  // namespace tedge::cli
