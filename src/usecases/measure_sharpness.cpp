#include "tedge/usecases/measure_sharpness.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "existing_photograph.hpp"
#include "scale_on_face.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::usecases {

namespace {

constexpr double sharpened_above = 1.1;

PointPx middle_of(const imaging::BoxPx& box) {
    return {box.x_px + 0.5 * (box.width_px - 1), box.y_px + 0.5 * (box.height_px - 1)};
}

std::string note_of(const MeasuredSharpness& measured) {
    const imaging::EdgeSharpness& edge = measured.edge;
    const imaging::BoxPx& box = measured.edge_in;
    std::string note = fmt::format(
        "{} slanted by {}° in the {} × {} px at {}, {}. Response down to a half at {} cycles a pixel, to a tenth at "
        "{}; at most {}.",
        measured.found ? "The best edge of the photograph, found and not pointed at," : "Edge",
        format_fixed(edge.edge_degrees, 1), box.width_px, box.height_px, box.x_px, box.y_px,
        format_fixed(edge.sfr50_cycles_per_px, 3), format_fixed(edge.sfr10_cycles_per_px, 3),
        format_fixed(edge.highest_response, 2));
    if (measured.sfr50_cycles_per_mm)
        note += fmt::format(" On the picture a half at {} line pairs a millimetre, at {} px/mm.",
                            format_fixed(*measured.sfr50_cycles_per_mm, 2), format_fixed(*measured.px_per_mm, 2));
    if (!measured.caution.empty()) note += " " + measured.caution;
    return note;
}

}  // namespace

Expected<MeasuredSharpness> measure_sharpness(const Acting& acting, const Uuid& photograph,
                                              const std::optional<imaging::BoxPx>& edge_in, const Progress& progress) {
    const auto record = existing_photograph(acting.book, photograph);
    if (!record) return pass_on(record);
    const auto linear =
        linear_light_of(acting.book.original_path(record->body.text_or("sha256")), progress.part(0.0, 0.6));
    if (!linear) return pass_on(linear);
    const auto box =
        edge_in ? Expected<imaging::BoxPx>(*edge_in) : imaging::find_edge(*linear, progress.part(0.6, 0.9));
    if (!box) return pass_on(box);
    auto edge = imaging::edge_sharpness(*linear, *box);
    if (!edge) return pass_on(edge);
    MeasuredSharpness out{.done = {},
                          .edge = *std::move(edge),
                          .edge_in = *box,
                          .found = !edge_in,
                          .px_per_mm = {},
                          .sfr50_cycles_per_mm = {},
                          .caution = {},
                          .tolerances = {}};
    if (out.edge.highest_response > sharpened_above)
        out.caution = "The response rises above what is there: the photograph was sharpened.";
    const auto placement = record->body.placement("face_from_photo");
    if (placement) {
        out.px_per_mm = px_per_mm_at(*placement, middle_of(*box));
        out.sfr50_cycles_per_mm = out.edge.sfr50_cycles_per_px * *out.px_per_mm;
    }
    imaging::CaptureFigures figures;
    figures.sfr10_percent = out.edge.sampling_efficiency_percent;
    out.tolerances = imaging::beside_tolerances(figures);
    casebook::FieldValues values;
    values.text("what", "sampling efficiency (SFR10)")
        .number("value", out.edge.sampling_efficiency_percent)
        .text("unit", "%")
        .value("from_photographs", nlohmann::json::object({{to_text(photograph), "slanted edge"}}))
        .text("note", note_of(out));
    auto done = record_measurement(acting, photograph, values);
    if (!done) return pass_on(done);
    out.done = *std::move(done);
    return out;
}

}  // namespace tedge::usecases
