// Places in one face frame seen from another: across epochs of a face, and from the back of a canvas to its front.
#pragma once

#include <optional>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/geometry/face_frame.hpp"

namespace tedge::casebook {

// The face of a face_frame record; nothing where it is no such record of this case.
[[nodiscard]] std::optional<Face> face_of_frame(const CaseSnapshot& snapshot, const Uuid& face_frame);

// The same place in another frame of the case. Epochs of a face are joined by `new_from_old` (followed in both
// directions); recto and verso are joined by turning over with the width of a frame of one epoch
// (x_recto = width - x_verso). Nothing where no such chain joins the two frames: then the places cannot be compared.
[[nodiscard]] std::optional<Region> seen_in_frame(const CaseSnapshot& snapshot, const Region& region,
                                                  const Uuid& from_frame, const Uuid& to_frame);

// Where a record with a place (face_frame and region) lies in a frame of its own face, of whatever epoch. Nothing for
// what has no place, lies on another face, or is not joined to that frame.
[[nodiscard]] std::optional<Region> place_on_frame(const CaseSnapshot& snapshot, const Record& placed,
                                                   const Uuid& frame);

// The same for what lies on the other side: a hole marked on the back, in the millimetres of the front. Nothing for
// what lies on the frame's own face, or on an edge.
[[nodiscard]] std::optional<Region> place_from_behind(const CaseSnapshot& snapshot, const Record& placed,
                                                      const Uuid& frame);

// A photograph's placement on one frame carried over to another: the same pixels, the other millimetres. The errors of
// the joints between join its own in quadrature. Nothing where the frames are not joined.
[[nodiscard]] std::optional<Placement> carried_over(const CaseSnapshot& snapshot, const Placement& placement,
                                                    const Uuid& from_frame, const Uuid& to_frame);

// As a face_frame record says; {0, 0} where it does not.
[[nodiscard]] SizeMm size_of_frame(const Record& face_frame);

// A photograph, or a picture made from some, lies in the millimetres of a face.
[[nodiscard]] bool is_placed(const Record& picture);

// Which face is seen on a photograph, or on a picture made from photographs: what is said of the one, where the other
// is placed. Nothing where neither is known.
[[nodiscard]] std::optional<Face> face_seen(const CaseSnapshot& snapshot, const Record& picture);

// The same of the record of a photograph, or of a picture made from photographs; nothing where it is not placed.
[[nodiscard]] std::optional<Placement> placement_on_frame(const CaseSnapshot& snapshot, const Record& picture,
                                                          const Uuid& frame);

}  // namespace tedge::casebook
