#include "tedge/geometry/face_frame.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge {

namespace {

constexpr std::array<std::string_view, 8> words{"recto",       "verso",     "edge-top",    "edge-right",
                                                "edge-bottom", "edge-left", "frame-front", "frame-back"};

bool believable(double side_mm) {
    return side_mm >= 1.0 && side_mm <= 20'000.0;
}

}  // namespace

std::string_view to_text(Face face) {
    return words[static_cast<std::size_t>(face)];
}

Expected<Face> parse_face(std::string_view text) {
    const auto at = std::ranges::find(words, text);
    if (at == words.end()) {
        return fail("face.unknown", fmt::format("\"{}\" is not a face of a picture.", text),
                    fmt::format("Use one of {}.", fmt::join(words, ", ")), {{"text", std::string(text)}});
    }
    return all_faces[static_cast<std::size_t>(at - words.begin())];
}

Expected<void> FaceFrame::check() const {
    if (believable(size.width_mm) && believable(size.height_mm)) return {};
    return fail("face.size-out-of-range",
                fmt::format("A face of {} × {} mm is not believable.", size.width_mm, size.height_mm),
                "Give both sides in millimetres, from 1 to 20000.");
}

PointMm turned_over(PointMm point, double width_mm) {
    return {width_mm - point.x_mm, point.y_mm};
}

}  // namespace tedge
