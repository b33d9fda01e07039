// Two photographs of 40 megapixels of one invented painting, before and after, as files that are made once.
#pragma once

#include <filesystem>

#include "painted_pair.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

inline constexpr SizePx large_size{7360, 5440};

// The older photograph against the newer.
[[nodiscard]] KnownMove large_move();

// Writes after.jpg, before.jpg and, when wanted, other.jpg (another painting) into the folder unless they stand there;
// minutes for each. False when a file cannot be written.
[[nodiscard]] bool make_large_pictures(const std::filesystem::path& folder, bool other_too);

}  // namespace tedge::test_support
