#include "local_error.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <vector>

#include "registered_joints.hpp"
#include "scale_on_face.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/number_list.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::RegistrationErrorMap;
using nlohmann::json;

constexpr int most_cells_kept = 16;
constexpr double cells_across = 32.0;

// As a recipe keeps it, so that it says what was reckoned with.
double to_a_thousandth(double error_px) {
    return std::round(1000.0 * error_px) / 1000.0;
}

json json_of(const RegistrationErrorMap& map) {
    json errors = json::array();
    for (const float each : map.error_px) errors.push_back(to_a_thousandth(static_cast<double>(each)));
    return {{"cell_px", map.cell_px}, {"columns", map.columns}, {"rows", map.rows}, {"error_px", std::move(errors)}};
}

// Nothing where a record has none, or none that holds together.
std::optional<RegistrationErrorMap> error_grid_of(const Record& registration) {
    const auto cell = registration.body.number("error_grid/cell_px");
    const auto columns = registration.body.integer("error_grid/columns"),
               rows = registration.body.integer("error_grid/rows");
    if (!cell || !(*cell > 0.0) || !columns || !rows || *columns < 1 || *rows < 1 || *columns > 4096 || *rows > 4096)
        return std::nullopt;
    const auto errors = casebook::numbers_at(registration.body, "error_grid/error_px");
    if (!errors || errors->size() != static_cast<std::size_t>(*columns * *rows)) return std::nullopt;
    RegistrationErrorMap map{*cell, static_cast<int>(*columns), static_cast<int>(*rows), {}};
    for (const double each : *errors) map.error_px.push_back(static_cast<float>(each));
    return map;
}

// A registration with its grid, and where the grid's photograph lies on the frame.
struct GriddedJoint {
    RegistrationErrorMap grid;
    Placement face_from_reference;
    double own_mm2 = 0.0;  // counts where the grid says nothing

    [[nodiscard]] double mm2_at(PointMm place) const {
        const auto pixel = face_from_reference.to_photo(place);
        const double error_px = pixel ? grid.at(*pixel) : -1.0;
        if (error_px < 0.0) return own_mm2;
        const double error_mm = error_px / px_per_mm_at(face_from_reference, *pixel);
        return error_mm * error_mm;
    }
};

RegistrationErrorMap map_of(const std::vector<GriddedJoint>& joints, const Placement& face_from_map, SizePx size) {
    RegistrationErrorMap map;
    map.cell_px = std::max(1.0, std::max(size.width_px, size.height_px) / cells_across);
    map.columns = static_cast<int>(std::ceil(size.width_px / map.cell_px));
    map.rows = static_cast<int>(std::ceil(size.height_px / map.cell_px));
    for (int row = 0; row < map.rows; ++row)
        for (int column = 0; column < map.columns; ++column) {
            const PointPx middle{(column + 0.5) * map.cell_px - 0.5, (row + 0.5) * map.cell_px - 0.5};
            double mm2 = 0.0;
            for (const GriddedJoint& joint : joints) mm2 += joint.mm2_at(face_from_map.to_face(middle));
            map.error_px.push_back(
                static_cast<float>(to_a_thousandth(std::sqrt(mm2) * px_per_mm_at(face_from_map, middle))));
        }
    return map;
}

}  // namespace

json error_grid_json(const RegistrationErrorMap& map) {
    return json_of(imaging::coarser(map, most_cells_kept));
}

json recipe_json(const LocalError& error) {
    return {{"rest_px", error.error_px}, {"map", error.map ? json_of(*error.map) : json(nullptr)}};
}

LocalError local_error(const PlacedPair& pair, const Placement& face_from_map, SizePx map_size) {
    const PointPx middle{map_size.width_px / 2.0, map_size.height_px / 2.0};
    const double px_per_mm = px_per_mm_at(face_from_map, middle);
    const auto joints = joints_between(pair.snapshot, pair.first.record, pair.second.record);
    if (!joints) return {pair.error_mm * px_per_mm, std::nullopt};
    double rest_mm2 = 0.0;
    std::vector<GriddedJoint> gridded;
    for (const Joint& joint : *joints) {
        auto grid = error_grid_of(*joint.registration);
        const auto placement = casebook::placement_on_frame(pair.snapshot, *joint.reference, pair.frame);
        if (grid && placement)
            gridded.push_back({*std::move(grid), *placement, joint.own_mm2});
        else
            rest_mm2 += joint.own_mm2;
    }
    LocalError out{std::sqrt(rest_mm2) * px_per_mm, std::nullopt};
    if (!gridded.empty()) out.map = map_of(gridded, face_from_map, map_size);
    return out;
}

}  // namespace tedge::usecases
