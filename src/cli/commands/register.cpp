#include <fmt/format.h>

#include <array>
#include <utility>

#include "command.hpp"
#include "picture_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::cli {

namespace {

using imaging::LightDifference;
using imaging::Raster8;
using nlohmann::json;

constexpr std::array<std::pair<std::string_view, LightDifference>, 4> lights{{
    {"unknown", LightDifference::unknown},
    {"same", LightDifference::none},
    {"other-kind", LightDifference::other_kind},
    {"one-side", LightDifference::one_side},
}};

Expected<LightDifference> parse_light(const std::string& word) {
    for (const auto& [name, light] : lights) {
        if (word == name) return light;
    }
    return fail("usage.no-such-light", fmt::format("'{}' does not say how the light of the two differs.", word),
                "Use unknown, same, other-kind or one-side.");
}

Expected<imaging::RegistrationOptions> options_of(const Arguments& arguments) {
    const auto light = parse_light(arguments.option_or("light", "unknown"));
    if (!light) return pass_on(light);
    imaging::RegistrationOptions options;
    if (const auto file = arguments.option("pairs")) {
        auto pairs = read_pairs(*file);
        if (!pairs) return pass_on(pairs);
        options.pairs = *std::move(pairs);
    }
    options.light = *light;
    options.accept_mirrored = arguments.flag("mirrored");
    return options;
}

Expected<void> write_points(const std::vector<PointPx>& points, const std::string& out, const imaging::PixelMap& map) {
    std::string text = "x,y\r\n";
    for (const PointPx& point : points) {
        const PointPx there = map.map(point);
        text += to_csv_line({format_number(there.x_px), format_number(there.y_px)});
    }
    return write_file_durably(path_from_utf8(out), text);
}

Expected<void> write_registered(const std::string& out, const Raster8& moving,
                                const imaging::RegistrationReport& report, const Progress& progress) {
    const auto format = imaging::format_for(path_from_utf8(out));
    if (!format) return pass_on(format);
    const auto laid = imaging::resample(moving, report.reference_from_moving, report.reference_size, 0, progress);
    if (!laid) return pass_on(laid);
    imaging::PictureWriteOptions options;
    options.jpeg_quality = 95;
    return imaging::write_picture(path_from_utf8(out), *laid, *format, options);
}

std::string reason_of(const imaging::RegistrationReport& report) {
    return report.reason + (report.code == "registration.mirrored" ? " With --mirrored it is laid as the back." : "");
}

Answer answer_of(const imaging::RegistrationReport& report) {
    Answer answer;
    answer.fields = {{"usable", report.usable},
                     {"reason", report.usable ? json(nullptr) : json(reason_of(report))},
                     {"code", report.code},
                     {"inliers", report.inliers},
                     {"residual_px", report.residual_px},
                     {"error_px", report.error_px},
                     {"overlap_share", report.overlap_share},
                     {"mirrored", report.mirrored},
                     {"matched_on", std::string(imaging::name_of(report.matched_on))},
                     {"seconds", report.seconds}};
    if (report.pairs) answer.fields["pairs"] = pairs_fields(*report.pairs);
    answer.lines = {fmt::format("{} {} places agree, residual {} px, {} s.", reason_of(report), report.inliers,
                                format_fixed(report.residual_px, 2), format_fixed(report.seconds, 1))};
    answer.code = report.usable ? ExitCode::done : ExitCode::not_to_be_trusted;
    return answer;
}

Expected<Answer> register_two(Context& context, const Arguments& arguments) {
    if (arguments.option("points").has_value() != arguments.option("points-out").has_value()) {
        return fail("usage.half-of-points", "--points and --points-out go together.", "Give both, or neither.");
    }
    const auto options = options_of(arguments);
    if (!options) return pass_on(options);
    const auto points = arguments.option("points") ? read_points(*arguments.option("points")) : std::vector<PointPx>();
    if (!points) return pass_on(points);
    const Progress& progress = context.progress();
    const auto reference = read_srgb(arguments.position("REFERENCE"), progress);
    if (!reference) return pass_on(reference);
    const auto moving = read_srgb(arguments.position("MOVING"), progress);
    if (!moving) return pass_on(moving);
    const auto report = imaging::register_pictures(*reference, *moving, *options, progress);
    if (!report) return pass_on(report);
    if (report->usable && arguments.option("out")) {
        if (auto done = write_registered(*arguments.option("out"), *moving, *report, progress); !done)
            return pass_on(done);
    }
    if (report->usable && arguments.option("points")) {
        auto done = write_points(*points, *arguments.option("points-out"), report->reference_from_moving);
        if (!done) return pass_on(done);
    }
    return answer_of(*report);
}

}  // namespace

std::vector<Command> register_commands() {
    return {
        {"register",
         {{"REFERENCE", "MOVING"}, {"out", "points", "points-out", "light", "pairs"}, {}, {"mirrored"}, {"out"}},
         "Lays one photograph over another of the same picture, or says why it cannot be trusted.",
         register_two},
    };
}

}  // namespace tedge::cli
