#include "tedge/usecases/measure_chart.hpp"

#include <nlohmann/json.hpp>

#include "board_light.hpp"
#include "chart_values.hpp"
#include "colour_light.hpp"
#include "existing_photograph.hpp"
#include "tedge/usecases/guessed_light.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

Expected<Record> measurable(const Acting& acting, const Uuid& photograph) {
    const auto record = existing_photograph(acting.book, photograph);
    if (!record) return pass_on(record);
    if (const auto fine = check_shows_colour(*record); !fine) return pass_on(fine);
    return *record;
}

Expected<imaging::ChartReading> read(const imaging::ChartPicture& linear, const ChartWanted& wanted,
                                     const Progress& progress) {
    if (wanted.corners_px) return imaging::read_chart_at(linear, *wanted.corners_px, progress);
    return imaging::find_chart(linear, progress);
}

struct Seen {
    imaging::ChartReading reading;
    std::optional<imaging::FlatField> light;
    std::optional<imaging::ChartReading> as_photographed;  // where it was evened
};

Expected<Seen> seen_in(const std::filesystem::path& photograph, const ChartWanted& wanted, const Progress& progress) {
    const auto linear = coloured_light_of(photograph, progress.part(0.0, 0.4));
    if (!linear) return pass_on(linear);
    auto reading = read(*linear, wanted, progress.part(0.4, 0.6));
    if (!reading) return pass_on(reading);
    if (wanted.board.empty()) return Seen{*std::move(reading), std::nullopt, std::nullopt};
    auto light = flat_field_of_file(wanted.board, imaging::RawRendering::camera_linear, progress.part(0.6, 0.8));
    if (!light) return pass_on(light);
    const auto even = imaging::evened(*linear, *light);
    if (!even) return pass_on(even);
    // At the very place, so that light alone makes the difference.
    auto evened = imaging::read_chart_at(*even, reading->place.corners_px, progress.part(0.8, 1.0));
    if (!evened) return pass_on(evened);
    return Seen{*std::move(evened), *std::move(light), *std::move(reading)};
}

Expected<EvenedChart> what_evening_did(const Seen& seen, const imaging::ChartReference& reference) {
    const auto before = imaging::fit_chart(*seen.as_photographed, reference);
    if (!before) return pass_on(before);
    return EvenedChart{seen.light->non_uniformity_percent(), seen.light->evened_percent(), before->foretold.mean,
                       evened_sentence(*seen.light)};
}

}  // namespace

Expected<ChartFigures> chart_figures(const std::filesystem::path& photograph, const ChartWanted& wanted,
                                     const Progress& progress) {
    const auto reference = wanted.own_chart.empty() ? imaging::chart_reference(std::string_view(wanted.edition))
                                                    : imaging::read_chart_reference(wanted.own_chart);
    if (!reference) return pass_on(reference);
    auto seen = seen_in(photograph, wanted, progress);
    if (!seen) return pass_on(seen);
    auto fit = imaging::fit_chart(seen->reading, *reference);
    if (!fit) return pass_on(fit);
    ChartFigures out{.reading = seen->reading, .fit = *std::move(fit), .tolerances = {}, .evened = {}};
    if (seen->light) {
        auto evened = what_evening_did(*seen, *reference);
        if (!evened) return pass_on(evened);
        out.evened = *std::move(evened);
    }
    out.tolerances = imaging::beside_tolerances(imaging::capture_figures(out.fit));
    return out;
}

Expected<MeasuredChart> measure_chart(const Acting& acting, const Uuid& photograph, const ChartWanted& asked,
                                      const Progress& progress) {
    const auto record = measurable(acting, photograph);
    if (!record) return pass_on(record);
    ChartWanted wanted = asked;
    if (wanted.board.empty()) wanted.board = board_of(acting.book, *record);
    const std::string board = !asked.board.empty()   ? "a file that was given"
                              : wanted.board.empty() ? ""
                                                     : record->body.text_or("even_board");
    auto figures = chart_figures(acting.book.original_path(record->body.text_or("sha256")), wanted, progress);
    if (!figures) return pass_on(figures);
    casebook::FieldValues values = chart_values("colour error by the chart", *figures, board);
    values.value("from_photographs", nlohmann::json::object({{to_text(photograph), "chart"}}));
    // Asked again in the act that records: measuring takes a second, in which the photograph may have been deleted.
    auto done = acting.book.in_one_act([&]() -> Expected<Done> {
        const auto now = measurable(acting, photograph);
        if (!now) return pass_on(now);
        return add_record(acting, now->case_id, "measurement", values);
    });
    if (!done) return pass_on(done);
    return MeasuredChart{.done = *std::move(done),
                         .figures = *std::move(figures),
                         .guessed_light = guessed_light_sentence(*record, "this photograph")};
}

}  // namespace tedge::usecases
