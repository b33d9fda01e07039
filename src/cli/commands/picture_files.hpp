// Pictures and lists of points as commands read them from files.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::cli {

// Decoded, upright, as it looks on an sRGB screen. Errors: picture.*, cancelled.
[[nodiscard]] Expected<imaging::Raster8> read_srgb(const std::string& file, const Progress& progress);

// In the format that the name's ending says. Errors: those of format_for and write_picture.
[[nodiscard]] Expected<void> write_picture_file(const std::string& file, const imaging::Raster8& picture);

// Columns x and y, one point a row. Errors: points.no-columns, table.*, file.*, number.*.
[[nodiscard]] Expected<std::vector<PointPx>> read_points(const std::string& file);

// Columns reference_x, reference_y, moving_x, moving_y, one pair a row. Errors: the same.
[[nodiscard]] Expected<std::vector<imaging::PointPair>> read_pairs(const std::string& file);

// residual_px, borne_out, beside_px.
[[nodiscard]] nlohmann::json pairs_fields(const imaging::PairsReport& pairs);

}  // namespace tedge::cli
