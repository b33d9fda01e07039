// Work on the structure moves canvas: millimetres before and after are two frames of a face, joined by a measured map.
//
// A step that changes the support (lining, marouflage, transfer, another stretcher) opens a new frame of the recto, and
// of the verso where there was one. A frame is in force as long as its step stands and is done: taking the step back
// takes the frame back, and what was placed before lies where it lay. The first photograph that is placed on the new
// frame and laid over one of the frame before measures how the canvas moved.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/geometry/face_frame.hpp"
#include "tedge/usecases/acting.hpp"

namespace tedge::usecases {

// To half a millimetre, which is how one reads a tape: common practice.
[[nodiscard]] bool is_same_size(SizeMm a, SizeMm b);

// Whether such a structure step takes the canvas off its bars or panel, so that it lies anew: the acts lining,
// strip-lining, loose-lining, relining, marouflage, transfer and stretcher, unless only planned. A patch, a tacking
// edge or keying out moves it within its frame; a registration follows that.
[[nodiscard]] bool changes_support(const casebook::Body& structure_step);

// The frames of a face that are in force, oldest first.
[[nodiscard]] std::vector<const casebook::Record*> frames_in_force(const casebook::CaseSnapshot& snapshot, Face face);

// The newest of them; nullptr where there is none.
[[nodiscard]] const casebook::Record* current_frame(const casebook::CaseSnapshot& snapshot, Face face);

// The frame a photograph belongs to: the one it is placed on; else by when it was taken. "saleroom", "as received" and
// "before facing" belong to the oldest; others to the newest frame that began before the day the camera gives (on that
// very day: only what is called lined or later), without a day to the newest. nullptr where the face has no frame.
[[nodiscard]] const casebook::Record* frame_of_photograph(const casebook::CaseSnapshot& snapshot,
                                                          const casebook::Record& photograph);

// The frame to show a face in when this photograph (may be none) is looked at: the current one, or the photograph's own
// where nothing says yet how it lies on the current one.
[[nodiscard]] const casebook::Record* frame_to_show(const casebook::CaseSnapshot& snapshot, Face face,
                                                    const std::optional<Uuid>& photograph);

// What is to be written beside a structure step with this body so that the frames follow it: new ones after the newest
// frames older than the step, or another day for those it opened. Empty where nothing follows.
[[nodiscard]] std::vector<casebook::Edit> frames_that_follow(const casebook::CaseSnapshot& snapshot, const Uuid& step,
                                                             const casebook::Body& body, const std::string& today);

// An edit of a structure step (its record, case and kind given, also with a patch) and the frames that follow it, for
// one commit; any other edit alone. `body` is the step as it will stand.
[[nodiscard]] Expected<std::vector<casebook::Edit>> with_frames(const Acting& acting, const casebook::Edit& edit,
                                                                const casebook::Body& body);

// How a canvas moved: the map from an older frame to a newer one, measured in a photograph that is placed on both.
struct MeasuredMove {
    Placement new_from_old;  // old mm to new mm; its error_mm is that of the older placement and the fit
    double mean_mm = 0.0;    // of the way points of the face went, and the longest
    double most_mm = 0.0;
};
// Errors: geometry.no-inverse.
[[nodiscard]] Expected<MeasuredMove> measure_move(const Placement& new_from_photo, const Placement& old_from_photo,
                                                  SizeMm face);

}  // namespace tedge::usecases
