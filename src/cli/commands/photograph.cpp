#include <fmt/format.h>

#include "command.hpp"
#include "picture_files.hpp"
#include "shot_options.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/photographs.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<Answer> add_photograph(Context& context, const Arguments& arguments) {
    const auto said = said_of_shot(arguments);
    if (!said) return pass_on(said);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    usecases::NewPhotograph wanted;
    wanted.case_id = *case_id;
    wanted.file = path_from_utf8(arguments.position("FILE"));
    wanted.face = *said->face;  // a needed option
    wanted.light = said->light;
    wanted.stage = said->stage;
    wanted.raking_side = said->raking_side;
    wanted.raking_angle_degrees = said->raking_angle_degrees;
    wanted.photographer = arguments.option_or("photographer", "");
    wanted.licence = arguments.option_or("licence", "");
    wanted.caption = arguments.option_or("caption", "");
    wanted.has_scale = arguments.flag("scale");
    wanted.has_chart = arguments.flag("chart");
    wanted.keep_damaged = arguments.flag("keep-damaged");
    const auto taken = usecases::take_in_photograph(*acting, wanted, context.progress());
    if (!taken) return pass_on(taken);
    Answer answer;
    answer.fields = {{"id", to_text(taken->id)},
                     {"sha256", taken->sha256},
                     {"width_px", taken->size ? json(taken->size->width_px) : json(nullptr)},
                     {"height_px", taken->size ? json(taken->size->height_px) : json(nullptr)},
                     {"already", taken->already},
                     {"damaged", taken->damaged.empty() ? json(nullptr) : json(taken->damaged)},
                     {"notes", taken->notes}};
    answer.lines = {fmt::format("{}  {}{}", to_text(taken->id), taken->already ? "was here already" : "taken in",
                                taken->damaged.empty() ? "" : ", marked as damaged: " + taken->damaged)};
    answer.lines.insert(answer.lines.end(), taken->notes.begin(), taken->notes.end());
    return answer;
}

Expected<Answer> place(Context& context, const Arguments& arguments) {
    const auto corners = parse_corners(*arguments.option("corners"));
    if (!corners) return pass_on(corners);
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto placed = usecases::place_by_corners(*acting, *photograph, *corners);
    if (!placed) return pass_on(placed);
    Answer answer;
    answer.fields = {{"face_from_photo", placed->placement.face_from_photo.row_major()},
                     {"error_mm", placed->placement.error_mm}};
    answer.lines = {fmt::format("Placed by its corners; to {} mm where each was met to two pixels.",
                                format_fixed(placed->placement.error_mm, 2))};
    return answer;
}

void add_move(Answer& answer, const std::optional<usecases::RegisteredPhotograph::Move>& move) {
    if (!move) {
        answer.fields["move"] = nullptr;
        return;
    }
    answer.fields["move"] = {{"face_frame", to_text(move->frame)},
                             {"mean_mm", move->mean_mm},
                             {"most_mm", move->most_mm},
                             {"error_mm", move->error_mm}};
    answer.lines.push_back(
        fmt::format("The canvas moved by {} mm on average, {} mm at most: the new frame is joined to "
                    "the one before.",
                    format_fixed(move->mean_mm, 2), format_fixed(move->most_mm, 2)));
}

Expected<Answer> register_one(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    const auto reference = id_at(arguments, "reference");
    if (!photograph) return pass_on(photograph);
    if (!reference) return pass_on(reference);
    std::vector<imaging::PointPair> pairs;
    if (const auto file = arguments.option("pairs")) {
        auto read = read_pairs(*file);
        if (!read) return pass_on(read);
        pairs = *std::move(read);
    }
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto result = usecases::register_photograph(*acting, *reference, *photograph, context.progress(), pairs);
    if (!result) return pass_on(result);
    Answer answer;
    answer.fields = {{"id", to_text(result->registration)},
                     {"usable", result->usable},
                     {"reason", result->usable ? json(nullptr) : json(result->reason)},
                     {"inliers", result->inliers},
                     {"residual_px", result->residual_px},
                     {"error_mm", result->error_mm},
                     {"seconds", result->seconds}};
    answer.lines = {fmt::format("{} Error {} mm.", result->reason, format_fixed(result->error_mm, 3))};
    if (result->pairs) answer.fields["pairs"] = pairs_fields(*result->pairs);
    add_move(answer, result->move);
    answer.code = result->usable ? ExitCode::done : ExitCode::not_to_be_trusted;
    return answer;
}

}  // namespace

std::vector<Command> photograph_commands() {
    return {
        {"photograph add",
         {{"DIR", "CASE", "FILE"},
          {"face", "light", "when", "raking-from", "raking-angle", "photographer", "licence", "caption"},
          {"face", "light", "when"},
          {"scale", "chart", "keep-damaged"}},
         "Takes a photograph in: stored byte for byte, never changed.",
         add_photograph},
        {"photograph place",
         {{"DIR", "PHOTOGRAPH"}, {"corners"}, {"corners"}},
         "Places a photograph by the four corners of the painted face in it.",
         place},
        {"photograph register",
         {{"DIR", "PHOTOGRAPH"}, {"reference", "pairs"}, {"reference"}},
         "Lays a photograph over a placed one of the same face, or of the front by light through the canvas; places "
         "it.",
         register_one},
    };
}

}  // namespace tedge::cli
