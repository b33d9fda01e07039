#include "tedge/usecases/make_legible.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "legibility_recipe.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::usecases {

namespace {

using nlohmann::json;

constexpr double most_legible_px = 16e6;

// The photographs in their order, all on the frame of the first.
Expected<std::vector<PlacedPhotograph>> placed_ones(const Acting& acting, const casebook::CaseSnapshot& snapshot,
                                                    const std::vector<Uuid>& ids) {
    std::vector<PlacedPhotograph> out;
    Uuid frame{};
    for (const Uuid& id : ids) {
        auto placed = placed_photograph(acting.book, snapshot, id, frame);
        if (!placed) return pass_on(placed);
        if (out.empty()) frame = placed->record.body.record("face_frame").value_or(Uuid{});
        if (!out.empty() && (placed->record.case_id != out[0].record.case_id ||
                             placed->record.body.text_or("face") != out[0].record.body.text_or("face")))
            return fail("photograph.other-face", "The photographs do not show the same face.",
                        "Choose photographs of one face.", {{"photograph", to_text(id)}});
        out.push_back(*std::move(placed));
    }
    return out;
}

// The box of a region, where the grid and the region meet, in whole pixels of the grid.
Expected<FaceGrid> cut_to(const FaceGrid& grid, const Region& region) {
    const BoxMm box = region.bounds();
    const auto pixel = [&](double mm, double origin, int size) {
        return std::clamp(static_cast<int>(std::floor((mm - origin) * grid.px_per_mm)), 0, size);
    };
    const int left = pixel(box.min.x_mm, grid.origin.x_mm, grid.size.width_px);
    const int top = pixel(box.min.y_mm, grid.origin.y_mm, grid.size.height_px);
    const int right = pixel(box.max.x_mm, grid.origin.x_mm, grid.size.width_px);
    const int bottom = pixel(box.max.y_mm, grid.origin.y_mm, grid.size.height_px);
    if (box.empty() || right <= left || bottom <= top)
        return fail("photograph.no-overlap", "The photographs do not show that place.", "Choose another place.");
    return FaceGrid{grid.frame,
                    {grid.origin.x_mm + left / grid.px_per_mm, grid.origin.y_mm + top / grid.px_per_mm},
                    {right - left, bottom - top},
                    grid.px_per_mm};
}

Expected<FaceRecipe> recipe_for(const LegibilityWanted& wanted, const std::vector<PlacedPhotograph>& photographs,
                                const casebook::CaseSnapshot& snapshot) {
    const Uuid frame = photographs[0].record.body.record("face_frame").value_or(Uuid{});
    // A region is cut out before the limit counts: a signature is wanted at full resolution.
    const double limit = wanted.region ? 40 * most_legible_px : most_legible_px;
    auto grid = common_grid(snapshot, frame, photographs, limit);
    if (!grid) return pass_on(grid);
    if (wanted.region) grid = cut_to(*grid, *wanted.region);
    if (!grid) return pass_on(grid);
    if (static_cast<double>(grid->size.width_px) * grid->size.height_px > most_legible_px)
        return fail("legibility.parameters", "The place is too large to be read at the photographs' resolution.",
                    "Choose a smaller place.");
    FaceRecipe out{wanted.recipe, {}, {}, *grid};
    out.view.inputs_sha256.clear();
    for (const PlacedPhotograph& photograph : photographs) {
        out.view.inputs_sha256.push_back(photograph.record.body.text_or("sha256"));
        out.face_from_photo.push_back(photograph.face_from_photo);
        out.sizes.push_back(photograph.size);
    }
    return out;
}

Expected<imaging::Raster8> covered_by_all(const FaceRecipe& recipe, const Progress& progress) {
    imaging::Raster8 out(recipe.grid.size.width_px, recipe.grid.size.height_px, 1);
    std::ranges::fill(out.samples(), std::uint8_t{255});
    for (std::size_t i = 0; i < recipe.sizes.size(); ++i) {
        const auto one = covered_on_grid(recipe.sizes[i], recipe.face_from_photo[i], recipe.grid, progress);
        if (!one) return pass_on(one);
        for (std::size_t j = 0; j < out.samples().size(); ++j)
            if (one->samples()[j] == 0) out.samples()[j] = 0;
    }
    return out;
}

NewDerivedPicture described(const LegibilityWanted& wanted, const std::vector<PlacedPhotograph>& photographs,
                            const FaceGrid& grid) {
    NewDerivedPicture out = picture_on(grid, photographs[0]);
    out.what = "legibility";
    for (const PlacedPhotograph& photograph : photographs)
        out.from_photographs[photograph.record.id] = photograph.record.body.text_or("light");
    for (const PlacedPhotograph& photograph : photographs)
        out.face_from_picture->error_mm =
            std::max(out.face_from_picture->error_mm, photograph.face_from_photo.error_mm);
    out.caption = wanted.caption;
    return out;
}

}  // namespace

Expected<LegibleFile> made_by_recipe(casebook::Casebook& book, const json& from, const Progress& progress) {
    const auto recipe = recipe_from_json(from);
    if (!recipe) return pass_on(recipe);
    std::vector<imaging::Raster16> lights;
    const double share = 0.7 / static_cast<double>(recipe->sizes.size());
    for (std::size_t i = 0; i < recipe->sizes.size(); ++i) {
        const double start = share * static_cast<double>(i);
        auto light = laid_on_grid16(book, recipe->view.inputs_sha256[i], recipe->face_from_photo[i], recipe->grid,
                                    progress.part(start, start + share));
        if (!light) return pass_on(light);
        lights.push_back(*std::move(light));
    }
    const auto covered = covered_by_all(*recipe, progress.part(0.7, 0.75));
    if (!covered) return pass_on(covered);
    auto view = imaging::legibility_view(lights, recipe->view, &*covered, progress.part(0.75, 1.0));
    if (!view) return pass_on(view);
    auto png = imaging::encode_picture(view->gray, imaging::PictureFormat::png);
    if (!png) return pass_on(png);
    return LegibleFile{*std::move(png), std::move(view->components)};
}

Expected<MadeLegible> make_legible(const Acting& acting, const LegibilityWanted& wanted, const Progress& progress) {
    if (wanted.photographs.empty())
        return fail("legibility.no-lights", "There is no photograph to read from.", "Choose at least one.");
    const auto first = existing_photograph(acting.book, wanted.photographs[0]);
    if (!first) return pass_on(first);
    const auto snapshot = acting.book.snapshot(first->case_id);
    if (!snapshot) return pass_on(snapshot);
    const auto photographs = placed_ones(acting, *snapshot, wanted.photographs);
    if (!photographs) return pass_on(photographs);
    const auto recipe = recipe_for(wanted, *photographs, *snapshot);
    if (!recipe) return pass_on(recipe);
    const json written = to_json(*recipe);
    auto file = made_by_recipe(acting.book, written, progress);
    if (!file) return pass_on(file);
    auto kept = keep_derived_picture(acting, described(wanted, *photographs, recipe->grid), file->png, written);
    if (!kept) return pass_on(kept);
    return MadeLegible{*std::move(kept), std::move(file->components), recipe->view, recipe->grid.px_per_mm};
}

}  // namespace tedge::usecases
