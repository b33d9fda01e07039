#include "on_face.hpp"

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "laid_over.hpp"
#include "scale_on_face.hpp"
#include "tedge/casebook/frames.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

constexpr int points_along_edge = 8;
constexpr std::uint8_t wholly_inside = 250;

// Where its edge runs on the face.
BoxMm covered_box(const PlacedPhotograph& photograph) {
    const double w = photograph.size.width_px;
    const double h = photograph.size.height_px;
    BoxMm box;
    const auto take = [&](double x, double y) {
        const PointMm at = photograph.face_from_photo.to_face({x - 0.5, y - 0.5});
        if (box.empty()) box = {at, at};
        box.min = {std::min(box.min.x_mm, at.x_mm), std::min(box.min.y_mm, at.y_mm)};
        box.max = {std::max(box.max.x_mm, at.x_mm), std::max(box.max.y_mm, at.y_mm)};
    };
    for (int i = 0; i <= points_along_edge; ++i) {
        const double share = static_cast<double>(i) / points_along_edge;
        take(share * w, 0);
        take(share * w, h);
        take(0, share * h);
        take(w, share * h);
    }
    return box;
}

double px_per_mm_in_middle(const PlacedPhotograph& photograph) {
    return px_per_mm_at(photograph.face_from_photo, {photograph.size.width_px / 2.0, photograph.size.height_px / 2.0});
}

BoxMm common_box(const std::vector<PlacedPhotograph>& photographs, SizeMm face) {
    BoxMm box{{0, 0}, {face.width_mm, face.height_mm}};
    for (const PlacedPhotograph& photograph : photographs) {
        const BoxMm covered = covered_box(photograph);
        box.min = {std::max(box.min.x_mm, covered.min.x_mm), std::max(box.min.y_mm, covered.min.y_mm)};
        box.max = {std::min(box.max.x_mm, covered.max.x_mm), std::min(box.max.y_mm, covered.max.y_mm)};
    }
    return box;
}

template <class Pixels>
Expected<Pixels> laid(const Expected<Pixels>& srgb, const Placement& face_from_photo, const FaceGrid& grid,
                      const Progress& progress) {
    if (!srgb) return pass_on(srgb);
    const auto map = reference_from_moving(grid.face_from_grid(), face_from_photo, grid.size);
    if (!map) return pass_on(map);
    return imaging::resample(*srgb, *map, grid.size, 0, progress);
}

}  // namespace

NewDerivedPicture picture_on(const FaceGrid& grid, const PlacedPhotograph& photograph) {
    NewDerivedPicture picture;
    picture.case_id = photograph.record.case_id;
    picture.face_frame = grid.frame;
    picture.face_from_picture = grid.face_from_grid();
    picture.face_from_picture->error_mm = photograph.face_from_photo.error_mm;
    return picture;
}

Placement FaceGrid::face_from_grid() const {
    const double step = 1.0 / px_per_mm;
    Placement out;
    out.face_from_photo =
        Homography::from_row_major({step, 0, origin.x_mm + step / 2, 0, step, origin.y_mm + step / 2, 0, 0, 1}).value();
    return out;
}

Expected<FaceGrid> common_grid(const CaseSnapshot& snapshot, const Uuid& frame,
                               const std::vector<PlacedPhotograph>& photographs, double most_px) {
    const Record* record = snapshot.find(frame);
    if (record == nullptr) return not_placed(photographs.front().record.id);
    const BoxMm box = common_box(photographs, casebook::size_of_frame(*record));
    const double width = box.max.x_mm - box.min.x_mm;
    const double height = box.max.y_mm - box.min.y_mm;
    double scale = px_per_mm_in_middle(photographs.front());
    for (const PlacedPhotograph& photograph : photographs) scale = std::min(scale, px_per_mm_in_middle(photograph));
    if (width > 0 && height > 0) scale = std::min(scale, std::sqrt(most_px / (width * height)));
    const SizePx size{static_cast<int>(width * scale), static_cast<int>(height * scale)};
    if (size.width_px < 1 || size.height_px < 1)
        return fail("photograph.no-overlap", "The photographs show no part of the face in common.",
                    "Choose photographs that overlap.");
    return FaceGrid{frame, box.min, size, scale};
}

Expected<imaging::Raster8> laid_on_grid(const casebook::Casebook& book, const std::string& sha256,
                                        const Placement& face_from_photo, const FaceGrid& grid,
                                        const Progress& progress) {
    return laid(srgb_of(book, sha256, progress.part(0.0, 0.7)), face_from_photo, grid, progress.part(0.7, 1.0));
}

Expected<imaging::Raster16> laid_on_grid16(const casebook::Casebook& book, const std::string& sha256,
                                           const Placement& face_from_photo, const FaceGrid& grid,
                                           const Progress& progress) {
    return laid(srgb16_of(book, sha256, progress.part(0.0, 0.7)), face_from_photo, grid, progress.part(0.7, 1.0));
}

Expected<imaging::Raster8> covered_on_grid(SizePx photo, const Placement& face_from_photo, const FaceGrid& grid,
                                           const Progress& progress) {
    const auto map = reference_from_moving(grid.face_from_grid(), face_from_photo, grid.size);
    if (!map) return pass_on(map);
    imaging::Raster8 white(photo.width_px, photo.height_px, 1);
    std::ranges::fill(white.samples(), std::uint8_t{255});
    auto out = imaging::resample(white, *map, grid.size, 0, progress);
    if (!out) return pass_on(out);
    for (std::uint8_t& sample : out->samples()) sample = sample >= wholly_inside ? 255 : 0;
    return out;
}

Expected<imaging::Raster8> covered_by_both(const Lying& one, const Lying& other, const FaceGrid& grid,
                                           const Progress& progress) {
    auto out = covered_on_grid(one.size, one.face_from_photo, grid, progress.part(0.0, 0.5));
    if (!out) return out;
    const auto second = covered_on_grid(other.size, other.face_from_photo, grid, progress.part(0.5, 1.0));
    if (!second) return pass_on(second);
    for (std::size_t i = 0; i < out->samples().size(); ++i)
        if (second->samples()[i] == 0) out->samples()[i] = 0;
    return out;
}

nlohmann::json recipe_input(const PlacedPhotograph& photograph) {
    casebook::FieldValues placement;
    placement.placement("face_from_photo", photograph.face_from_photo);
    nlohmann::json out{{"sha256", photograph.record.body.text_or("sha256")},
                       {"face_from_photo", placement.set_values().at("face_from_photo")}};
    if (photograph.size.width_px < 1) return out;
    out["width_px"] = photograph.size.width_px;
    out["height_px"] = photograph.size.height_px;
    return out;
}

}  // namespace tedge::usecases
