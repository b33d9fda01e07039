// Test series of mixtures that the trade uses, mildest first, each step with the fd that was published for it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/cleaning/mixture.hpp"

namespace tedge::cleaning {

struct SeriesStep {
    std::string code;  // "F5", "LA3"
    Mixture mixture;
    TeasParameters teas;                 // computed by volume, with the series' own values where it has any
    std::optional<double> published_fd;  // rounded as printed; none where no table was found
    std::string source;
    std::string status;
};

struct TestSeries {
    std::string id;    // "feller", "ligroin-acetone", "ligroin-ethanol", "acetone-ethanol", "isooctane-ethanol",
                       // "isooctane-isopropanol", "lomax-fisher"
    std::string name;  // with what to know: the Feller series reckons cyclohexane at fd 96, the general table at 94
    std::vector<SeriesStep> steps;
};

[[nodiscard]] const std::vector<TestSeries>& test_series();
[[nodiscard]] const TestSeries* find_series(std::string_view id);  // none: nullptr

}  // namespace tedge::cleaning
