#include "tedge/usecases/map_relief_change.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "local_error.hpp"
#include "on_face.hpp"
#include "recipe_parts.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::Raster8;
using nlohmann::json;

constexpr double most_relief_px = 9e6;
constexpr imaging::DifferenceScale times_floor{1.0, 5.0};

// Both on the frame of the later one.
struct Pair {
    PlacedPhotograph before;
    PlacedPhotograph after;
    FaceGrid grid;
    double error_mm = 0.0;
    LocalError by_place;
};

Expected<void> check_raking(const Record& photograph) {
    const std::string light = photograph.body.text_or("light");
    if (light == "raking") return {};
    return fail("relief.not-raking", fmt::format("A photograph in {} light does not shade the relief.", light),
                "Choose two photographs in raking light.", {{"photograph", to_text(photograph.id)}});
}

imaging::RakingLamp lamp_of(const Record& photograph) {
    return {photograph.body.text_or("raking_side"), photograph.body.number("raking_angle_degrees")};
}

Expected<void> check(const PlacedPair& pair) {
    const Record &before = pair.second.record, &after = pair.first.record;
    for (const Record* each : {&before, &after})
        if (const auto raking = check_raking(*each); !raking) return raking;
    if (const auto order = check_order(before, after); !order) return order;
    if (const auto lamps = imaging::lamps_agree(lamp_of(before), lamp_of(after)); !lamps) return pass_on(lamps);
    if (pair.registered) return {};
    return fail("relief.not-registered",
                fmt::format("The two lie on the face by their corners only, ± {} mm: shading that lies beside itself "
                            "looks like relief that changed.",
                            format_fixed(pair.error_mm, 1)),
                "Lay one over the other first.", {{"error_mm", format_fixed(pair.error_mm, 3)}});
}

Expected<Pair> pair_of(casebook::Casebook& book, const Uuid& before, const Uuid& after) {
    auto pair = placed_pair(book, after, before);
    if (!pair) return pass_on(pair);
    if (const auto fine = check(*pair); !fine) return pass_on(fine);
    const auto grid = common_grid(pair->snapshot, pair->frame, {pair->second, pair->first}, most_relief_px);
    if (!grid) return pass_on(grid);
    auto by_place = local_error(*pair, grid->face_from_grid(), grid->size);
    return Pair{std::move(pair->second), std::move(pair->first), *grid, pair->error_mm, std::move(by_place)};
}

Expected<Raster8> laid(casebook::Casebook& book, const PlacedPhotograph& photograph, const FaceGrid& grid,
                       const Progress& progress) {
    return laid_on_grid(book, photograph.record.body.text_or("sha256"), photograph.face_from_photo, grid, progress);
}

imaging::ReliefChangeOptions options_for(const Pair& pair) {
    imaging::ReliefChangeOptions options;
    options.before = lamp_of(pair.before.record);
    options.after = lamp_of(pair.after.record);
    options.mm_per_px = 1.0 / pair.grid.px_per_mm;
    pair.by_place.tell(options);
    return options;
}

json lamp_json(const imaging::RakingLamp& lamp) {
    return {{"side", lamp.side}, {"angle_degrees", lamp.angle_degrees ? json(*lamp.angle_degrees) : json(nullptr)}};
}

json recipe_of(const Pair& pair, const imaging::ReliefChangeOptions& options) {
    json recipe{{"method", "relief change: local deviation of the difference of log light, over its floor"},
                {"before", recipe_input(pair.before)},
                {"after", recipe_input(pair.after)},
                {"lamp_before", lamp_json(options.before)},
                {"lamp_after", lamp_json(options.after)},
                {"error_px", pair.error_mm * pair.grid.px_per_mm},
                {"error_by_place", recipe_json(pair.by_place)},
                {"scale_times_floor", {times_floor.floor, times_floor.top}}};
    add_grid(recipe, pair.grid);
    return recipe;
}

NewDerivedPicture picture_of(const Pair& pair) {
    NewDerivedPicture wanted = picture_on(pair.grid, pair.after);
    wanted.what = "relief-change";
    wanted.from_photographs = {{pair.before.record.id, "before"}, {pair.after.record.id, "after"}};
    return wanted;
}

}  // namespace

Expected<ReliefChangeMap> map_relief_change(casebook::Casebook& book, const Uuid& before_id, const Uuid& after_id,
                                            const Progress& progress) {
    const auto pair = pair_of(book, before_id, after_id);
    if (!pair) return pass_on(pair);
    const auto before = laid(book, pair->before, pair->grid, progress.part(0.0, 0.3));
    if (!before) return pass_on(before);
    const auto after = laid(book, pair->after, pair->grid, progress.part(0.3, 0.6));
    if (!after) return pass_on(after);
    const auto covered = covered_by_both(lying(pair->before), lying(pair->after), pair->grid, progress.part(0.6, 0.7));
    if (!covered) return pass_on(covered);
    imaging::ReliefChangeOptions options = options_for(*pair);
    options.counted = &*covered;
    auto change =
        imaging::relief_change(*before, *after, pair->grid.face_from_grid(), options, progress.part(0.7, 1.0));
    if (!change) return pass_on(change);
    ReliefChangeMap out;
    out.drawn = imaging::draw_differences(change->change, times_floor, &*covered);
    out.scale = times_floor;
    for (const imaging::ReliefPlace& place : change->places) out.total_cm2 += place.area_cm2;
    out.change = *std::move(change);
    out.px_per_mm = pair->grid.px_per_mm;
    out.error_mm = pair->error_mm;
    out.picture = picture_of(*pair);
    out.recipe = recipe_of(*pair, options).dump();
    return out;
}

Expected<KeptPicture> keep_relief_change(const Acting& acting, const ReliefChangeMap& map) {
    const auto file = imaging::encode_picture(map.drawn, imaging::PictureFormat::png);
    if (!file) return pass_on(file);
    return keep_derived_picture(acting, map.picture, *file, json::parse(map.recipe));
}

}  // namespace tedge::usecases
