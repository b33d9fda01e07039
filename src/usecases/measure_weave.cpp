#include "tedge/usecases/measure_weave.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "placed_photograph.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::FieldValues;
using casebook::Record;
using imaging::ThreadSet;

struct Placed {
    Record photograph;
    Uuid frame;
    SizeMm face;
    Placement placement;
};

Expected<Placed> placed(const Acting& acting, const Uuid& id) {
    const auto record = existing_photograph(acting.book, id);
    if (!record) return pass_on(record);
    const auto snapshot = acting.book.snapshot(record->case_id);
    if (!snapshot) return pass_on(snapshot);
    auto photograph = placed_photograph(acting.book, *snapshot, id);
    if (!photograph) return pass_on(photograph);
    const Uuid frame = record->body.record("face_frame").value_or(Uuid{});
    return Placed{*record, frame, casebook::size_of_frame(*snapshot->find(frame)),
                  std::move(photograph->face_from_photo)};
}

// Around the squares that count, cut at the rim of the face.
BoxMm box_of(const imaging::WeaveMap& map, imaging::ThreadsHere imaging::WeaveSquare::* set, const SizeMm& face) {
    constexpr double half_square_mm = 5.0;
    BoxMm box{{face.width_mm, face.height_mm}, {0.0, 0.0}};
    for (const imaging::WeaveSquare& square : map.squares) {
        if ((square.*set).trust < imaging::trusted_from) continue;
        box.min.x_mm = std::min(box.min.x_mm, square.on_face.x_mm - half_square_mm);
        box.min.y_mm = std::min(box.min.y_mm, square.on_face.y_mm - half_square_mm);
        box.max.x_mm = std::max(box.max.x_mm, square.on_face.x_mm + half_square_mm);
        box.max.y_mm = std::max(box.max.y_mm, square.on_face.y_mm + half_square_mm);
    }
    box.min = {std::max(0.0, box.min.x_mm), std::max(0.0, box.min.y_mm)};
    box.max = {std::min(face.width_mm, box.max.x_mm), std::min(face.height_mm, box.max.y_mm)};
    return box;
}

// A length between two points of the placement is off by its error at both ends.
double uncertainty_of(const ThreadSet& set, double extent_mm, double placement_error_mm) {
    const double of_scale = std::sqrt(2.0) * placement_error_mm / std::max(1.0, extent_mm);
    return std::hypot(set.uncertainty_per_cm, set.threads_per_cm * of_scale);
}

std::string note_of(const imaging::ThreadCount& count, const ThreadSet& set) {
    std::string note = fmt::format(
        "Counted at {}° (x to the right, y down); spread {} threads/cm from place to place; seen on {} % of the "
        "photograph; confidence {}.",
        format_fixed(set.angle_deg, 1), format_fixed(set.spread_per_cm, 2), format_fixed(100.0 * set.trusted_share, 0),
        format_fixed(count.confidence, 2));
    for (const std::string& each : count.notes) note += " " + each;
    return note;
}

Expected<FieldValues> values_of(const Placed& from, const imaging::ThreadCount& count, bool across) {
    const ThreadSet& set = across ? count.a : count.b;
    const BoxMm box = box_of(count.map, across ? &imaging::WeaveSquare::a : &imaging::WeaveSquare::b, from.face);
    const SizeMm size{box.max.x_mm - box.min.x_mm, box.max.y_mm - box.min.y_mm};
    const auto place = Region::rectangle(box.min, size);
    if (!place) return pass_on(place);
    FieldValues values;
    values.text("what", across ? "canvas threads counted across" : "canvas threads counted down")
        .number("value", set.threads_per_cm)
        .text("unit", "threads/cm")
        .number("uncertainty", uncertainty_of(set, across ? size.width_mm : size.height_mm, from.placement.error_mm))
        .record("face_frame", from.frame)
        .region("region", *place)
        .value("from_photographs", nlohmann::json::object({{to_text(from.photograph.id), "weave"}}))
        .text("note", note_of(count, set));
    return values;
}

Expected<MeasuredWeave::Recorded> record_both(const Acting& acting, const Placed& from,
                                              const imaging::ThreadCount& count) {
    const auto across = values_of(from, count, true);
    const auto down = values_of(from, count, false);
    if (!across) return pass_on(across);
    if (!down) return pass_on(down);
    // Asked again in the act that records: counting takes seconds, in which the photograph may have been moved.
    return acting.book.in_one_act([&]() -> Expected<MeasuredWeave::Recorded> {
        const auto now = placed(acting, from.photograph.id);
        if (!now) return pass_on(now);
        if (now->frame != from.frame || now->placement.face_from_photo != from.placement.face_from_photo)
            return fail("photograph.placed-anew", "The photograph was placed anew while its threads were counted.",
                        "Count again.");
        auto first = add_record(acting, from.photograph.case_id, "measurement", *across);
        if (!first) return pass_on(first);
        auto second = add_record(acting, from.photograph.case_id, "measurement", *down);
        if (!second) return pass_on(second);
        return MeasuredWeave::Recorded{*std::move(first), *std::move(second)};
    });
}

}  // namespace

Expected<MeasuredWeave> measure_weave(const Acting& acting, const Uuid& photograph, const Progress& progress) {
    const auto from = placed(acting, photograph);
    if (!from) return pass_on(from);
    const auto picture = imaging::read_picture(acting.book.original_path(from->photograph.body.text_or("sha256")), {},
                                               progress.part(0.0, 0.3));
    if (!picture) return pass_on(picture);
    const auto view = std::visit([](const auto& raster) { return imaging::PictureView(raster); }, picture->pixels);
    auto count =
        imaging::count_threads(view, from->placement.face_from_photo, {.face = from->face}, progress.part(0.3, 1.0));
    if (!count) return pass_on(count);
    MeasuredWeave out{.count = *std::move(count), .recorded = std::nullopt};
    if (!out.count.usable) return out;
    auto recorded = record_both(acting, *from, out.count);
    if (!recorded) return pass_on(recorded);
    out.recorded = *std::move(recorded);
    return out;
}

}  // namespace tedge::usecases
