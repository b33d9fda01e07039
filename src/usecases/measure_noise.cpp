#include "tedge/usecases/measure_noise.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "existing_photograph.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::usecases {

namespace {

std::string note_of(const imaging::PatchNoise& noise, const imaging::BoxPx& patch) {
    return fmt::format(
        "The {} × {} px at {}, {}, of L* {}: {} pixels about a plane; means over 8 × 8 of them spread {}.",
        patch.width_px, patch.height_px, patch.x_px, patch.y_px, format_fixed(noise.lightness_l, 1), noise.pixels,
        format_fixed(noise.uneven_l, 2));
}

}  // namespace

Expected<MeasuredNoise> measure_noise(const Acting& acting, const Uuid& photograph, const imaging::BoxPx& patch,
                                      const Progress& progress) {
    const auto record = existing_photograph(acting.book, photograph);
    if (!record) return pass_on(record);
    const auto linear =
        linear_light_of(acting.book.original_path(record->body.text_or("sha256")), progress.part(0.0, 0.9));
    if (!linear) return pass_on(linear);
    const auto noise = imaging::patch_noise(*linear, patch);
    if (!noise) return pass_on(noise);
    imaging::CaptureFigures figures;
    figures.noise_l = noise->noise_l;
    MeasuredNoise out{.done = {}, .noise = *noise, .tolerances = imaging::beside_tolerances(figures)};
    casebook::FieldValues values;
    values.text("what", "noise of a photograph")
        .number("value", noise->noise_l)
        .text("unit", "L*")
        .value("from_photographs", nlohmann::json::object({{to_text(photograph), "uniform patch"}}))
        .text("note", note_of(*noise, patch));
    auto done = record_measurement(acting, photograph, values);
    if (!done) return pass_on(done);
    out.done = *std::move(done);
    return out;
}

}  // namespace tedge::usecases
