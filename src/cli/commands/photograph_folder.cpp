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
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;
using usecases::FolderFile;

std::string_view outcome_of(const FolderFile& file) {
    if (file.refused) return "refused";
    return file.taken && file.taken->already ? "already" : "taken";
}

// As it lies in the folder that was named.
std::string name_of(const FolderFile& file, const std::filesystem::path& folder) {
    return to_utf8(file.file.lexically_relative(folder));
}

json fields_of(const FolderFile& file, const std::filesystem::path& folder) {
    json guesses = json::array();
    for (const auto& guess : file.shot.guesses)
        guesses.push_back({{"field", guess.field}, {"value", guess.value}, {"why", guess.why}});
    return {{"file", name_of(file, folder)},
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

std::string line_of(const FolderFile& file, const std::filesystem::path& folder) {
    const std::string name = without_controls(name_of(file, folder));
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

Answer answer_of(const std::vector<FolderFile>& files, const std::filesystem::path& folder) {
    Answer answer;
    json list = json::array();
    for (const FolderFile& file : files) {
        list.push_back(fields_of(file, folder));
        answer.lines.push_back(line_of(file, folder));
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
    return answer_of(*files, wanted.folder);
}

// "all", "guessed", or ids with commas between them.
struct Named {
    bool all = false;
    bool guessed = false;
    std::vector<Uuid> ids{};
};

Expected<Named> named_by(const Arguments& arguments) {
    const std::string& text = arguments.position("PHOTOGRAPHS");
    if (text == "all" || text == "guessed") return Named{text == "all", text == "guessed"};
    auto ids = ids_at(arguments, "PHOTOGRAPHS");
    if (!ids) return pass_on(ids);
    return Named{.ids = *std::move(ids)};
}

Expected<std::vector<Uuid>> photographs_named(casebook::Casebook& book, const Uuid& case_id, const Named& named) {
    std::vector<Uuid> ids = named.ids;
    if (named.all || named.guessed) {
        const auto records = book.records(case_id, "photograph");
        if (!records) return pass_on(records);
        for (const auto& record : *records)
            if (named.all || record.body.flag("guessed")) ids.push_back(record.id);
        return ids;
    }
    for (const Uuid& id : ids) {
        const auto record = book.record(id);
        if (!record) return pass_on(record);
        if (record->case_id != case_id || record->kind != "photograph")
            return fail("photograph.other-case", "One of these is no photograph of this case.",
                        "Name photographs of the case.", {{"record", to_text(id)}});
    }
    return ids;
}

Expected<Answer> say(Context& context, const Arguments& arguments) {
    usecases::SaidOfPhotographs said;
    const auto shot = said_of_shot(arguments);
    if (!shot) return pass_on(shot);
    const auto named = named_by(arguments);
    if (!named) return pass_on(named);
    said.shot = *shot;
    said.photographer = arguments.option_or("photographer", "");
    said.licence = arguments.option_or("licence", "");
    said.confirms = arguments.flag("confirm");
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto ids = photographs_named(acting->book, *case_id, *named);
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
         "Takes all photographs of a folder, and of the folders in it, in; what is not said of them is guessed and "
         "marked as a guess.",
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
