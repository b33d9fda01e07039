#include "tedge/usecases/compare_cracks.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "local_error.hpp"
#include "on_face.hpp"
#include "recipe_parts.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/crack_drawing.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::FieldValues;
using imaging::Raster8;
using nlohmann::json;

constexpr double most_compared_px = 30e6;
constexpr double coarsest_px = 4.0;

// Both on the frame of the later one.
struct Pair {
    PlacedPhotograph before;
    PlacedPhotograph after;
    FaceGrid grid;
    double error_mm = 0.0;
    LocalError by_place;
};

Expected<Pair> pair_of(const Acting& acting, const Uuid& before, const Uuid& after) {
    auto pair = placed_pair(acting.book, after, before);
    if (!pair) return pass_on(pair);
    if (const auto order = check_order(pair->second.record, pair->first.record); !order) return pass_on(order);
    const auto grid = common_grid(pair->snapshot, pair->frame, {pair->second, pair->first}, most_compared_px);
    if (!grid) return pass_on(grid);
    auto by_place = local_error(*pair, grid->face_from_grid(), grid->size);
    return Pair{std::move(pair->second), std::move(pair->first), *grid, pair->error_mm, std::move(by_place)};
}

Expected<void> check_error(const Pair& pair) {
    if (pair.error_mm * pair.grid.px_per_mm <= coarsest_px) return {};
    return fail(
        "crack-change.too-coarse",
        fmt::format("The two may lie {} mm apart, further than fine cracks do.", format_fixed(pair.error_mm, 2)),
        "Lay one over the other first: placing by corners alone is not fine enough.",
        {{"error_mm", format_fixed(pair.error_mm, 3)}});
}

Expected<Raster8> laid(const Acting& acting, const PlacedPhotograph& photograph, const FaceGrid& grid,
                       const Progress& progress) {
    return laid_on_grid(acting.book, photograph.record.body.text_or("sha256"), photograph.face_from_photo, grid,
                        progress);
}

json recipe_of(const Pair& pair, const imaging::CrackChangeOptions& options) {
    json recipe{
        {"method", "crack change: each crack looked for in the other photograph, within the registration's error"},
        {"before", recipe_input(pair.before)},
        {"after", recipe_input(pair.after)},
        {"error_px", pair.error_mm * pair.grid.px_per_mm},
        {"error_by_place", recipe_json(pair.by_place)},
        {"least_length_px", options.least_length_px}};
    add_grid(recipe, pair.grid);
    return recipe;
}

Expected<KeptPicture> keep(const Acting& acting, const Pair& pair, const Raster8& after,
                           const imaging::CrackChange& change, const json& recipe) {
    const auto drawn = imaging::draw_crack_change(after, change);
    if (!drawn) return pass_on(drawn);
    const auto file = imaging::encode_picture(*drawn, imaging::PictureFormat::png);
    if (!file) return pass_on(file);
    NewDerivedPicture wanted = picture_on(pair.grid, pair.after);
    wanted.what = "crack-change";
    wanted.from_photographs = {{pair.before.record.id, "before"}, {pair.after.record.id, "after"}};
    return keep_derived_picture(acting, wanted, *file, recipe);
}

std::string note_of(const Pair& pair) {
    const auto differ = [&](std::string_view field) {
        return pair.before.record.body.text_or(field) != pair.after.record.body.text_or(field);
    };
    std::string note;
    if (differ("light"))
        note = "The two were taken in different light: what shows as a crack in one need not show in the other.";
    if (differ("stage"))
        note += std::string(note.empty() ? "" : " ") +
                "The picture was worked on between the two: what came to light from under dirt, varnish or overpaint "
                "shows as new.";
    return note;
}

Expected<Done> record_it(const Acting& acting, const Pair& pair, const ComparedCracks& compared) {
    const auto place = Region::rectangle(pair.grid.origin, pair.grid.size_mm());
    if (!place) return pass_on(place);
    FieldValues values;
    values.text("what", "new cracks")
        .number("value", compared.appeared_mm)
        .text("unit", "mm")
        .record("face_frame", pair.grid.frame)
        .region("region", *place)
        .value("from_photographs",
               json::object({{to_text(pair.before.record.id), "before"}, {to_text(pair.after.record.id), "after"}}))
        .text("note",
              fmt::format("{} mm are gone, {} mm are in both, {} mm are undecided. The two lie on each other "
                          "to {} mm. {}",
                          format_fixed(compared.gone_mm, 0), format_fixed(compared.same_mm, 0),
                          format_fixed(compared.undecided_mm, 0), format_fixed(compared.error_mm, 2), compared.note));
    return acting.book.in_one_act([&] { return add_record(acting, pair.after.record.case_id, "measurement", values); });
}

}  // namespace

const imaging::CrackPiece* ComparedCracks::at(PointMm place, double reach_mm) const {
    const imaging::PixelXY pixel{static_cast<int>((place.x_mm - origin.x_mm) * px_per_mm),
                                 static_cast<int>((place.y_mm - origin.y_mm) * px_per_mm)};
    return imaging::crack_at(change, pixel, reach_mm * px_per_mm);
}

Expected<ComparedCracks> compare_cracks(const Acting& acting, const Uuid& before_id, const Uuid& after_id,
                                        const Progress& progress) {
    const auto pair = pair_of(acting, before_id, after_id);
    if (!pair) return pass_on(pair);
    if (const auto fine = check_error(*pair); !fine) return pass_on(fine);
    const auto before = laid(acting, pair->before, pair->grid, progress.part(0.0, 0.15));
    if (!before) return pass_on(before);
    const auto after = laid(acting, pair->after, pair->grid, progress.part(0.15, 0.3));
    if (!after) return pass_on(after);
    const auto covered = covered_by_both(lying(pair->before), lying(pair->after), pair->grid, progress.part(0.3, 0.4));
    if (!covered) return pass_on(covered);
    imaging::CrackChangeOptions options;
    options.cracks.counted = &*covered;
    pair->by_place.tell(options);
    auto change = imaging::crack_change(*before, *after, options, progress.part(0.4, 0.95));
    if (!change) return pass_on(change);
    auto picture = keep(acting, *pair, *after, *change, recipe_of(*pair, options));
    if (!picture) return pass_on(picture);
    const auto mm = [&](imaging::CrackFate fate, bool of_after) {
        return change->length_px(fate, of_after) / pair->grid.px_per_mm;
    };
    ComparedCracks out{.picture = *std::move(picture),
                       .change = *change,
                       .origin = pair->grid.origin,
                       .face_frame = pair->grid.frame,
                       .px_per_mm = pair->grid.px_per_mm,
                       .appeared_mm = mm(imaging::CrackFate::appeared, true),
                       .gone_mm = mm(imaging::CrackFate::gone, false),
                       .same_mm = mm(imaging::CrackFate::same, true),
                       .undecided_mm = mm(imaging::CrackFate::undecided, true),
                       .error_mm = pair->error_mm,
                       .note = note_of(*pair)};
    if (out.picture.already) return out;
    auto done = record_it(acting, *pair, out);
    if (!done) return pass_on(done);
    out.measurement = *std::move(done);
    return out;
}

}  // namespace tedge::usecases
