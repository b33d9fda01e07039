#include "recipe_parts.hpp"

#include <nlohmann/json.hpp>

#include "tedge/casebook/number_list.hpp"

namespace tedge::usecases {

using casebook::Body;

namespace {

std::optional<SizePx> size_in(const Body& recipe, const std::string& before) {
    constexpr std::int64_t most = 1'000'000;
    const auto width = recipe.integer(before + "width_px"), height = recipe.integer(before + "height_px");
    if (!width || !height || *width < 1 || *height < 1 || *width > most || *height > most) return std::nullopt;
    return SizePx{static_cast<int>(*width), static_cast<int>(*height)};
}

}  // namespace

void add_grid(nlohmann::json& recipe, const FaceGrid& grid) {
    recipe["px_per_mm"] = grid.px_per_mm;
    recipe["origin_mm"] = {grid.origin.x_mm, grid.origin.y_mm};
    recipe["width_px"] = grid.size.width_px;
    recipe["height_px"] = grid.size.height_px;
    recipe["face_frame"] = to_text(grid.frame);
}

std::optional<FaceGrid> grid_in(const Body& recipe) {
    const auto scale = recipe.number("px_per_mm");
    const auto origin = casebook::numbers_at(recipe, "origin_mm");
    const auto size = size_in(recipe, "");
    const auto frame = recipe.record("face_frame");
    if (!scale || !(*scale > 0.0) || !origin || origin->size() != 2 || !size || !frame) return std::nullopt;
    return FaceGrid{*frame, {(*origin)[0], (*origin)[1]}, *size, *scale};
}

std::optional<RecipeInput> input_in(const Body& recipe, const std::string& at) {
    const std::string before = at.empty() ? "" : at + "/";
    const std::string sha256 = recipe.text_or(at.empty() ? "input_sha256" : before + "sha256");
    const auto placement = recipe.placement(before + "face_from_photo");
    if (sha256.empty() || !placement) return std::nullopt;
    return RecipeInput{sha256, *placement, size_in(recipe, at.empty() ? "photo_" : before).value_or(SizePx{0, 0})};
}

std::optional<LocalError> local_error_in(const Body& recipe) {
    const auto rest = recipe.number("error_by_place/rest_px");
    if (!rest || !(*rest >= 0.0)) return std::nullopt;
    LocalError out{*rest, std::nullopt};
    if (!recipe.has("error_by_place/map/cell_px")) return out;  // one figure for all
    const auto cell = recipe.number("error_by_place/map/cell_px");
    const auto columns = recipe.integer("error_by_place/map/columns"), rows = recipe.integer("error_by_place/map/rows");
    const auto errors = casebook::numbers_at(recipe, "error_by_place/map/error_px");
    if (!cell || !(*cell > 0.0) || !columns || !rows || !errors || *columns < 1 || *rows < 1 || *columns > 4096 ||
        *rows > 4096 || errors->size() != static_cast<std::size_t>(*columns * *rows))
        return std::nullopt;
    out.map = imaging::RegistrationErrorMap{*cell, static_cast<int>(*columns), static_cast<int>(*rows), {}};
    for (const double each : *errors) out.map->error_px.push_back(static_cast<float>(each));
    return out;
}

}  // namespace tedge::usecases
