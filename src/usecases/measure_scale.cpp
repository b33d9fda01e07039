#include "tedge/usecases/measure_scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "existing_photograph.hpp"
#include "scale_on_face.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

Expected<imaging::PictureScale> by_the_face(const Acting& acting, const Record& photograph) {
    const auto frame_id = photograph.body.record("face_frame");
    const auto placement = photograph.body.placement("face_from_photo");
    if (!frame_id || !placement)
        return fail("photograph.not-placed", "Nothing in this photograph says how large what it shows is.",
                    "Point at two marks of a ruler in it, or place it by the corners of the face.",
                    {{"photograph", to_text(photograph.id)}});
    const auto frame = acting.book.record(*frame_id);
    if (!frame) return pass_on(frame);
    const SizeMm face = casebook::size_of_frame(*frame);
    std::array<PointPx, 4> corners{};
    const std::array<PointMm, 4> on_face{
        {{0, 0}, {face.width_mm, 0}, {face.width_mm, face.height_mm}, {0, face.height_mm}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto seen = placement->to_photo(on_face[i]);
        if (!seen) return pass_on(seen);
        corners[i] = *seen;
    }
    const auto side = [&](std::size_t a, std::size_t b) {
        return std::hypot(corners[b].x_px - corners[a].x_px, corners[b].y_px - corners[a].y_px);
    };
    auto scale = imaging::scale_from_sides(0.5 * (side(0, 1) + side(3, 2)), 0.5 * (side(0, 3) + side(1, 2)), face);
    if (!scale) return scale;
    // That both sides agree says nothing of how well their ends were met.
    const double ends_percent =
        100.0 * std::numbers::sqrt2 * placement->error_mm / std::min(face.width_mm, face.height_mm);
    scale->half_range_percent = std::hypot(scale->half_range_percent, ends_percent);
    return scale;
}

Expected<imaging::PictureScale> by_the_ruler(const Acting& acting, const Record& photograph, const RulerSeen& ruler,
                                             const Progress& progress) {
    const auto linear = linear_light_of(acting.book.original_path(photograph.body.text_or("sha256")), progress);
    if (!linear) return pass_on(linear);
    return imaging::scale_from_ruler(*linear, ruler.from, ruler.to, ruler.length_mm, ruler.tick_mm);
}

// The length between the two points by the scale, which the ticks may have refined, against that on the face.
std::optional<double> off_percent(const Record& photograph, const RulerSeen& ruler,
                                  const imaging::PictureScale& scale) {
    const auto placement = photograph.body.placement("face_from_photo");
    if (!placement) return std::nullopt;
    const double by_ruler_mm =
        std::hypot(ruler.to.x_px - ruler.from.x_px, ruler.to.y_px - ruler.from.y_px) / scale.px_per_mm;
    return 100.0 * (length_on_face_mm(*placement, ruler.from, ruler.to) / by_ruler_mm - 1.0);
}

std::string note_of(const MeasuredScale& measured, bool by_ruler) {
    std::string note = !by_ruler                   ? "By the sides of the face as the photograph is placed."
                       : measured.scale.from_ticks ? "By the ticks of a ruler."
                                                   : "By two points of a ruler; no ticks were told apart.";
    if (measured.placement_off_percent)
        note += fmt::format(" The ruler comes out {} % {} on the face as it is placed.",
                            format_fixed(std::abs(*measured.placement_off_percent), 2),
                            *measured.placement_off_percent < 0 ? "shorter" : "longer");
    return note;
}

}  // namespace

Expected<MeasuredScale> measure_scale(const Acting& acting, const Uuid& photograph,
                                      const std::optional<RulerSeen>& ruler, const Progress& progress) {
    const auto record = existing_photograph(acting.book, photograph);
    if (!record) return pass_on(record);
    const auto scale = ruler ? by_the_ruler(acting, *record, *ruler, progress) : by_the_face(acting, *record);
    if (!scale) return pass_on(scale);
    if (progress.stopped()) return cancelled();
    MeasuredScale out{.done = {}, .scale = *scale, .placement_off_percent = {}, .tolerances = {}};
    if (ruler) out.placement_off_percent = off_percent(*record, *ruler, *scale);
    if (out.placement_off_percent) {
        imaging::CaptureFigures figures;
        figures.scale_error_percent = std::abs(*out.placement_off_percent);
        out.tolerances = imaging::beside_tolerances(figures);
    }
    casebook::FieldValues values;
    values.text("what", "scale of a photograph")
        .number("value", scale->px_per_mm)
        .text("unit", "px/mm")
        .number("uncertainty", scale->px_per_mm * scale->half_range_percent / 100.0)
        .value("from_photographs",
               nlohmann::json::object({{to_text(photograph), ruler ? "ruler" : "sides of the face"}}))
        .text("note", note_of(out, ruler.has_value()));
    auto done = record_measurement(acting, photograph, values);
    if (!done) return pass_on(done);
    out.done = *std::move(done);
    return out;
}

}  // namespace tedge::usecases
