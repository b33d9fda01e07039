// Solvent mixtures by volume: what stands in them, where they lie among solubility parameters, what to beware of.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/cleaning/solvents.hpp"

namespace tedge::cleaning {

struct Component {
    const Solvent* solvent = nullptr;  // into solvents(); never null in a mixture that was read
    double percent = 0;                // by volume
};

using Mixture = std::vector<Component>;

// Reads "ethanol 20, isooctane 80": percent by volume, "%" allowed, in any order; names that hold commas are understood
// ("1,4-dioxane 30, water 70"). The shares must total 100 within 0.01.
// Errors: mixture.empty, mixture.no-share ("ethanol, water 80"), mixture.bad-share (nought or less, beyond 100),
// mixture.named-twice, mixture.not-100 (values: total), solvent.unknown.
[[nodiscard]] Expected<Mixture> parse_mixture(std::string_view text);

// "ethanol 20, isooctane 80"
[[nodiscard]] std::string to_text(const Mixture& mixture);

// A caution with its code ("mixture.may-separate") and one or two English sentences.
struct Warning {
    std::string code;
    std::string text;
};

struct MixtureFigures {
    TeasParameters teas;                     // average by volume of the published values
    std::optional<HansenParameters> hansen;  // the same; none when a component has no published value
    std::vector<Warning> warnings;
};

// Averages by volume fraction, the usual rule for both sets (Burke 1984; C. M. Hansen, Hansen Solubility Parameters,
// 2nd ed. 2007). A component without published Hansen parameters leaves the Hansen average out: nothing is put in its
// place.
[[nodiscard]] MixtureFigures figures_of(const Mixture& mixture);

[[nodiscard]] TeasParameters average_teas(const Mixture& mixture);
[[nodiscard]] std::optional<HansenParameters> average_hansen(const Mixture& mixture);

// Phases, sureness of the figures, health, fire, local rules; in this order. Short, and no verdict that anything is
// safe.
[[nodiscard]] std::vector<Warning> warnings_for(const Mixture& mixture);

}  // namespace tedge::cleaning
