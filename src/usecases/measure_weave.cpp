#include "tedge/usecases/measure_weave.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "on_face.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/weave_drawing.hpp"
#include "tedge/imaging/write_picture.hpp"

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

// The map of one set as it will be kept.
struct ThreadMap {
    NewDerivedPicture wanted;
    imaging::DrawnThreads threads;
    std::string file;
};

Expected<ThreadMap> map_of(const Placed& from, const imaging::ThreadCount& count, bool across) {
    ThreadMap out{.wanted = {}, .threads = imaging::draw_threads(count, across), .file = {}};
    const auto plane = compose(from.placement.face_from_photo, out.threads.photo_from_drawn);
    if (!plane) return pass_on(plane);
    auto file = imaging::encode_picture(out.threads.drawn, imaging::PictureFormat::png);
    if (!file) return pass_on(file);
    out.file = *std::move(file);
    out.wanted.case_id = from.photograph.case_id;
    out.wanted.what = "weave-map";
    out.wanted.from_photographs = {{from.photograph.id, "weave"}};
    out.wanted.face_frame = from.frame;
    out.wanted.face_from_picture = from.placement;  // with what bends, which is a thing of the face
    out.wanted.face_from_picture->face_from_photo = *plane;
    out.wanted.caption =
        fmt::format("Threads counted {} the face, {} (dark) to {} threads/cm (bright)", across ? "across" : "down",
                    format_fixed(out.threads.scale.low_per_cm, 1), format_fixed(out.threads.scale.high_per_cm, 1));
    return out;
}

nlohmann::json recipe_of(const Placed& from, const imaging::ThreadCount& count, const ThreadMap& a,
                         const ThreadMap& b) {
    const nlohmann::json input = recipe_input({from.photograph, from.placement, {}});
    const auto range = [](const ThreadMap& map) {
        return nlohmann::json{map.threads.scale.low_per_cm, map.threads.scale.high_per_cm};
    };
    return {{"method", "thread count: the lattice of the weave in windowed squares, by their spectra"},
            {"input_sha256", input.at("sha256")},
            {"face_from_photo", input.at("face_from_photo")},
            {"face_mm", {from.face.width_mm, from.face.height_mm}},
            {"square_px", count.map.square_px},
            {"step_px", count.map.step_px},
            {"block_px", a.threads.block_px},
            {"range_per_cm", {{"a", range(a)}, {"b", range(b)}}}};
}

Expected<void> keep_and_record(const Acting& acting, const Placed& from, MeasuredWeave& out) {
    const auto across = values_of(from, out.count, true);
    const auto down = values_of(from, out.count, false);
    if (!across) return pass_on(across);
    if (!down) return pass_on(down);
    const auto a = map_of(from, out.count, true);
    if (!a) return pass_on(a);
    const auto b = map_of(from, out.count, false);
    if (!b) return pass_on(b);
    // Asked again in the act that records: counting takes seconds, in which the photograph may have been moved.
    return acting.book.in_one_act([&]() -> Expected<void> {
        const auto now = placed(acting, from.photograph.id);
        if (!now) return pass_on(now);
        if (now->frame != from.frame || now->placement.face_from_photo != from.placement.face_from_photo)
            return fail("photograph.placed-anew", "The photograph was placed anew while its threads were counted.",
                        "Count again.");
        auto kept = keep_derived_pictures(acting, {{a->wanted, a->file}, {b->wanted, b->file}},
                                          recipe_of(from, out.count, *a, *b));
        if (!kept) return pass_on(kept);
        out.maps = *std::move(kept);
        if (std::ranges::all_of(out.maps, &KeptPicture::already)) return {};
        auto first = add_record(acting, from.photograph.case_id, "measurement", *across);
        if (!first) return pass_on(first);
        auto second = add_record(acting, from.photograph.case_id, "measurement", *down);
        if (!second) return pass_on(second);
        out.recorded = MeasuredWeave::Recorded{*std::move(first), *std::move(second)};
        return {};
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
    MeasuredWeave out{.count = *std::move(count), .recorded = std::nullopt, .maps = {}};
    if (!out.count.usable) return out;
    if (auto kept = keep_and_record(acting, *from, out); !kept) return pass_on(kept);
    return out;
}

}  // namespace tedge::usecases
