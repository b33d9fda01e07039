#include "legibility_recipe.hpp"

#include <nlohmann/json.hpp>

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::FieldValues;
using nlohmann::json;

std::unexpected<Error> no_recipe() {
    return fail("legibility.recipe", "This is no recipe of a legible picture, or one of another version.",
                "Take the recipe of a picture that was made by this program.");
}

json input_json(const std::string& sha256, const Placement& face_from_photo, SizePx size) {
    FieldValues placement;
    placement.placement("face_from_photo", face_from_photo);
    return {{"sha256", sha256},
            {"face_from_photo", placement.set_values().at("face_from_photo")},
            {"width_px", size.width_px},
            {"height_px", size.height_px}};
}

// False where something is missing.
bool read_inputs(const json& from, FaceRecipe& out) {
    for (const json& each : from) {
        const Body body(each);
        const auto placement = body.placement("face_from_photo");
        const auto width = body.integer("width_px");
        const auto height = body.integer("height_px");
        if (!placement || !width || !height || !body.has("sha256")) return false;
        out.view.inputs_sha256.push_back(body.text_or("sha256"));
        out.face_from_photo.push_back(*placement);
        out.sizes.push_back({static_cast<int>(*width), static_cast<int>(*height)});
    }
    return !out.sizes.empty();
}

bool read_grid(const Body& body, FaceGrid& out) {
    const auto x = body.number("origin_x_mm");
    const auto y = body.number("origin_y_mm");
    const auto width = body.integer("width_px");
    const auto height = body.integer("height_px");
    const auto scale = body.number("px_per_mm");
    const auto frame = body.record("face_frame");
    if (!x || !y || !width || !height || !scale || !frame || *width < 1 || *height < 1 || !(*scale > 0)) return false;
    out = {*frame, {*x, *y}, {static_cast<int>(*width), static_cast<int>(*height)}, *scale};
    return true;
}

}  // namespace

json to_json(const FaceRecipe& recipe) {
    const imaging::LegibilityRecipe& view = recipe.view;
    json inputs = json::array();
    for (std::size_t i = 0; i < view.inputs_sha256.size(); ++i)
        inputs.push_back(input_json(view.inputs_sha256[i], recipe.face_from_photo[i], recipe.sizes[i]));
    return {{"method", imaging::name_of(view.method)},
            {"channel", view.channel},
            {"divisor", view.divisor},
            {"component", view.component},
            {"smooth_px", view.smooth_px},
            {"surroundings_px", view.surroundings_px},
            {"clipped_share", view.clipped_share},
            {"inputs", std::move(inputs)},
            {"face_frame", to_text(recipe.grid.frame)},
            {"origin_x_mm", recipe.grid.origin.x_mm},
            {"origin_y_mm", recipe.grid.origin.y_mm},
            {"width_px", recipe.grid.size.width_px},
            {"height_px", recipe.grid.size.height_px},
            {"px_per_mm", recipe.grid.px_per_mm}};
}

Expected<FaceRecipe> recipe_from_json(const json& from) {
    if (!from.is_object() || !from.contains("inputs") || !from.at("inputs").is_array()) return no_recipe();
    const Body body(from);
    const auto method = imaging::parse_legibility_method(body.text_or("method"));
    FaceRecipe out;
    if (!method || !read_grid(body, out.grid) || !read_inputs(from.at("inputs"), out)) return no_recipe();
    const auto whole = [&](std::string_view field) { return body.integer(field).value_or(-1); };
    if (whole("channel") < 0 || whole("divisor") < 0 || whole("component") < 0 || !body.has("clipped_share"))
        return no_recipe();
    out.view.method = *method;
    out.view.channel = static_cast<std::size_t>(whole("channel"));
    out.view.divisor = static_cast<std::size_t>(whole("divisor"));
    out.view.component = static_cast<std::size_t>(whole("component"));
    out.view.smooth_px = static_cast<int>(whole("smooth_px"));
    out.view.surroundings_px = static_cast<int>(whole("surroundings_px"));
    out.view.clipped_share = body.number("clipped_share").value_or(0.0);
    return out;
}

}  // namespace tedge::usecases
