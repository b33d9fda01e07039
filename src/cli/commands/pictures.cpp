#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "difference_fields.hpp"
#include "picture_files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_gates.hpp"
#include "tedge/imaging/difference_scale.hpp"
#include "tedge/imaging/difference_sheet.hpp"

namespace tedge::cli {

namespace {

using imaging::Raster8;
using nlohmann::json;

// Differences drawn from dark to bright; a mean error of two good photographs is about 2 (published tolerances).
constexpr imaging::DifferenceScale map_scale{0.0, 20.0};
constexpr std::string_view no_floor =
    "Two files alone: no chart says below which difference nothing is evidence. A look, not a measurement.";

// The map that was asked for, over the pixels that count, and the one drawn.
struct Mapped {
    imaging::DifferenceKind kind;
    imaging::RasterF map;
    Raster8 gated;
};

Expected<Mapped> mapped(const Raster8& reference, const Raster8& registered, const imaging::RasterF& delta_e00,
                        double error_px, imaging::DifferenceKind kind, const Progress& progress) {
    imaging::DifferenceGates gates;
    gates.error_px = error_px;
    auto gated = imaging::gate_differences(reference, registered, delta_e00, gates, progress);
    if (!gated) return pass_on(gated);
    if (kind == imaging::DifferenceKind::delta_e00) return Mapped{kind, delta_e00, *std::move(gated)};
    auto map = imaging::difference_map(reference, registered, kind, 0, progress);
    if (!map) return pass_on(map);
    return Mapped{kind, *std::move(map), *std::move(gated)};
}

// With its scale, and what of it is evidence: a file that is handed on is read without what stood on the screen.
Expected<void> write_map(const std::string& out, const Mapped& mapped, const std::string& note) {
    imaging::DifferenceScale scale = map_scale;
    scale.both_ways = imaging::has_sign(mapped.kind);
    const Raster8 counted = imaging::counted_of(mapped.gated);
    std::vector<std::string> lines{std::string(no_floor), "Grey is not compared."};
    if (!note.empty()) lines.push_back("It " + note + ".");
    return write_picture_file(out, imaging::with_legend(imaging::draw_differences(mapped.map, scale, &counted), scale,
                                                        std::string(imaging::symbol_of(mapped.kind)), lines));
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

// How far the two may lie apart, as the caller says.
Expected<double> error_px_of(const Arguments& arguments) {
    const auto error_px = arguments.number("error-px");
    if (!error_px) return pass_on(error_px);
    if (error_px->value_or(0.0) < 0.0)
        return fail("usage.below-zero", "--error-px says how far the two may lie apart: it is not below zero.",
                    "Give it in pixels, or leave it out.");
    return error_px->value_or(0.0);
}

Expected<Answer> colour_difference(Context& context, const Arguments& arguments) {
    const auto error_px = error_px_of(arguments);
    if (!error_px) return pass_on(error_px);
    const auto kind = said_by("map", imaging::parse_difference_kind(arguments.option_or("map", "delta-e00")));
    if (!kind) return pass_on(kind);
    const auto reference = read_srgb(arguments.position("REFERENCE"), context.progress());
    if (!reference) return pass_on(reference);
    const auto registered = read_srgb(arguments.position("REGISTERED"), context.progress());
    if (!registered) return pass_on(registered);
    imaging::ColourDifferenceOptions options;
    options.both_cross_polarised = arguments.flag("cross-polarised");
    const auto difference = imaging::colour_difference(*reference, *registered, options, context.progress());
    if (!difference) return pass_on(difference);
    const auto wanted = mapped(*reference, *registered, difference->delta_e00, *error_px, *kind, context.progress());
    if (!wanted) return pass_on(wanted);
    if (const auto out = arguments.option("out"))
        if (auto done = write_map(*out, *wanted, difference->report.note); !done) return pass_on(done);
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
    answer.lines = {statistics_line(imaging::DifferenceKind::delta_e00, report.all) +
                        (report.note.empty() ? "." : "; " + report.note + "."),
                    gated ? statistics_line(wanted->kind, *gated) + " where it counts." : "No pixel counts.",
                    std::string(no_floor)};
    return answer;
}

}  // namespace

std::vector<Command> picture_commands() {
    return {
        {"colour-difference",
         {{"REFERENCE", "REGISTERED"}, {"out", "map", "error-px"}, {}, {"cross-polarised"}, {"out"}},
         "How much the colour changed between two registered photographs (CIEDE2000).",
         colour_difference},
    };
}

}  // namespace tedge::cli
