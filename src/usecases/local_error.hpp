// Where two photographs lie on each other better and where worse: the error grids of the registrations that join them.
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

// For difference_gates.hpp; both parts join in quadrature.
struct LocalError {
    double error_px = 0.0;                               // of what has no grid: corners, records of older programs
    std::optional<imaging::RegistrationErrorMap> map{};  // of what has one
};

// In pixels of a map that lies on the frame of the pair.
[[nodiscard]] LocalError local_error(const PlacedPair& pair, const Placement& face_from_map, SizePx map_size);

}  // namespace tedge::usecases
