#include <fmt/format.h>

#include "command.hpp"
#include "difference_fields.hpp"
#include "picture_files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_sheet.hpp"
#include "tedge/usecases/guessed_light.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json region_fields(const imaging::RegionFigures& region) {
    json left_out = json::object();
    for (std::size_t i = 0; i < region.left_out_cm2.size(); ++i)
        left_out[std::string(imaging::to_text(imaging::reasons_not_counted[i]))] = region.left_out_cm2[i];
    return {{"figures", region.figures ? statistics_fields(*region.figures) : json(nullptr)},
            {"area_cm2", region.area_cm2},
            {"counted_cm2", region.counted_cm2},
            {"left_out_cm2", left_out}};
}

json cleaned_fields(const imaging::CleanedAreas& cleaned) {
    json areas = json::array();
    for (const imaging::CleanedArea& each : cleaned.areas)
        areas.push_back({{"area_cm2", each.area_cm2},
                         {"delta_l", each.delta_l},
                         {"delta_b", each.delta_b},
                         {"region", json::parse(each.region.to_geojson())}});
    return {{"total_cm2", cleaned.total_cm2},
            {"all_over", cleaned.all_over},
            {"sentence", cleaned.sentence},
            {"areas", areas}};
}

std::string place_line(usecases::ColourDifferenceMap const& map, const std::string& name,
                       const imaging::RegionFigures& region) {
    return fmt::format("{}: {}; {} of {} cm² count.", name,
                       region.figures ? statistics_line(map.kind, *region.figures) : "nothing counts",
                       format_fixed(region.counted_cm2, 1), format_fixed(region.area_cm2, 1));
}

Answer told(const usecases::ColourDifferenceMap& map) {
    Answer answer;
    json places = json::object();
    answer.lines.push_back(place_line(map, "Face", map.whole));
    for (const usecases::PlaceFigures& each : map.places) {
        places[to_text(each.record)] = region_fields(each.figures);
        answer.lines.push_back(place_line(map, to_text(each.record), each.figures));
    }
    answer.fields = {{"map", std::string(imaging::to_text(map.kind))},
                     {"whole", region_fields(map.whole)},
                     {"places", places},
                     {"cleaned", map.cleaned ? cleaned_fields(*map.cleaned) : json(nullptr)},
                     {"floor_delta_e00", map.floor_delta_e00 ? json(*map.floor_delta_e00) : json(nullptr)},
                     {"floor", map.floor_sentence},
                     {"corrected_by_charts", map.charts_missing.empty()},
                     {"note", map.note.empty() ? json(nullptr) : json(map.note)},
                     {"evened", map.evened},
                     {"guessed_lights", map.guessed_lights},
                     {"error_mm", map.error_mm},
                     {"measurement", nullptr}};
    if (map.cleaned) answer.lines.push_back(map.cleaned->sentence);
    answer.lines.push_back(map.floor_sentence);
    if (!map.note.empty()) answer.lines.push_back("It " + map.note + ".");
    answer.lines.insert(answer.lines.end(), map.evened.begin(), map.evened.end());
    answer.lines.insert(answer.lines.end(), map.guessed_lights.begin(), map.guessed_lights.end());
    if (!map.guessed_lights.empty()) answer.lines.emplace_back(usecases::confirm_light);
    return answer;
}

// What is handed on says what it is: the map with its scale, what of it is evidence, and what was left out.
imaging::Raster8 sheet_of(const usecases::ColourDifferenceMap& map) {
    std::vector<std::string> lines{map.floor_sentence, laid_line(map.error_mm)};
    if (!map.note.empty()) lines.push_back("It " + map.note + ".");
    lines.insert(lines.end(), map.evened.begin(), map.evened.end());
    lines.insert(lines.end(), map.guessed_lights.begin(), map.guessed_lights.end());
    return imaging::with_legend(map.drawn, map.scale, std::string(imaging::symbol_of(map.kind)), lines);
}

Expected<Answer> difference(Context& context, const Arguments& arguments) {
    const auto reference = id_at(arguments, "REFERENCE");
    if (!reference) return pass_on(reference);
    const auto second = id_at(arguments, "SECOND");
    if (!second) return pass_on(second);
    usecases::ColourDifferenceWanted wanted;
    const auto kind = said_by("map", imaging::parse_difference_kind(arguments.option_or("map", "delta-e00")));
    if (!kind) return pass_on(kind);
    wanted.kind = *kind;
    const auto places = ids_at(arguments, "at");
    if (!places) return pass_on(places);
    wanted.places = *places;
    wanted.cleaned_areas = arguments.flag("cleaned");
    // Looking asks for no author: that would be written where he is new, and a book may be for reading only.
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto map = usecases::map_colour_difference(**book, *reference, *second, wanted, context.progress());
    if (!map) return pass_on(map);
    Answer answer = told(*map);
    if (const auto out = arguments.option("out"))
        if (auto done = write_picture_file(*out, sheet_of(*map)); !done) return pass_on(done);
    if (!arguments.flag("record") && !arguments.flag("keep")) return answer;
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    if (arguments.flag("record")) {
        const auto done = usecases::record_colour_difference(*acting, *reference, *second, *map);
        if (!done) return pass_on(done);
        answer.fields["measurement"] = to_text(done->record);
    }
    if (arguments.flag("keep")) {
        const auto kept = usecases::keep_colour_difference(*acting, *reference, *second, *map);
        if (!kept) return pass_on(kept);
        tell_kept(*kept, answer);
    }
    return answer;
}

}  // namespace

std::vector<Command> photograph_difference_commands() {
    return {
        {"photograph difference",
         {{"DIR", "REFERENCE", "SECOND"}, {"map", "at", "out"}, {}, {"cleaned", "record", "keep"}, {"out"}},
         "How the colour changed between two placed photographs, by place; which areas were cleaned. --keep keeps the "
         "drawn map with the photographs.",
         difference}};
}

}  // namespace tedge::cli
