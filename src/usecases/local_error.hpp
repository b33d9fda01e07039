// Where two photographs lie on each other better and where worse: the error grids of the registrations that join them.
// Whatever compares two photographs pixel by pixel asks here how far they may lie beside each other.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "placed_pair.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::usecases {

// The field "error_grid" of a registration, over its reference photograph: {"cell_px", "columns", "rows", "error_px":
// row by row, one standard deviation in pixels of the reference, below 0 where the other does not reach}; at most 16
// cells a side.
[[nodiscard]] nlohmann::json error_grid_json(const imaging::RegistrationErrorMap& map);

// For whatever compares pixel by pixel; both parts join in quadrature.
struct LocalError {
    double error_px = 0.0;                               // of what has no grid: corners, records of older programs
    std::optional<imaging::RegistrationErrorMap> map{};  // of what has one

    // Options with `error_px` and `error_maps`, which point into this.
    template <class Options>
    void tell(Options& options) const {
        options.error_px = error_px;
        if (map) options.error_maps.push_back(&*map);
    }
};

// What a recipe says of it: {"rest_px", "map": {"cell_px", "columns", "rows", "error_px"}}; the map null where one
// figure for all is the whole of it.
[[nodiscard]] nlohmann::json recipe_json(const LocalError& error);

// In pixels of a map that lies on the frame of the pair.
[[nodiscard]] LocalError local_error(const PlacedPair& pair, const Placement& face_from_map, SizePx map_size);

}  // namespace tedge::usecases
