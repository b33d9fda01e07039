// What a file holds, told from its first bytes.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

// TIFF is the container of most camera raw files too: `tiff` here still leaves that open.
// Errors: picture.empty, picture.not-a-picture.
[[nodiscard]] Expected<PictureKind> kind_of_bytes(std::string_view head, std::string_view name);

}  // namespace tedge::imaging
