#include "tolerance_fields.hpp"

namespace tedge::cli {

using nlohmann::json;

json tolerance_fields(const std::vector<imaging::ToleranceLine>& lines) {
    json out = json::array();
    for (const imaging::ToleranceLine& line : lines)
        out.push_back({{"guideline", line.guideline},
                       {"parameter", line.parameter},
                       {"measured", line.measured},
                       {"unit", line.unit},
                       {"level", line.level ? json(*line.level) : json(nullptr)},
                       {"limit", line.limit},
                       {"sentence", line.sentence},
                       {"source", line.source},
                       {"status", line.status}});
    return out;
}

}  // namespace tedge::cli
