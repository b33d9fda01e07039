#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<Answer> add(Context& context, const Arguments& arguments) {
    const auto face = parse_face(*arguments.option("face"));
    if (!face) return pass_on(face);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    usecases::NewPhotograph wanted;
    wanted.case_id = *case_id;
    wanted.file = path_from_utf8(arguments.position("FILE"));
    wanted.face = *face;
    wanted.light = *arguments.option("light");
    // "as-found" is how many people say it of a picture as it came.
    wanted.stage = *arguments.option("when") == "as-found" ? "as-received" : *arguments.option("when");
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

// "x,y,x,y,x,y,x,y" from the top-left corner clockwise.
Expected<std::array<PointPx, 4>> parse_corners(std::string_view text) {
    const auto refuse = [] {
        return fail("usage.not-corners", "--corners is to be eight numbers with commas between them.",
                    "Give x,y of the painted face's corners from the top left clockwise, in pixels.");
    };
    const auto numbers = split(text, ',');
    std::array<PointPx, 4> corners;
    if (numbers.size() != 8) return refuse();
    for (std::size_t i = 0; i < 4; ++i) {
        const auto x = parse_number(numbers[2 * i]);
        const auto y = parse_number(numbers[2 * i + 1]);
        if (!x || !y) return refuse();
        corners[i] = {*x, *y};
    }
    return corners;
}

Expected<Uuid> record_id(std::string_view text) {
    return parse_uuid(text);
}

Expected<Answer> place(Context& context, const Arguments& arguments) {
    const auto corners = parse_corners(*arguments.option("corners"));
    if (!corners) return pass_on(corners);
    const auto photograph = record_id(arguments.position("PHOTOGRAPH"));
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
    const auto photograph = record_id(arguments.position("PHOTOGRAPH"));
    const auto reference = record_id(*arguments.option("reference"));
    if (!photograph) return pass_on(photograph);
    if (!reference) return pass_on(reference);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto result = usecases::register_photograph(*acting, *reference, *photograph, context.progress());
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
    add_move(answer, result->move);
    answer.code = result->usable ? ExitCode::done : ExitCode::not_to_be_trusted;
    return answer;
}

json errors_json(const imaging::PatchErrors& errors) {
    return {{"mean", errors.mean},
            {"p90", errors.p90},
            {"max", errors.max},
            {"worst", errors.worst},
            {"patches", errors.patches}};
}

json patches_json(const usecases::MeasuredChart& measured) {
    json out = json::array();
    for (std::size_t i = 0; i < imaging::chart_patches; ++i) {
        const imaging::PatchFit& patch = measured.fit.patches[i];
        json row{{"patch", i + 1},
                 {"name", patch.name},
                 {"used", patch.used},
                 {"clipped_share", measured.reading.patches[i].clipped_share}};
        if (patch.used) {
            row["fitted_delta_e00"] = patch.fitted_delta_e00;
            row["left_out_delta_e00"] = patch.foretold_delta_e00;
        }
        out.push_back(std::move(row));
    }
    return out;
}

json tolerances_json(const std::vector<imaging::ToleranceLine>& lines) {
    json out = json::array();
    for (const imaging::ToleranceLine& line : lines)
        out.push_back({{"guideline", line.guideline},
                       {"parameter", line.parameter},
                       {"measured", line.measured},
                       {"unit", line.unit},
                       {"level", line.level ? json(*line.level) : json(nullptr)},
                       {"limit", line.limit},
                       {"sentence", line.sentence},
                       {"source", line.source},
                       {"status", line.status}});
    return out;
}

Answer chart_answer(const usecases::MeasuredChart& measured) {
    const imaging::ColourFit& fit = measured.fit;
    json corners = json::array();
    for (const PointPx& corner : measured.reading.place.corners_px) corners.push_back({corner.x_px, corner.y_px});
    Answer answer;
    answer.fields = {{"id", to_text(measured.done.record)},
                     {"edition", fit.edition},
                     {"model", fit.transform.model() == imaging::ColourModel::matrix ? "matrix" : "root-polynomial"},
                     {"corners_px", std::move(corners)},
                     {"photo_from_chart", measured.reading.place.photo_from_chart.row_major()},
                     {"misfit_px", measured.reading.place.misfit_px},
                     {"left_out_delta_e00", errors_json(fit.foretold)},
                     {"fitted_delta_e00", errors_json(fit.fitted)},
                     {"black_left_out_delta_e00", fit.black.used ? json(fit.black.foretold_delta_e00) : json(nullptr)},
                     {"white_balance_delta_ab", fit.white_balance_delta_ab},
                     {"tone_delta_l", fit.tone_delta_l},
                     {"noise_l", fit.noise_l},
                     {"exposure_stops", fit.exposure_stops},
                     {"patches", patches_json(measured)},
                     {"tolerances", tolerances_json(measured.tolerances)},
                     {"notes", fit.notes}};
    answer.lines = {fmt::format(
        "Colour error {} ΔE00 on average, {} at most ({}), each patch foretold without itself; "
        "black apart. Values: {}.",
        format_fixed(fit.foretold.mean, 2), format_fixed(fit.foretold.max, 2), fit.foretold.worst, fit.edition_title)};
    for (const imaging::ToleranceLine& line : measured.tolerances) answer.lines.push_back(line.sentence);
    for (const std::string& note : fit.notes) answer.lines.push_back(note);
    return answer;
}

Expected<Answer> chart(Context& context, const Arguments& arguments) {
    const auto photograph = record_id(arguments.position("PHOTOGRAPH"));
    if (!photograph) return pass_on(photograph);
    usecases::ChartWanted wanted;
    if (const auto text = arguments.option("corners")) {
        const auto corners = parse_corners(*text);
        if (!corners) return pass_on(corners);
        wanted.corners_px = *corners;
    }
    wanted.edition = arguments.option_or("edition", wanted.edition);
    wanted.own_chart = path_from_utf8(arguments.option_or("own-chart", ""));
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_chart(*acting, *photograph, wanted, context.progress());
    if (!measured) return pass_on(measured);
    return chart_answer(*measured);
}

}  // namespace

std::vector<Command> photograph_commands() {
    return {
        {"photograph add",
         {{"DIR", "CASE", "FILE"},
          {"face", "light", "when", "photographer", "licence", "caption"},
          {"face", "light", "when"},
          {"scale", "chart", "keep-damaged"}},
         "Takes a photograph in: stored byte for byte, never changed.",
         add},
        {"photograph place",
         {{"DIR", "PHOTOGRAPH"}, {"corners"}, {"corners"}},
         "Places a photograph by the four corners of the painted face in it.",
         place},
        {"photograph register",
         {{"DIR", "PHOTOGRAPH"}, {"reference"}, {"reference"}},
         "Lays a photograph over a placed one of the same face and places it.",
         register_one},
        {"photograph chart",
         {{"DIR", "PHOTOGRAPH"}, {"corners", "edition", "own-chart"}},
         "Measures how true the colours are by the 24-patch chart in the photograph.",
         chart},
    };
}

}  // namespace tedge::cli
