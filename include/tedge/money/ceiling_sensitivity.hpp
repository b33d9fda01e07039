// Which guess moves the ceiling most: each three-point estimate in turn set to its low and to its high value, the
// others left as they are.
#pragma once

#include <string>
#include <vector>

#include "tedge/money/ceiling.hpp"

namespace tedge::money {

struct CeilingSwing {
    std::string field;  // "outcomes[0].price", as in the plan
    std::string name;   // of the outcome, condition or cost line; may be empty
    Money at_low;       // the lowest ceiling (hammer price) with the estimate at its low value
    Money at_high;      // and at its high value

    [[nodiscard]] std::int64_t width_minor() const {
        return at_high.minor > at_low.minor ? at_high.minor - at_low.minor : at_low.minor - at_high.minor;
    }
};

// One entry for each uncertain estimate, the widest swing first, equal ones in the order of the plan; empty where the
// plan sets no limit. Each costs two solutions. Errors: those of solve_ceiling.
[[nodiscard]] Expected<std::vector<CeilingSwing>> ceiling_sensitivity(const CeilingPlan& plan,
                                                                      const CeilingOptions& options = {.draws = 8'192});

}  // namespace tedge::money
