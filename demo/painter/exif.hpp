// The smallest useful Exif block (Exif 2.32, CIPA DC-008): camera, time and orientation.
#pragma once

#include <string>
#include <string_view>

namespace tedge::painter {

struct ExifWords {
    std::string_view make;
    std::string_view model;
    std::string_view taken_at;  // ISO 8601 local time, "2025-03-20T09:30:00"
    int orientation = 1;
};

// A whole APP1 segment, marker included, to stand directly behind a JPEG's start marker.
[[nodiscard]] std::string exif_segment(const ExifWords& words);

}  // namespace tedge::painter
