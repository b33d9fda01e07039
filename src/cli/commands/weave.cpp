#include <fmt/format.h>

#include "command.hpp"
#include "picture_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/thread_count.hpp"
#include "tedge/imaging/weave_drawing.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/measure_weave.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using imaging::ThreadCount;
using nlohmann::json;

std::string_view word_for(imaging::Cusping::Edge edge) {
    switch (edge) {
        case imaging::Cusping::Edge::top:
            return "top";
        case imaging::Cusping::Edge::right:
            return "right";
        case imaging::Cusping::Edge::bottom:
            return "bottom";
        case imaging::Cusping::Edge::left:
            break;
    }
    return "left";
}

std::string_view word_for(imaging::Weave weave) {
    switch (weave) {
        case imaging::Weave::plain:
            break;
        case imaging::Weave::twill:
            return "twill";
        case imaging::Weave::basket_or_herringbone:
            return "basket-or-herringbone";
        case imaging::Weave::half_basket:
            return "half-basket";
    }
    return "plain";
}

json cusping_fields(const ThreadCount& count) {
    json out = json::array();
    for (const imaging::Cusping& each : count.cusping)
        out.push_back({{"edge", word_for(each.edge)},
                       {"amplitude_deg", each.amplitude_deg},
                       {"amplitude_mm", each.amplitude_mm},
                       {"wavelength_mm", each.wavelength_mm}});
    return out;
}

// What is not to be trusted has no figures that a script could take for counts.
json both(const ThreadCount& count, double imaging::ThreadSet::* figure) {
    if (!count.usable) return {{"a", nullptr}, {"b", nullptr}};
    return {{"a", count.a.*figure}, {"b", count.b.*figure}};
}

std::string line_of(std::string_view name, std::string_view way, const imaging::ThreadSet& set) {
    return fmt::format("{}: {} ± {} threads/cm counted {}, at {}°; {} % of the squares.", name,
                       format_fixed(set.threads_per_cm, 2), format_fixed(set.uncertainty_per_cm, 2), way,
                       format_fixed(set.angle_deg, 1), format_fixed(100.0 * set.trusted_share, 0));
}

Answer answer_of(const ThreadCount& count) {
    Answer answer;
    answer.fields = {{"usable", count.usable},
                     {"code", count.usable ? json(nullptr) : json(count.code)},
                     {"reason", count.usable ? json(nullptr) : json(count.reason)},
                     {"weave", count.usable ? json(word_for(count.weave)) : json(nullptr)},
                     {"threads_per_cm", both(count, &imaging::ThreadSet::threads_per_cm)},
                     {"uncertainty_per_cm", both(count, &imaging::ThreadSet::uncertainty_per_cm)},
                     {"spread_per_cm", both(count, &imaging::ThreadSet::spread_per_cm)},
                     {"roughness_per_cm", both(count, &imaging::ThreadSet::roughness_per_cm)},
                     {"angle_deg", both(count, &imaging::ThreadSet::angle_deg)},
                     {"trusted_share", both(count, &imaging::ThreadSet::trusted_share)},
                     {"confidence", count.confidence},
                     {"cusping", cusping_fields(count)},
                     {"largest_count_per_cm", count.largest_count_per_cm},
                     {"notes", count.notes}};
    if (!count.usable) {
        answer.lines = {count.reason};
        answer.code = ExitCode::not_to_be_trusted;
        return answer;
    }
    answer.lines = {line_of("a", "across", count.a), line_of("b", "down", count.b),
                    fmt::format("Confidence {}.", format_fixed(count.confidence, 2))};
    for (const imaging::Cusping& each : count.cusping)
        answer.lines.push_back(
            fmt::format("Cusping along the {} edge: waves of {} mm, {} mm high to either side ({}°).",
                        word_for(each.edge), format_fixed(each.wavelength_mm, 0), format_fixed(each.amplitude_mm, 1),
                        format_fixed(each.amplitude_deg, 1)));
    answer.lines.insert(answer.lines.end(), count.notes.begin(), count.notes.end());
    return answer;
}

Expected<void> write_map(const std::string& out, const ThreadCount& count, Answer& answer) {
    const imaging::DrawnWeave drawn = imaging::draw_weave(count);
    if (auto done = write_picture_file(out, drawn.drawn); !done) return done;
    const auto range = [](const imaging::WeaveScale& scale) {
        return json::array({scale.low_per_cm, scale.high_per_cm});
    };
    answer.fields["map_range_per_cm"] = {{"a", range(drawn.a)}, {"b", range(drawn.b)}};
    answer.lines.push_back(
        fmt::format("Map: a at the left, from {} (dark) to {} threads/cm (bright), b at the right, "
                    "from {} to {}; grey is not trusted.",
                    format_fixed(drawn.a.low_per_cm, 1), format_fixed(drawn.a.high_per_cm, 1),
                    format_fixed(drawn.b.low_per_cm, 1), format_fixed(drawn.b.high_per_cm, 1)));
    return {};
}

Expected<Answer> thread_count(Context& context, const Arguments& arguments) {
    const auto px_per_cm = arguments.positive("px-per-cm");
    if (!px_per_cm) return pass_on(px_per_cm);
    const Progress& progress = context.progress();
    const auto picture =
        imaging::read_picture(path_from_utf8(arguments.position("PHOTO")), {}, progress.part(0.0, 0.2));
    if (!picture) return pass_on(picture);
    const auto view = std::visit([](const auto& raster) { return imaging::PictureView(raster); }, picture->pixels);
    const auto count = imaging::count_threads(view, **px_per_cm, {}, progress.part(0.2, 1.0));
    if (!count) return pass_on(count);
    Answer answer = answer_of(*count);
    if (const auto out = arguments.option("map"))
        if (const auto done = write_map(*out, *count, answer); !done) return pass_on(done);
    return answer;
}

// The map of each set as it is kept.
json maps_json(const std::vector<usecases::KeptPicture>& maps) {
    if (maps.empty()) return nullptr;
    const auto one = [](const usecases::KeptPicture& map) {
        return json{{"id", to_text(map.done.record)}, {"sha256", map.sha256}, {"already", map.already}};
    };
    return {{"a", one(maps.front())}, {"b", one(maps.back())}};
}

Expected<Answer> photograph_weave(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_weave(*acting, *photograph, context.progress());
    if (!measured) return pass_on(measured);
    Answer answer = answer_of(measured->count);
    answer.fields["maps"] = maps_json(measured->maps);
    answer.fields["ids"] = measured->recorded ? json{{"a", to_text(measured->recorded->across.record)},
                                                     {"b", to_text(measured->recorded->down.record)}}
                                              : json(nullptr);
    if (const auto out = arguments.option("map"))
        if (const auto done = write_map(*out, measured->count, answer); !done) return pass_on(done);
    return answer;
}

}  // namespace

std::vector<Command> weave_commands() {
    return {
        {"thread-count",
         {{"PHOTO"}, {"px-per-cm", "map"}, {"px-per-cm"}, {}, {"map"}},
         "Counts the threads of canvas: a across the photograph (they run up and down), b down it; angle_deg is the "
         "direction of counting, x to the right, y down.",
         thread_count},
        {"photograph weave",
         {{"DIR", "PHOTOGRAPH"}, {"map"}, {}, {}, {"map"}},
         "Counts the threads of canvas on a placed photograph, records both counts (a across the face, b down it) and "
         "keeps "
         "their maps.",
         photograph_weave},
    };
}

}  // namespace tedge::cli
