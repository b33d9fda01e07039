// A size that was typed wrongly is put right: the millimetres of a face follow, and all that lies on it with them.
//
// Where a photograph is placed, places were drawn on it, and their millimetres were made with the size of then: what
// lay at the right edge lies at the right edge, so each is stretched with its face. On a face without a placed
// photograph they were measured with a rule and stay as they are. A face that really became another size (cut,
// extended) is a new epoch instead (epochs.hpp).
#pragma once

#include <vector>

#include "tedge/usecases/acting.hpp"

namespace tedge::usecases {

// What is to be written beside a change of a record that stands as `before` and will say `after`: for a face_frame,
// what lies on it, the joints with the epochs beside it, and the digests of the placements that registrations were made
// over; for the picture, the same for the recto and verso frames that have the size which the picture had (to 0.5 mm).
// Empty where no size changes. Measured values (areas, counts) stay as they were measured then. Errors:
// geometry.no-inverse, geometry.bad-lattice (a placement that cannot be stretched).
[[nodiscard]] Expected<std::vector<casebook::Edit>> edits_of_new_size(const casebook::CaseSnapshot& snapshot,
                                                                      const casebook::Record& before,
                                                                      const casebook::Body& after);

// A change or a settlement of a record that stands as `before` and will say `after`, and all that goes along with it,
// for one commit: the frames that a step on the structure opens (with_frames), or what a new size takes along. The
// person's own edit comes first. Errors: as above, and those of with_frames.
[[nodiscard]] Expected<std::vector<casebook::Edit>> with_what_follows(const Acting& acting, const casebook::Edit& edit,
                                                                      const casebook::Record& before,
                                                                      const casebook::Body& after);

}  // namespace tedge::usecases
