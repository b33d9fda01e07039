#include "tedge/usecases/measure_chart.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "photograph_chart.hpp"
#include "placed_photograph.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

Expected<Record> measurable(const Acting& acting, const Uuid& photograph) {
    auto record = stored_photograph(acting.book, photograph);
    if (!record) return record;
    if (const std::string light = record->body.text_or("light"); !casebook::shows_colour(light))
        return fail("photograph.no-colour-light",
                    fmt::format("A photograph in {} light shows no colour that a chart could measure.", light),
                    "Measure a photograph in normal or cross-polarised light.", {{"light", light}});
    return record;
}

Expected<imaging::ChartReading> read(const std::filesystem::path& photograph, const ChartWanted& wanted,
                                     const Progress& progress) {
    const auto picture =
        imaging::read_picture(photograph, {.raw = imaging::RawRendering::camera_linear}, progress.part(0.0, 0.5));
    if (!picture) return pass_on(picture);
    const auto linear = imaging::chart_picture(*picture, progress.part(0.5, 0.6));
    if (!linear) return pass_on(linear);
    if (wanted.corners_px) return imaging::read_chart_at(*linear, *wanted.corners_px, progress.part(0.6, 1.0));
    return imaging::find_chart(*linear, progress.part(0.6, 1.0));
}

std::string note_of(const imaging::ColourFit& fit) {
    std::string note = fmt::format(
        "24-patch chart, {}; {}. Leaving one patch out: mean {}, 90th percentile {}, largest {} ({}). Black apart: {}. "
        "Fitted: mean {}.",
        fit.edition_title,
        fit.transform.model() == imaging::ColourModel::matrix ? "3×3 matrix" : "root-polynomial of degree 2",
        format_fixed(fit.foretold.mean, 2), format_fixed(fit.foretold.p90, 2), format_fixed(fit.foretold.max, 2),
        fit.foretold.worst, fit.black.used ? format_fixed(fit.black.foretold_delta_e00, 2) : "not measured",
        format_fixed(fit.fitted.mean, 2));
    for (const std::string& each : fit.notes) note += " " + each;
    return note;
}

}  // namespace

Expected<ChartFigures> chart_figures(const std::filesystem::path& photograph, const ChartWanted& wanted,
                                     const Progress& progress) {
    const auto reference = wanted.own_chart.empty() ? imaging::chart_reference(std::string_view(wanted.edition))
                                                    : imaging::read_chart_reference(wanted.own_chart);
    if (!reference) return pass_on(reference);
    auto reading = read(photograph, wanted, progress);
    if (!reading) return pass_on(reading);
    auto fit = imaging::fit_chart(*reading, *reference);
    if (!fit) return pass_on(fit);
    ChartFigures out{.reading = *std::move(reading), .fit = *std::move(fit), .tolerances = {}};
    out.tolerances = imaging::beside_tolerances(imaging::capture_figures(out.fit));
    return out;
}

Expected<MeasuredChart> measure_chart(const Acting& acting, const Uuid& photograph, const ChartWanted& wanted,
                                      const Progress& progress) {
    const auto record = measurable(acting, photograph);
    if (!record) return pass_on(record);
    auto figures = chart_figures(acting.book.original_path(record->body.text_or("sha256")), wanted, progress);
    if (!figures) return pass_on(figures);
    casebook::FieldValues values;
    values.text("what", "colour error by the chart")
        .number("value", figures->fit.foretold.mean)
        .text("unit", "ΔE00")
        .value("from_photographs", nlohmann::json::object({{to_text(photograph), "chart"}}))
        .value("chart_fit", chart_fit_json(figures->fit))
        .text("note", note_of(figures->fit));
    // Asked again in the act that records: measuring takes a second, in which the photograph may have been deleted.
    auto done = acting.book.in_one_act([&]() -> Expected<Done> {
        const auto now = measurable(acting, photograph);
        if (!now) return pass_on(now);
        return add_record(acting, now->case_id, "measurement", values);
    });
    if (!done) return pass_on(done);
    return MeasuredChart{.done = *std::move(done), .figures = *std::move(figures)};
}

}  // namespace tedge::usecases
