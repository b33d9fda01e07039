#include <fmt/format.h>

#include "command.hpp"
#include "picture_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_scale.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

// Differences drawn from dark to bright; a mean error of two good photographs is about 2 (published tolerances).
constexpr imaging::DifferenceScale map_scale{0.0, 20.0};

json statistics_fields(const imaging::DifferenceStatistics& s) {
    return {{"mean", s.mean}, {"p50", s.p50}, {"p95", s.p95}, {"max", s.max}};
}

Expected<Answer> colour_difference(Context& context, const Arguments& arguments) {
    const auto reference = read_srgb(arguments.position("REFERENCE"), context.progress());
    if (!reference) return pass_on(reference);
    const auto registered = read_srgb(arguments.position("REGISTERED"), context.progress());
    if (!registered) return pass_on(registered);
    imaging::ColourDifferenceOptions options;
    options.both_cross_polarised = arguments.flag("cross-polarised");
    const auto difference = imaging::colour_difference(*reference, *registered, options, context.progress());
    if (!difference) return pass_on(difference);
    if (const auto out = arguments.option("out")) {
        const auto format = imaging::format_for(path_from_utf8(*out));
        if (!format) return pass_on(format);
        auto done = imaging::write_picture(path_from_utf8(*out),
                                           imaging::draw_differences(difference->delta_e00, map_scale), *format);
        if (!done) return pass_on(done);
    }
    const imaging::ColourDifferenceReport& report = difference->report;
    Answer answer;
    answer.fields = {{"delta_e00", statistics_fields(report.all)},
                     {"note", report.note.empty() ? json(nullptr) : json(report.note)},
                     {"megapixels", report.megapixels},
                     {"seconds", report.seconds}};
    answer.lines = {fmt::format("ΔE00 mean {}, median {}, 95 % below {}, largest {}{}.",
                                format_fixed(report.all.mean, 2), format_fixed(report.all.p50, 2),
                                format_fixed(report.all.p95, 2), format_fixed(report.all.max, 2),
                                report.note.empty() ? "" : "; " + report.note)};
    return answer;
}

}  // namespace

std::vector<Command> picture_commands() {
    return {
        {"colour-difference",
         {{"REFERENCE", "REGISTERED"}, {"out"}, {}, {"cross-polarised"}},
         "How much the colour changed between two registered photographs (CIEDE2000).",
         colour_difference},
    };
}

}  // namespace tedge::cli
