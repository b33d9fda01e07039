// The faces of a picture and the frame of each, in one epoch.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"

namespace tedge {

enum class Face { recto, verso, edge_top, edge_right, edge_bottom, edge_left, frame_front, frame_back };

inline constexpr std::array<Face, 8> all_faces{Face::recto,       Face::verso,     Face::edge_top,    Face::edge_right,
                                               Face::edge_bottom, Face::edge_left, Face::frame_front, Face::frame_back};

// "recto", "edge-top", …: the words of records and of the command line.
[[nodiscard]] std::string_view to_text(Face face);
// Errors: face.unknown, naming the eight words.
[[nodiscard]] Expected<Face> parse_face(std::string_view text);

// A face in one epoch. Lining or a change of size opens a new epoch; `new_from_old_mm` joins it to the one before.
struct FaceFrame {
    Face face = Face::recto;
    SizeMm size;
    std::optional<Homography> new_from_old_mm;

    // Errors: face.size-out-of-range (each side 1 mm to 20 m).
    [[nodiscard]] Expected<void> check() const;
};

// The same spot seen from the other side of a canvas or panel, with the width of that epoch:
// x_recto = width - x_verso, y unchanged. Its own inverse.
[[nodiscard]] PointMm turned_over(PointMm point, double width_mm);

}  // namespace tedge
