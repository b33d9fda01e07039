// The frame a photograph is placed on, made where its face has none yet.
#pragma once

#include <optional>

#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

struct FrameOfFace {
    Uuid id;
    SizeMm size;
    std::optional<Done> made;
    const casebook::Record* older = nullptr;  // set where this frame begins a later epoch
};

// `older` points into the snapshot. Errors: those of place_by_corners about frames.
[[nodiscard]] Expected<FrameOfFace> frame_for(const Acting& acting, const casebook::CaseSnapshot& snapshot,
                                              const casebook::Record& photograph, Face face, const FrameWanted& wanted);

}  // namespace tedge::usecases
