// Where relief changed between two placed photographs in raking light.
#include <fmt/format.h>

#include "command.hpp"
#include "difference_fields.hpp"
#include "picture_files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_sheet.hpp"
#include "tedge/usecases/map_relief_change.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using imaging::ReliefTurn;
using nlohmann::json;
using usecases::ReliefChangeMap;

std::string_view word_for(ReliefTurn turn) {
    switch (turn) {
        case ReliefTurn::stronger:
            return "relief became stronger";
        case ReliefTurn::weaker:
            return "relief became weaker";
        case ReliefTurn::unclear:
            break;
    }
    return "relief changed, stronger or weaker is not told";
}

std::string summary(const ReliefChangeMap& map) {
    const std::size_t count = map.change.places.size();
    if (count == 0) return "No relief changed by more than noise and misfit could make.";
    return fmt::format("Relief changed in {} place{}, {} cm² in all.", count, count == 1 ? "" : "s",
                       format_fixed(map.total_cm2, 1));
}

json place_fields(const imaging::ReliefPlace& place) {
    return {{"area_cm2", place.area_cm2},
            {"turn", std::string(imaging::to_text(place.turn))},
            {"times_floor", place.strength},
            {"region", json::parse(place.region.to_geojson())}};
}

std::string place_line(const imaging::ReliefPlace& place) {
    const BoxMm box = place.region.bounds();
    return fmt::format("At {}, {} mm: {} cm², {}, {} times the floor.",
                       format_fixed((box.min.x_mm + box.max.x_mm) / 2, 0),
                       format_fixed((box.min.y_mm + box.max.y_mm) / 2, 0), format_fixed(place.area_cm2, 2),
                       word_for(place.turn), format_fixed(place.strength, 1));
}

Answer told(const ReliefChangeMap& map) {
    Answer answer;
    json places = json::array();
    answer.lines.push_back(summary(map));
    for (const imaging::ReliefPlace& place : map.change.places) {
        places.push_back(place_fields(place));
        answer.lines.push_back(place_line(place));
    }
    answer.fields = {{"places", places},
                     {"total_cm2", map.total_cm2},
                     {"noise", map.change.noise},
                     {"error_mm", map.error_mm},
                     {"px_per_mm", map.px_per_mm},
                     {"note", map.change.note.empty() ? json(nullptr) : json(map.change.note)},
                     {"id", nullptr}};
    if (!map.change.note.empty()) answer.lines.push_back(map.change.note);
    return answer;
}

imaging::Raster8 sheet_of(const ReliefChangeMap& map) {
    std::vector<std::string> lines{summary(map), laid_line(map.error_mm),
                                   "Outlines reach some 4 mm beyond what changed. Cleaning, retouching and gloss show "
                                   "as well where they have fine edges: look at both photographs."};
    if (!map.change.note.empty()) lines.push_back(map.change.note);
    return imaging::with_legend(map.drawn, map.scale, "change of shading, times the floor", lines);
}

Expected<Answer> relief_change(Context& context, const Arguments& arguments) {
    const auto before = id_at(arguments, "BEFORE");
    if (!before) return pass_on(before);
    const auto after = id_at(arguments, "AFTER");
    if (!after) return pass_on(after);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto map = usecases::map_relief_change(**book, *before, *after, context.progress());
    if (!map) return pass_on(map);
    Answer answer = told(*map);
    if (const auto out = arguments.option("out"))
        if (auto done = write_picture_file(*out, sheet_of(*map)); !done) return pass_on(done);
    if (!arguments.flag("keep")) return answer;
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto kept = usecases::keep_relief_change(*acting, *map);
    if (!kept) return pass_on(kept);
    tell_kept(*kept, answer);
    return answer;
}

}  // namespace

std::vector<Command> relief_change_commands() {
    return {{"photograph relief-change",
             {{"DIR", "BEFORE", "AFTER"}, {"out"}, {}, {"keep"}, {"out"}},
             "Where relief changed between two photographs in raking light, registered to each other.",
             relief_change}};
}

}  // namespace tedge::cli
