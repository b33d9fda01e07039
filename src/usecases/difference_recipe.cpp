#include "difference_recipe.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "board_light.hpp"
#include "coloured_pair.hpp"
#include "local_error.hpp"
#include "on_face.hpp"
#include "scale_on_face.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/guessed_light.hpp"

namespace tedge::usecases {

namespace {

using nlohmann::json;

json light_json(casebook::Casebook& book, const PlacedPhotograph& photograph, const PhotographChart* chart) {
    json out = recipe_input(photograph);
    const std::string board = board_sha256_of(book, photograph.record);
    out["board_sha256"] = board.empty() ? json(nullptr) : json(board);
    out["correction"] = chart != nullptr ? correction_json(chart->transform, chart->light) : json(nullptr);
    return out;
}

std::string caption_of(const ColourDifferenceMap& map) {
    return fmt::format("{} between two photographs{}", imaging::symbol_of(map.kind),
                       map.floor_delta_e00 ? "" : ": a look, not a measurement");
}

}  // namespace

void say_how_made(casebook::Casebook& book, const PlacedPair& pair, const ChartsOfPair& charts,
                  ColourDifferenceMap& map) {
    const SizePx size = map.drawn.size();
    const PointPx middle{size.width_px / 2.0, size.height_px / 2.0};
    const auto chart = [&](const PhotographChart& each) { return charts.both() ? &each : nullptr; };
    const json recipe{
        {"method", "colour difference: both evened, corrected and averaged alike, the second resampled over the first"},
        {"first", light_json(book, pair.first, chart(charts.first))},
        {"second", light_json(book, pair.second, chart(charts.second))},
        {"map", imaging::to_text(map.kind)},
        {"longest_side_px", longest_compared_side_px},
        {"error_px", map.error_mm * px_per_mm_at(map.face_from_map, middle)},
        {"face_mm", {pair.face.width_mm, pair.face.height_mm}},
        {"error_by_place", recipe_json(local_error(pair, map.face_from_map, size))},
        {"floor_delta_e00", map.floor_delta_e00 ? json(*map.floor_delta_e00) : json(nullptr)},
        {"floor", map.floor_sentence},
        {"scale", {map.scale.floor, map.scale.top}},
        {"scale_both_ways", map.scale.both_ways}};
    map.recipe = recipe.dump();
    map.picture.case_id = pair.first.record.case_id;
    map.picture.what = "difference";
    map.picture.from_photographs = {{pair.first.record.id, "before"}, {pair.second.record.id, "after"}};
    map.picture.face_frame = map.face_frame;
    map.picture.face_from_picture = map.face_from_map;
    map.picture.caption = caption_of(map);
}

std::string too_loose_sentence(double error_mm) {
    return fmt::format(
        "They lie only to ± {} mm on each other, and that alone could make every difference seen: a look, no "
        "evidence. Lay one over the other first.",
        format_fixed(error_mm, 1));
}

Expected<void> check_is_evidence(const Acting& acting, const Uuid& reference, const Uuid& second,
                                 const ColourDifferenceMap& map) {
    if (map.only_a_look)
        return fail("colour-difference.too-loose", too_loose_sentence(map.error_mm),
                    "Lay one photograph over the other, then compare again.");
    const auto before = existing_photograph(acting.book, reference);
    if (!before) return pass_on(before);
    const auto after = existing_photograph(acting.book, second);
    if (!after) return pass_on(after);
    for (const auto& [record, which] :
         {std::pair(&*before, "the earlier photograph"), std::pair(&*after, "the later photograph")})
        if (const std::string guessed = guessed_light_sentence(*record, which); !guessed.empty())
            return fail("photograph.light-guessed", guessed, std::string(confirm_light),
                        {{"photograph", to_text(record->id)}});
    return check_order(*before, *after);
}

Expected<KeptPicture> keep_colour_difference(const Acting& acting, const Uuid& reference, const Uuid& second,
                                             const ColourDifferenceMap& map) {
    if (const auto evidence = check_is_evidence(acting, reference, second, map); !evidence) return pass_on(evidence);
    const auto file = imaging::encode_picture(map.drawn, imaging::PictureFormat::png);
    if (!file) return pass_on(file);
    return keep_derived_picture(acting, map.picture, *file, json::parse(map.recipe));
}

}  // namespace tedge::usecases
