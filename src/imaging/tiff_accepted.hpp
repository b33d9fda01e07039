// Which of the many arrangements of TIFF are read.
#pragma once

#include "picture_job.hpp"
#include "tiff_file.hpp"

namespace tedge::imaging {

// Before any room is made for pixels. Errors: picture.too-large, picture.unsupported, picture.damaged.
[[nodiscard]] Expected<void> check_layout(const PictureJob& job, const TiffLayout& layout);

}  // namespace tedge::imaging
