#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "difference_fields.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_gates.hpp"
#include "tedge/imaging/difference_scale.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::cli {

namespace {

using imaging::Raster8;
using nlohmann::json;

constexpr std::uint64_t largest_points_bytes = 100'000'000;
// Differences drawn from dark to bright; a mean error of two good photographs is about 2 (published tolerances).
constexpr imaging::DifferenceScale map_scale{0.0, 20.0};

Expected<Raster8> read_srgb(const std::string& file, const Progress& progress) {
    const auto picture = imaging::read_picture(path_from_utf8(file), {}, progress);
    if (!picture) return pass_on(picture);
    return imaging::to_srgb8(*picture, progress);
}

Expected<std::vector<PointPx>> read_points(const std::string& file) {
    const auto text = read_file(path_from_utf8(file), largest_points_bytes);
    if (!text) return pass_on(text);
    const auto table = Table::parse(*text);
    if (!table) return pass_on(table);
    if (!table->has_column("x") || !table->has_column("y")) {
        return fail("points.no-columns", fmt::format("{} has no columns x and y.", file),
                    "Begin it with the line x,y.");
    }
    std::vector<PointPx> points;
    for (std::size_t row = 0; row < table->row_count(); ++row) {
        const auto x = parse_number(trimmed(table->cell(row, "x")));
        const auto y = parse_number(trimmed(table->cell(row, "y")));
        if (!x) return pass_on(x);
        if (!y) return pass_on(y);
        points.push_back({*x, *y});
    }
    return points;
}

Expected<void> write_points(const std::string& in, const std::string& out, const imaging::PixelMap& map) {
    const auto points = read_points(in);
    if (!points) return pass_on(points);
    std::string text = "x,y\r\n";
    for (const PointPx& point : *points) {
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

Expected<Answer> register_two(Context& context, const Arguments& arguments) {
    if (arguments.option("points").has_value() != arguments.option("points-out").has_value()) {
        return fail("usage.half-of-points", "--points and --points-out go together.", "Give both, or neither.");
    }
    const Progress& progress = context.progress();
    const auto reference = read_srgb(arguments.position("REFERENCE"), progress);
    if (!reference) return pass_on(reference);
    const auto moving = read_srgb(arguments.position("MOVING"), progress);
    if (!moving) return pass_on(moving);
    const auto report = imaging::register_pictures(*reference, *moving, {}, progress);
    if (!report) return pass_on(report);
    if (report->usable && arguments.option("out")) {
        if (auto done = write_registered(*arguments.option("out"), *moving, *report, progress); !done)
            return pass_on(done);
    }
    if (report->usable && arguments.option("points")) {
        auto done =
            write_points(*arguments.option("points"), *arguments.option("points-out"), report->reference_from_moving);
        if (!done) return pass_on(done);
    }
    Answer answer;
    answer.fields = {{"usable", report->usable},
                     {"reason", report->usable ? json(nullptr) : json(report->reason)},
                     {"code", report->code},
                     {"inliers", report->inliers},
                     {"residual_px", report->residual_px},
                     {"error_px", report->error_px},
                     {"overlap_share", report->overlap_share},
                     {"mirrored", report->mirrored},
                     {"seconds", report->seconds}};
    answer.lines = {fmt::format("{} {} places agree, residual {} px, {} s.", report->reason, report->inliers,
                                format_fixed(report->residual_px, 2), format_fixed(report->seconds, 1))};
    answer.code = report->usable ? ExitCode::done : ExitCode::not_to_be_trusted;
    return answer;
}

// The map that was asked for, over the pixels that count, and the one drawn.
struct Mapped {
    imaging::DifferenceKind kind;
    imaging::RasterF map;
    Raster8 gated;
};

Expected<Mapped> mapped(const Raster8& reference, const Raster8& registered, const imaging::RasterF& delta_e00,
                        const Arguments& arguments, const Progress& progress) {
    const auto kind = imaging::parse_difference_kind(arguments.option_or("map", "delta-e00"));
    if (!kind) return pass_on(kind);
    const auto error_px = arguments.number("error-px");
    if (!error_px) return pass_on(error_px);
    imaging::DifferenceGates gates;
    gates.error_px = error_px->value_or(0.0);
    auto gated = imaging::gate_differences(reference, registered, delta_e00, gates, progress);
    if (!gated) return pass_on(gated);
    if (*kind == imaging::DifferenceKind::delta_e00) return Mapped{*kind, delta_e00, *std::move(gated)};
    auto map = imaging::difference_map(reference, registered, *kind, 0, progress);
    if (!map) return pass_on(map);
    return Mapped{*kind, *std::move(map), *std::move(gated)};
}

Expected<void> write_map(const std::string& out, const Mapped& mapped) {
    const auto format = imaging::format_for(path_from_utf8(out));
    if (!format) return pass_on(format);
    imaging::DifferenceScale scale = map_scale;
    scale.both_ways = imaging::has_sign(mapped.kind);
    const Raster8 counted = imaging::counted_of(mapped.gated);
    return imaging::write_picture(path_from_utf8(out), imaging::draw_differences(mapped.map, scale, &counted), *format);
}

json left_out_shares(const Raster8& gated) {
    json out = json::object();
    for (const imaging::NotCounted reason : imaging::reasons_not_counted) {
        const auto pixels = std::ranges::count(gated.samples(), static_cast<std::uint8_t>(reason));
        out[std::string(imaging::to_text(reason))] =
            static_cast<double>(pixels) / static_cast<double>(gated.samples().size());
    }
    return out;
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
    const auto wanted = mapped(*reference, *registered, difference->delta_e00, arguments, context.progress());
    if (!wanted) return pass_on(wanted);
    if (const auto out = arguments.option("out"))
        if (auto done = write_map(*out, *wanted); !done) return pass_on(done);
    const imaging::ColourDifferenceReport& report = difference->report;
    const Raster8 counted = imaging::counted_of(wanted->gated);
    const auto gated = imaging::statistics_of(wanted->map, &counted);
    Answer answer;
    answer.fields = {{"delta_e00", statistics_fields(report.all)},
                     {"map", std::string(imaging::to_text(wanted->kind))},
                     {"gated", gated ? statistics_fields(*gated) : json(nullptr)},
                     {"left_out", left_out_shares(wanted->gated)},
                     {"floor_delta_e00", nullptr},
                     {"note", report.note.empty() ? json(nullptr) : json(report.note)},
                     {"megapixels", report.megapixels},
                     {"seconds", report.seconds}};
    answer.lines = {
        statistics_line(imaging::DifferenceKind::delta_e00, report.all) +
            (report.note.empty() ? "." : "; " + report.note + "."),
        gated ? statistics_line(wanted->kind, *gated) + " where it counts." : "No pixel counts.",
        "Two files alone: no chart says below which difference nothing is evidence. A look, not a measurement."};
    return answer;
}

}  // namespace

std::vector<Command> picture_commands() {
    return {
        {"register",
         {{"REFERENCE", "MOVING"}, {"out", "points", "points-out"}},
         "Lays one photograph over another of the same picture, or says why it cannot be trusted.",
         register_two},
        {"colour-difference",
         {{"REFERENCE", "REGISTERED"}, {"out", "map", "error-px"}, {}, {"cross-polarised"}},
         "How much the colour changed between two registered photographs (CIEDE2000).",
         colour_difference},
    };
}

}  // namespace tedge::cli
