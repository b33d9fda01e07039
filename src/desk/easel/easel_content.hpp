// What of a case lies on the easel in the millimetres of one frame: which photographs may lie in it together, which
// places are drawn over them.
#pragma once

#include <filesystem>
#include <optional>

#include "easel/easel.hpp"
#include "forms/place_row.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "tedge/geometry/face_frame.hpp"

namespace tedge::desk {

// As it lies in the millimetres of `frame` (may be none): across epochs where these are joined.
[[nodiscard]] ShownPhotograph shown_photograph(const std::filesystem::path& book_folder,
                                               const casebook::CaseSnapshot& snapshot,
                                               const casebook::Record& photograph, const casebook::Record* frame);

// Places of this face in the millimetres of `frame`, those of other epochs of the face carried over where the epochs
// are joined, and findings and inscriptions of the other side seen through, their numbers in brackets. Called as in
// place_labels.hpp.
[[nodiscard]] std::vector<Overlay> overlays_on(const casebook::CaseSnapshot& snapshot, const casebook::Record& frame);

// The same of places that were drawn for forms and are not saved yet.
[[nodiscard]] std::vector<Overlay> pending_on(const casebook::CaseSnapshot& snapshot,
                                              const std::vector<DrawnPlace>& places, const casebook::Record& frame);

// What can stand on the easel: photographs, then the pictures made from them; while a client looks not those that are
// never for a buyer.
[[nodiscard]] std::vector<const casebook::Record*> pictures_of(const casebook::CaseSnapshot& snapshot,
                                                               bool client_looks);

// Why two photographs cannot be compared yet, in a sentence; empty where they can.
[[nodiscard]] QString why_not_comparable(const casebook::CaseSnapshot& snapshot, const std::optional<Uuid>& first,
                                         const std::optional<Uuid>& second);

}  // namespace tedge::desk
