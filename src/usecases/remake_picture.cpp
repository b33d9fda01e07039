#include "tedge/usecases/remake_picture.hpp"

#include <array>
#include <nlohmann/json.hpp>

#include "difference_laying.hpp"
#include "photograph_chart.hpp"
#include "recipe_parts.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/casebook/number_list.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/crack_drawing.hpp"
#include "tedge/imaging/relief_change.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/make_legible.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using imaging::Raster8;
using nlohmann::json;

std::unexpected<Error> incomplete() {
    return fail("remake.incomplete",
                "The recipe that was kept with this picture does not hold all that making it again takes: an earlier "
                "version of the program wrote it.",
                "Make the picture anew from its photographs.");
}

Expected<std::string> as_file(const Expected<Raster8>& drawn) {
    if (!drawn) return pass_on(drawn);
    return imaging::encode_picture(*drawn, imaging::PictureFormat::png);
}

Expected<std::string> crack_map_again(casebook::Casebook& book, const json& recipe, const Progress& progress) {
    const Body body(recipe);
    const auto grid = grid_in(body);
    const auto input = input_in(body, "");
    const auto widest = body.number("widest_px"), least = body.number("least_length_px");
    const std::string tone = body.text_or("tone");
    if (!grid || !input || input->size.width_px < 1 || !widest || !least || (tone != "light" && tone != "dark"))
        return incomplete();
    const auto pixels = laid_on_grid(book, input->sha256, input->face_from_photo, *grid, progress.part(0.0, 0.25));
    if (!pixels) return pass_on(pixels);
    const auto covered = covered_on_grid(input->size, input->face_from_photo, *grid, progress.part(0.25, 0.3));
    if (!covered) return pass_on(covered);
    const imaging::CrackOptions options{.tone = tone == "light" ? imaging::CrackTone::light : imaging::CrackTone::dark,
                                        .widest_px = *widest,
                                        .least_length_px = *least,
                                        .counted = &*covered};
    const auto map = imaging::crack_map(*pixels, options, progress.part(0.3, 1.0));
    if (!map) return pass_on(map);
    return as_file(imaging::draw_cracks(*pixels, *map));
}

// Two photographs on one grid, and what both cover of it.
struct TwoOnGrid {
    FaceGrid grid;
    Raster8 before;
    Raster8 after;
    Raster8 covered;
    LocalError local;
};

Expected<TwoOnGrid> two_on_grid(casebook::Casebook& book, const Body& recipe, const Progress& progress) {
    const auto grid = grid_in(recipe);
    const auto before = input_in(recipe, "before"), after = input_in(recipe, "after");
    auto local = local_error_in(recipe);
    if (!grid || !before || !after || !local || before->size.width_px < 1 || after->size.width_px < 1)
        return incomplete();
    auto one = laid_on_grid(book, before->sha256, before->face_from_photo, *grid, progress.part(0.0, 0.4));
    if (!one) return pass_on(one);
    auto other = laid_on_grid(book, after->sha256, after->face_from_photo, *grid, progress.part(0.4, 0.8));
    if (!other) return pass_on(other);
    auto covered = covered_by_both({before->size, before->face_from_photo}, {after->size, after->face_from_photo},
                                   *grid, progress.part(0.8, 1.0));
    if (!covered) return pass_on(covered);
    return TwoOnGrid{*grid, *std::move(one), *std::move(other), *std::move(covered), *std::move(local)};
}

Expected<std::string> crack_change_again(casebook::Casebook& book, const json& recipe, const Progress& progress) {
    const Body body(recipe);
    const auto least = body.number("least_length_px");
    if (!least) return incomplete();
    const auto two = two_on_grid(book, body, progress.part(0.0, 0.4));
    if (!two) return pass_on(two);
    imaging::CrackChangeOptions options;
    options.cracks.counted = &two->covered;
    options.least_length_px = *least;
    two->local.tell(options);
    const auto change = imaging::crack_change(two->before, two->after, options, progress.part(0.4, 1.0));
    if (!change) return pass_on(change);
    return as_file(imaging::draw_crack_change(two->after, *change));
}

Expected<std::string> relief_change_again(casebook::Casebook& book, const json& recipe, const Progress& progress) {
    const Body body(recipe);
    const auto scale = casebook::numbers_at(body, "scale_times_floor");
    if (!scale || scale->size() != 2) return incomplete();
    const auto two = two_on_grid(book, body, progress.part(0.0, 0.6));
    if (!two) return pass_on(two);
    imaging::ReliefChangeOptions options;
    options.before = {body.text_or("lamp_before/side"), body.number("lamp_before/angle_degrees")};
    options.after = {body.text_or("lamp_after/side"), body.number("lamp_after/angle_degrees")};
    options.mm_per_px = 1.0 / two->grid.px_per_mm;
    options.counted = &two->covered;
    two->local.tell(options);
    const auto change =
        imaging::relief_change(two->before, two->after, two->grid.face_from_grid(), options, progress.part(0.6, 1.0));
    if (!change) return pass_on(change);
    return as_file(imaging::draw_differences(change->change, {(*scale)[0], (*scale)[1]}, &two->covered));
}

// Nothing where the recipe says less than it takes.
std::optional<LightOfFile> light_in(const casebook::Casebook& book, const Body& recipe, const std::string& at,
                                    const std::string& sha256, PhotographChart& chart) {
    LightOfFile out{.sha256 = sha256};
    if (const std::string board = recipe.text_or(at + "/board_sha256"); !board.empty())
        out.board = book.original_path(board);
    if (!recipe.has(at + "/correction/model")) return out;  // as it was developed
    if (!read_correction(recipe, at + "/correction", chart)) return std::nullopt;
    out.chart = &chart;
    return out;
}

Expected<std::string> difference_again(casebook::Casebook& book, const json& recipe, const Progress& progress) {
    const Body body(recipe);
    const auto kind = imaging::parse_difference_kind(body.text_or("map"));
    const auto face = casebook::numbers_at(body, "face_mm"), scale = casebook::numbers_at(body, "scale");
    auto local = local_error_in(body);
    if (!kind || !face || face->size() != 2 || !scale || scale->size() != 2 || !local ||
        body.integer("longest_side_px") != longest_compared_side_px)
        return incomplete();
    std::array<PhotographChart, 2> charts;
    std::array<PlacedPixels, 2> lights;
    constexpr std::array names{"first", "second"};
    for (std::size_t i = 0; i < 2; ++i) {
        const auto input = input_in(body, names[i]);
        const auto light = input ? light_in(book, body, names[i], input->sha256, charts[i]) : std::nullopt;
        if (!light) return incomplete();
        const double from = 0.3 * static_cast<double>(i);
        auto read = read_light(book, *light, input->face_from_photo, progress.part(from, from + 0.3));
        if (!read) return pass_on(read);
        lights[i] = *std::move(read);
    }
    const DifferenceSetting setting{.face = {(*face)[0], (*face)[1]},
                                    .local = *std::move(local),
                                    .both_cross_polarised = false,  // says something of gloss, changes no pixel
                                    .floor = [&](const Raster8&, const Raster8&, const Raster8&) {
                                        return Floor{body.number("floor_delta_e00"), ""};
                                    }};
    const auto laid = laid_and_gated(std::move(lights[0]), lights[1], setting, progress.part(0.6, 0.9));
    if (!laid) return pass_on(laid);
    auto map = map_of_kind(*laid, *kind, progress.part(0.9, 1.0));
    if (!map) return pass_on(map);
    return as_file(drawn_difference(*std::move(map), *laid, {(*scale)[0], (*scale)[1], body.flag("scale_both_ways")}));
}

Expected<std::string> legible_view_again(casebook::Casebook& book, const json& recipe, const Progress& progress) {
    auto made = made_by_recipe(book, recipe, progress);
    if (!made) return pass_on(made);
    return std::move(made->png);
}

using Maker = Expected<std::string> (*)(casebook::Casebook& book, const json& recipe, const Progress& progress);

Maker maker_of(std::string_view what) {
    constexpr std::array<std::pair<std::string_view, Maker>, 5> makers{{{"crack-map", crack_map_again},
                                                                        {"crack-change", crack_change_again},
                                                                        {"relief-change", relief_change_again},
                                                                        {"difference", difference_again},
                                                                        {"legibility", legible_view_again}}};
    for (const auto& [name, maker] : makers)
        if (name == what) return maker;
    return nullptr;
}

}  // namespace

Expected<RemadePicture> remake_picture(casebook::Casebook& book, const Uuid& picture, const Progress& progress) {
    const auto record = book.record(picture);
    if (!record) return pass_on(record);
    if (!casebook::is_made_picture(record->kind))
        return fail("remake.not-made", "This record is no picture that was made from photographs.",
                    "Name a crack map, a difference or another of those kept with the photographs.");
    if (record->deleted)
        return fail("casebook.deleted-record", "This picture was removed from the case.", "Restore its record first.");
    const Maker maker = maker_of(record->body.text_or("what"));
    const json& fields = record->body.as_json();
    if (maker == nullptr || record->kind != "derived_picture")
        return fail(
            "remake.no-recipe",
            "A picture of this sort is not made again: what is kept of it says how it was made, not each pixel.",
            "Make another one from the same photographs.");
    if (!fields.contains("recipe") || !fields.at("recipe").is_object()) return incomplete();
    auto file = maker(book, fields.at("recipe"), progress);
    if (!file) return pass_on(file);
    RemadePicture out{.file = *std::move(file), .sha256 = {}, .identical = false};
    out.sha256 = to_hex(sha256(out.file));
    out.identical = out.sha256 == record->body.text_or("sha256");
    return out;
}

}  // namespace tedge::usecases
