// How two photographs hang together by registrations.
#pragma once

#include <optional>
#include <vector>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::usecases {

// One photograph laid over another: the registration that its placement names, its reference lying where it lay then.
struct Joint {
    const casebook::Record* registration = nullptr;
    const casebook::Record* reference = nullptr;
    double own_mm2 = 0.0;  // what it added to the error of its reference, squared
};

// From either photograph up to the one on which both hang (which may be one of the two), by the least error; pointers
// into the snapshot. Nothing where no registrations join them.
[[nodiscard]] std::optional<std::vector<Joint>> joints_between(const casebook::CaseSnapshot& snapshot,
                                                               const casebook::Record& first,
                                                               const casebook::Record& second);

// One standard deviation of where two photographs so joined lie on each other: what they share (the corners that the
// one on which both hang was placed by) goes out.
[[nodiscard]] double error_mm(const std::vector<Joint>& joints);

}  // namespace tedge::usecases
