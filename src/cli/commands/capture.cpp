// How well a photograph was taken, told without a colour chart: sharpness, noise, scale, evenness of the light.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_noise.hpp"
#include "tedge/usecases/measure_scale.hpp"
#include "tedge/usecases/measure_sharpness.hpp"
#include "tolerance_fields.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

void add_tolerances(Answer& answer, const std::vector<imaging::ToleranceLine>& lines) {
    answer.fields["tolerances"] = tolerance_fields(lines);
    for (const imaging::ToleranceLine& line : lines) answer.lines.push_back(line.sentence);
}

json or_null(const std::optional<double>& value) {
    return value ? json(*value) : json(nullptr);
}

json box_json(const imaging::BoxPx& box) {
    return {box.x_px, box.y_px, box.width_px, box.height_px};
}

Expected<imaging::BoxPx> box_at(const Arguments& arguments, std::string_view option) {
    const auto box = parse_pixels<4>(option, *arguments.option(option));
    if (!box) return pass_on(box);
    const auto& [left, top, width, height] = *box;
    return imaging::BoxPx{static_cast<int>(left), static_cast<int>(top), static_cast<int>(width),
                          static_cast<int>(height)};
}

Answer sharpness_answer(const usecases::MeasuredSharpness& measured) {
    const imaging::EdgeSharpness& edge = measured.edge;
    Answer answer;
    answer.fields = {{"id", to_text(measured.done.record)},
                     {"sampling_efficiency_percent", edge.sampling_efficiency_percent},
                     {"sfr50_cycles_per_px", edge.sfr50_cycles_per_px},
                     {"sfr10_cycles_per_px", edge.sfr10_cycles_per_px},
                     {"highest_response", edge.highest_response},
                     {"edge_degrees", edge.edge_degrees},
                     {"edge_px", box_json(measured.edge_in)},
                     {"edge_found", measured.found},
                     {"response", edge.response},
                     {"px_per_mm", or_null(measured.px_per_mm)},
                     {"sfr50_cycles_per_mm", or_null(measured.sfr50_cycles_per_mm)}};
    answer.lines = {
        fmt::format("{} % of what the pixels could carry; the response is down to a half at {} cycles a pixel.",
                    format_fixed(edge.sampling_efficiency_percent, 0), format_fixed(edge.sfr50_cycles_per_px, 3))};
    if (measured.found) {
        const imaging::BoxPx& box = measured.edge_in;
        answer.lines.push_back(fmt::format(
            "By the best edge that was found, in the {} × {} px at {}, {}: see that it lies in the plane of "
            "the picture, or point at another with --edge.",
            box.width_px, box.height_px, box.x_px, box.y_px));
    }
    if (measured.sfr50_cycles_per_mm)
        answer.lines.push_back(fmt::format("On the picture that is {} line pairs a millimetre.",
                                           format_fixed(*measured.sfr50_cycles_per_mm, 2)));
    if (!measured.caution.empty()) answer.lines.push_back(measured.caution);
    add_tolerances(answer, measured.tolerances);
    return answer;
}

Expected<Answer> sharpness(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    std::optional<imaging::BoxPx> edge_in;
    if (arguments.option("edge")) {
        const auto box = box_at(arguments, "edge");
        if (!box) return pass_on(box);
        edge_in = *box;
    }
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_sharpness(*acting, *photograph, edge_in, context.progress());
    if (!measured) return pass_on(measured);
    return sharpness_answer(*measured);
}

Expected<Answer> noise(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto patch = box_at(arguments, "patch");
    if (!patch) return pass_on(patch);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_noise(*acting, *photograph, *patch, context.progress());
    if (!measured) return pass_on(measured);
    Answer answer;
    answer.fields = {{"id", to_text(measured->done.record)},
                     {"noise_l", measured->noise.noise_l},
                     {"lightness_l", measured->noise.lightness_l},
                     {"uneven_l", measured->noise.uneven_l},
                     {"pixels", measured->noise.pixels}};
    answer.lines = {fmt::format("Noise {} L* (standard deviation) on a patch of L* {}.",
                                format_fixed(measured->noise.noise_l, 2),
                                format_fixed(measured->noise.lightness_l, 0))};
    add_tolerances(answer, measured->tolerances);
    return answer;
}

// Nothing where no ruler is spoken of. Half of a ruler is wrong use.
Expected<std::optional<usecases::RulerSeen>> ruler_of(const Arguments& arguments) {
    const auto from = arguments.option("from"), to = arguments.option("to");
    const auto length = arguments.positive("length-mm"), tick = arguments.positive("tick-mm");
    if (!length) return pass_on(length);
    if (!tick) return pass_on(tick);
    if (!from && !to && !*length && !*tick) return std::optional<usecases::RulerSeen>{};
    if (!from || !to || !*length)
        return fail("usage.half-a-ruler", "A ruler takes --from, --to and --length-mm.",
                    "Give two marks in pixels and the millimetres between them.");
    const auto first = parse_pixels<2>("from", *from);
    if (!first) return pass_on(first);
    const auto second = parse_pixels<2>("to", *to);
    if (!second) return pass_on(second);
    return std::optional(
        usecases::RulerSeen{{(*first)[0], (*first)[1]}, {(*second)[0], (*second)[1]}, **length, tick->value_or(1.0)});
}

Expected<Answer> scale(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto ruler = ruler_of(arguments);
    if (!ruler) return pass_on(ruler);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_scale(*acting, *photograph, *ruler, context.progress());
    if (!measured) return pass_on(measured);
    Answer answer;
    answer.fields = {{"id", to_text(measured->done.record)},
                     {"px_per_mm", measured->scale.px_per_mm},
                     {"half_range_percent", measured->scale.half_range_percent},
                     {"from_ticks", measured->scale.from_ticks},
                     {"placement_off_percent", or_null(measured->placement_off_percent)}};
    answer.lines = {fmt::format("{} px/mm, to {} % ({}).", format_fixed(measured->scale.px_per_mm, 3),
                                format_fixed(measured->scale.half_range_percent, 2),
                                !*ruler                      ? "by the sides of the face"
                                : measured->scale.from_ticks ? "by the ruler's ticks"
                                                             : "by two points of the ruler")};
    add_tolerances(answer, measured->tolerances);
    return answer;
}

Expected<Answer> flat_field(Context& context, const Arguments& arguments) {
    const auto photographs = ids_at(arguments, "for");
    if (!photographs) return pass_on(photographs);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto measured = usecases::measure_board(*acting, *case_id, path_from_utf8(arguments.position("BOARD")),
                                                  *photographs, context.progress());
    if (!measured) return pass_on(measured);
    Answer answer;
    answer.fields = {{"id", to_text(measured->done.record)},
                     {"sha256", measured->sha256},
                     {"already", measured->already},
                     {"non_uniformity_percent", measured->non_uniformity_percent},
                     {"evened_percent", measured->evened_percent},
                     {"misfit_percent", measured->misfit_percent},
                     {"photographs", measured->named.size()}};
    answer.lines = {fmt::format("{}  the light is {} % uneven; evened, {} % are left. Named for {}.",
                                to_text(measured->done.record), format_fixed(measured->non_uniformity_percent, 1),
                                format_fixed(measured->evened_percent, 1),
                                counted(measured->named.size(), "photograph", "photographs"))};
    add_tolerances(answer, measured->tolerances);
    return answer;
}

}  // namespace

std::vector<Command> capture_commands() {
    return {
        {"photograph sharpness",
         {{"DIR", "PHOTOGRAPH"}, {"edge"}},
         "How sharp a photograph is, by a slanted edge in the box x,y,width,height (px), or by the best edge in it.",
         sharpness},
        {"photograph noise",
         {{"DIR", "PHOTOGRAPH"}, {"patch"}, {"patch"}},
         "How noisy a photograph is (standard deviation of L*), by a patch of one tone in the box x,y,width,height "
         "(px).",
         noise},
        {"photograph scale",
         {{"DIR", "PHOTOGRAPH"}, {"from", "to", "length-mm", "tick-mm"}},
         "Pixels per millimetre, by two marks of a ruler in the photograph or, without one, by the face's size.",
         scale},
        {"photograph flat-field",
         {{"DIR", "CASE", "BOARD"}, {"for"}},
         "How even the light was, by a photograph of an even board; photographs named by --for are evened by it.",
         flat_field},
    };
}

}  // namespace tedge::cli
