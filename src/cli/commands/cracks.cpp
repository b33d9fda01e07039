// Cracks: of any photograph, of a placed one, and what became of them between two.
#include <fmt/format.h>

#include "command.hpp"
#include "picture_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/crack_drawing.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/compare_cracks.hpp"
#include "tedge/usecases/map_cracks.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json directions_json(const imaging::CrackDirections& directions) {
    return {{"main_degrees", directions.main_degrees},
            {"directed", directions.directed},
            {"crossed", directions.crossed},
            {"length_px_by_5_degrees", directions.length_px}};
}

// In mm² where the scale is known, otherwise null.
json islands_json(const imaging::CrackFigures& figures) {
    const auto& islands = figures.islands;
    const auto mm2 = [&](double px2) {
        return figures.px_per_mm ? json(px2 / (*figures.px_per_mm * *figures.px_per_mm)) : json(nullptr);
    };
    return {{"count", islands.count},
            {"share", islands.share},
            {"lower_quartile_px2", islands.lower_quartile_px2},
            {"median_px2", islands.median_px2},
            {"upper_quartile_px2", islands.upper_quartile_px2},
            {"lower_quartile_mm2", mm2(islands.lower_quartile_px2)},
            {"median_mm2", mm2(islands.median_px2)},
            {"upper_quartile_mm2", mm2(islands.upper_quartile_px2)}};
}

json squares_json(const imaging::CrackFigures& figures) {
    json out = json::array();
    for (const imaging::CrackSquare& square : figures.squares) {
        const auto density = figures.density_mm_per_cm2(square);
        out.push_back({{"column", square.column},
                       {"row", square.row},
                       {"length_px", square.length_px},
                       {"counted_px", square.counted_px},
                       {"density_mm_per_cm2", density ? json(*density) : json(nullptr)}});
    }
    return out;
}

json figures_json(const imaging::CrackFigures& figures) {
    const auto optional = [](const std::optional<double>& value) { return value ? json(*value) : json(nullptr); };
    return {{"px_per_mm", optional(figures.px_per_mm)},
            {"length_px", figures.length_px},
            {"length_mm", optional(figures.length_mm())},
            {"density_mm_per_cm2", optional(figures.density_mm_per_cm2())},
            {"median_width_px", figures.median_width_px},
            {"median_depth", figures.median_depth},
            {"directions", directions_json(figures.directions)},
            {"islands", islands_json(figures)},
            {"drawn_share", figures.drawn_share},
            {"square_px", figures.square_px},
            {"squares", squares_json(figures)}};
}

std::vector<std::string> figures_lines(const imaging::CrackFigures& figures) {
    std::vector<std::string> out;
    if (const auto density = figures.density_mm_per_cm2())
        out.push_back(fmt::format("{} mm of cracks, {} mm on a square centimetre.",
                                  format_fixed(figures.length_mm().value_or(0), 0), format_fixed(*density, 2)));
    else
        out.push_back(fmt::format("{} px of cracks.", format_fixed(figures.length_px, 0)));
    if (figures.directions.directed < 0.1)
        out.push_back("No main direction.");
    else
        out.push_back(
            fmt::format("Main direction {}° from level; {} directed, {} in two ways at right angles (0 to 1).",
                        format_fixed(figures.directions.main_degrees, 0), format_fixed(figures.directions.directed, 2),
                        format_fixed(figures.directions.crossed, 2)));
    out.push_back(fmt::format("{} islands closed by cracks.", figures.islands.count));
    if (std::string warning = imaging::drawing_sentence(figures.drawn_share); !warning.empty())
        out.push_back(std::move(warning));
    return out;
}

Expected<void> write_drawn(const Arguments& arguments, const imaging::Raster8& srgb, const imaging::CrackMap& map) {
    if (const auto out = arguments.option("out")) {
        const auto drawn = imaging::draw_cracks(srgb, map);
        if (!drawn) return pass_on(drawn);
        if (auto done = write_picture_file(*out, *drawn); !done) return done;
    }
    const auto lines = arguments.option("lines");
    return lines ? write_picture_file(*lines, imaging::crack_lines(map)) : Expected<void>();
}

Expected<Answer> of_file(Context& context, const Arguments& arguments) {
    const auto scale = arguments.positive("px-per-mm");
    if (!scale) return pass_on(scale);
    const auto picture = imaging::read_picture(path_from_utf8(arguments.position("PHOTO")), {}, context.progress());
    if (!picture) return pass_on(picture);
    const auto srgb = imaging::to_srgb8(*picture, context.progress());
    if (!srgb) return pass_on(srgb);
    imaging::CrackOptions options;
    options.tone = arguments.flag("light") ? imaging::CrackTone::light : imaging::CrackTone::dark;
    const auto map = imaging::crack_map(*srgb, options, context.progress());
    if (!map) return pass_on(map);
    imaging::CrackFigureOptions wanted;
    wanted.px_per_mm = *scale;
    const auto figures = imaging::crack_figures(*map, wanted);
    if (!figures) return pass_on(figures);
    if (auto done = write_drawn(arguments, *srgb, *map); !done) return pass_on(done);
    Answer answer;
    answer.fields = figures_json(*figures);
    answer.lines = figures_lines(*figures);
    return answer;
}

Expected<usecases::CracksWanted> wanted_of(const Arguments& arguments) {
    usecases::CracksWanted out;
    out.light = arguments.flag("light");
    const auto widest = arguments.positive("widest-mm");
    if (!widest) return pass_on(widest);
    out.widest_mm = *widest;
    const auto square = arguments.positive("square-mm");
    if (!square) return pass_on(square);
    out.square_mm = square->value_or(out.square_mm);
    return out;
}

Expected<Answer> of_placed(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto wanted = wanted_of(arguments);
    if (!wanted) return pass_on(wanted);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto mapped = usecases::map_cracks(*acting, *photograph, *wanted, context.progress());
    if (!mapped) return pass_on(mapped);
    Answer answer;
    answer.fields = figures_json(mapped->figures);
    answer.fields["face_frame"] = to_text(mapped->face_frame);
    answer.fields["origin_mm"] = {mapped->origin.x_mm, mapped->origin.y_mm};
    answer.fields["measurements"] = json::array();
    for (const usecases::Done& done : mapped->measurements)
        answer.fields["measurements"].push_back(to_text(done.record));
    answer.lines = figures_lines(mapped->figures);
    tell_kept(mapped->picture, answer);
    return answer;
}

std::string_view word_for(imaging::CrackFate fate) {
    switch (fate) {
        case imaging::CrackFate::appeared:
            return "new";
        case imaging::CrackFate::gone:
            return "gone";
        case imaging::CrackFate::undecided:
            return "undecided";
        case imaging::CrackFate::same:
            break;
    }
    return "there before";
}

// "Is this crack new?" at a place of the face.
void answer_at(const PointMm& place, const usecases::ComparedCracks& compared, Answer& answer) {
    const auto* piece = compared.at(place);
    answer.fields["at"] =
        piece == nullptr ? json(nullptr)
                         : json{{"crack", word_for(piece->fate)}, {"length_mm", piece->length_px / compared.px_per_mm}};
    answer.lines.push_back(piece == nullptr ? "There is no crack within a millimetre of that place."
                                            : fmt::format("The crack there is {}, over {} mm.", word_for(piece->fate),
                                                          format_fixed(piece->length_px / compared.px_per_mm, 1)));
}

Expected<Answer> change(Context& context, const Arguments& arguments) {
    const auto after = id_at(arguments, "PHOTOGRAPH");
    const auto before = id_at(arguments, "before");
    if (!after) return pass_on(after);
    if (!before) return pass_on(before);
    const auto places = parse_points("at", arguments.option_or("at", "0,0"));
    if (!places) return pass_on(places);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto compared = usecases::compare_cracks(*acting, *before, *after, context.progress());
    if (!compared) return pass_on(compared);
    Answer answer;
    answer.fields = {
        {"id", to_text(compared->picture.done.record)},
        {"sha256", compared->picture.sha256},
        {"already", compared->picture.already},
        {"measurement", compared->measurement ? json(to_text(compared->measurement->record)) : json(nullptr)},
        {"new_mm", compared->appeared_mm},
        {"gone_mm", compared->gone_mm},
        {"same_mm", compared->same_mm},
        {"undecided_mm", compared->undecided_mm},
        {"error_mm", compared->error_mm},
        {"px_per_mm", compared->px_per_mm},
        {"note", compared->note.empty() ? json(nullptr) : json(compared->note)}};
    answer.lines = {fmt::format(
        "{} mm of cracks are new, {} mm are gone, {} mm were there before, {} mm are "
        "undecided; the two lie on each other to {} mm.",
        format_fixed(compared->appeared_mm, 0), format_fixed(compared->gone_mm, 0), format_fixed(compared->same_mm, 0),
        format_fixed(compared->undecided_mm, 0), format_fixed(compared->error_mm, 2))};
    if (!compared->note.empty()) answer.lines.push_back(compared->note);
    if (arguments.option("at")) answer_at(places->front(), *compared, answer);
    return answer;
}

}  // namespace

std::vector<Command> crack_commands() {
    return {
        {"cracks",
         {{"PHOTO"}, {"px-per-mm", "out", "lines"}, {}, {"light"}, {"out", "lines"}},
         "The cracks in a photograph: how many, which way, how large the islands between them.",
         of_file},
        {"photograph cracks",
         {{"DIR", "PHOTOGRAPH"}, {"widest-mm", "square-mm"}, {}, {"light"}},
         "Maps the cracks of a placed photograph and records what they amount to.",
         of_placed},
        {"photograph crack-change",
         {{"DIR", "PHOTOGRAPH"}, {"before", "at"}, {"before"}},
         "Which cracks of a placed photograph are new since another, and which are gone.",
         change},
    };
}

}  // namespace tedge::cli
