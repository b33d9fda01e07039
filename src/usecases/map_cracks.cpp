#include "tedge/usecases/map_cracks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "on_face.hpp"
#include "recipe_parts.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/crack_drawing.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::FieldValues;
using nlohmann::json;

constexpr double most_cracked_px = 40e6;

// A photograph laid on its face, and the part of the grid that it covers.
struct LaidSquare {
    PlacedPhotograph photograph;
    FaceGrid grid;
    imaging::Raster8 pixels;
    imaging::Raster8 covered;
};

Expected<LaidSquare> laid_square(const Acting& acting, const Uuid& id, const Progress& progress) {
    const auto record = existing_photograph(acting.book, id);
    if (!record) return pass_on(record);
    const auto snapshot = acting.book.snapshot(record->case_id);
    if (!snapshot) return pass_on(snapshot);
    auto photograph = placed_photograph(acting.book, *snapshot, id);
    if (!photograph) return pass_on(photograph);
    const Uuid frame = photograph->record.body.record("face_frame").value_or(Uuid{});
    const auto grid = common_grid(*snapshot, frame, {*photograph}, most_cracked_px);
    if (!grid) return pass_on(grid);
    auto pixels = laid_on_grid(acting.book, photograph->record.body.text_or("sha256"), photograph->face_from_photo,
                               *grid, progress.part(0.0, 0.8));
    if (!pixels) return pass_on(pixels);
    auto covered = covered_on_grid(photograph->size, photograph->face_from_photo, *grid, progress.part(0.8, 1.0));
    if (!covered) return pass_on(covered);
    return LaidSquare{*std::move(photograph), *grid, *std::move(pixels), *std::move(covered)};
}

imaging::CrackOptions options_for(const CracksWanted& wanted, const LaidSquare& laid) {
    imaging::CrackOptions out;
    out.tone = wanted.light ? imaging::CrackTone::light : imaging::CrackTone::dark;
    if (wanted.widest_mm) out.widest_px = *wanted.widest_mm * laid.grid.px_per_mm;
    out.counted = &laid.covered;
    return out;
}

json squares_json(const imaging::CrackFigures& figures) {
    json out = json::array();
    for (const imaging::CrackSquare& square : figures.squares)
        out.push_back({square.column, square.row, figures.density_mm_per_cm2(square).value_or(0.0)});
    return out;
}

json recipe_of(const LaidSquare& laid, const imaging::CrackOptions& options, const CracksWanted& wanted,
               const imaging::CrackFigures& figures) {
    const json input = recipe_input(laid.photograph);
    json recipe{{"method", "crack map: flanked lines in 16 directions, hysteresis, thinning"},
                {"tone", wanted.light ? "light" : "dark"},
                {"widest_px", options.widest_px},
                {"least_length_px", options.least_length_px},
                {"input_sha256", input.at("sha256")},
                {"face_from_photo", input.at("face_from_photo")},
                {"photo_width_px", laid.photograph.size.width_px},
                {"photo_height_px", laid.photograph.size.height_px},
                {"square_mm", wanted.square_mm},
                {"drawn_share", figures.drawn_share},
                {"squares_column_row_mm_per_cm2", squares_json(figures)}};
    add_grid(recipe, laid.grid);
    return recipe;
}

Expected<KeptPicture> keep(const Acting& acting, const LaidSquare& laid, const imaging::CrackMap& map,
                           const json& recipe) {
    const auto drawn = imaging::draw_cracks(laid.pixels, map);
    if (!drawn) return pass_on(drawn);
    const auto file = imaging::encode_picture(*drawn, imaging::PictureFormat::png);
    if (!file) return pass_on(file);
    NewDerivedPicture wanted = picture_on(laid.grid, laid.photograph);
    wanted.what = "crack-map";
    wanted.from_photographs = {{laid.photograph.record.id, "cracks"}};
    return keep_derived_picture(acting, wanted, *file, recipe);
}

std::string note_of(const imaging::CrackFigures& figures) {
    const auto& directions = figures.directions;
    const std::string drawn = imaging::drawing_sentence(figures.drawn_share);
    return fmt::format(
        "{}{}{} mm of cracks, median width {} mm. Main direction {}° from level, {} directed (0 none, 1 all one way), "
        "{} "
        "in two ways at right angles. A painted line as fine as a crack counts as one.",
        drawn, drawn.empty() ? "" : " ", format_fixed(figures.length_mm().value_or(0), 0),
        format_fixed(figures.median_width_px / figures.px_per_mm.value_or(1), 2),
        format_fixed(directions.main_degrees, 0), format_fixed(directions.directed, 2),
        format_fixed(directions.crossed, 2));
}

// One kind of figure, all of one photograph and place.
FieldValues measurement(const LaidSquare& laid, std::string_view what, double value, std::string_view unit,
                        const Region& place, std::string_view note) {
    FieldValues out;
    out.text("what", what)
        .number("value", value)
        .text("unit", unit)
        .record("face_frame", laid.grid.frame)
        .region("region", place)
        .value("from_photographs", json::object({{to_text(laid.photograph.record.id), "cracks"}}));
    if (!note.empty()) out.text("note", note);
    return out;
}

Expected<Region> place_of(const FaceGrid& grid, const imaging::CrackFigures& figures,
                          const imaging::CrackSquare* square) {
    if (square == nullptr) return Region::rectangle(grid.origin, grid.size_mm());
    const double side = figures.square_px / grid.px_per_mm;
    const double x = square->column * side;
    const double y = square->row * side;
    return Region::rectangle(
        {grid.origin.x_mm + x, grid.origin.y_mm + y},
        {std::min(side, grid.size_mm().width_mm - x), std::min(side, grid.size_mm().height_mm - y)});
}

// Of those at least half looked at; nothing where there is none.
const imaging::CrackSquare* densest(const imaging::CrackFigures& figures) {
    const double whole = figures.square_px * figures.square_px;
    const imaging::CrackSquare* best = nullptr;
    for (const imaging::CrackSquare& square : figures.squares)
        if (square.counted_px >= whole / 2 &&
            (best == nullptr || figures.density_mm_per_cm2(square) > figures.density_mm_per_cm2(*best)))
            best = &square;
    return best;
}

Expected<std::vector<FieldValues>> measurements_of(const LaidSquare& laid, const imaging::CrackFigures& figures) {
    const auto whole = place_of(laid.grid, figures, nullptr);
    if (!whole) return pass_on(whole);
    std::vector<FieldValues> out{measurement(laid, "crack density", figures.density_mm_per_cm2().value_or(0), "mm/cm²",
                                             *whole, note_of(figures))};
    if (figures.islands.count > 0) {
        const double per_mm2 = *figures.px_per_mm * *figures.px_per_mm;
        const auto quartiles = fmt::format("{} islands; half of them lie between {} and {} mm².", figures.islands.count,
                                           format_fixed(figures.islands.lower_quartile_px2 / per_mm2, 1),
                                           format_fixed(figures.islands.upper_quartile_px2 / per_mm2, 1));
        out.push_back(measurement(laid, "median island between cracks", figures.islands.median_px2 / per_mm2, "mm²",
                                  *whole, quartiles));
    }
    if (const auto* square = densest(figures)) {
        const auto place = place_of(laid.grid, figures, square);
        if (!place) return pass_on(place);
        out.push_back(measurement(laid, "crack density, densest square",
                                  figures.density_mm_per_cm2(*square).value_or(0), "mm/cm²", *place, ""));
    }
    return out;
}

Expected<std::vector<Done>> record_all(const Acting& acting, const LaidSquare& laid,
                                       const imaging::CrackFigures& figures) {
    const auto wanted = measurements_of(laid, figures);
    if (!wanted) return pass_on(wanted);
    return acting.book.in_one_act([&]() -> Expected<std::vector<Done>> {
        std::vector<Done> out;
        for (const FieldValues& values : *wanted) {
            auto done = add_record(acting, laid.photograph.record.case_id, "measurement", values);
            if (!done) return pass_on(done);
            out.push_back(*std::move(done));
        }
        return out;
    });
}

}  // namespace

Expected<MappedCracks> map_cracks(const Acting& acting, const Uuid& photograph, const CracksWanted& wanted,
                                  const Progress& progress) {
    const auto laid = laid_square(acting, photograph, progress.part(0.0, 0.3));
    if (!laid) return pass_on(laid);
    const auto options = options_for(wanted, *laid);
    const auto map = imaging::crack_map(laid->pixels, options, progress.part(0.3, 0.9));
    if (!map) return pass_on(map);
    auto figures = imaging::crack_figures(
        *map, {.px_per_mm = laid->grid.px_per_mm, .square_mm = wanted.square_mm, .counted = &laid->covered});
    if (!figures) return pass_on(figures);
    auto picture = keep(acting, *laid, *map, recipe_of(*laid, options, wanted, *figures));
    if (!picture) return pass_on(picture);
    MappedCracks out{*std::move(picture),       {}, *std::move(figures), laid->grid.origin, laid->grid.frame,
                     1.0 / laid->grid.px_per_mm};
    if (out.picture.already) return out;
    auto measured = record_all(acting, *laid, out.figures);
    if (!measured) return pass_on(measured);
    out.measurements = *std::move(measured);
    return out;
}

}  // namespace tedge::usecases
