// How far a solvent lies from the sphere of a material in Hansen space.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/cleaning/solvents.hpp"

namespace tedge::cleaning {

// A material with the centre of its sphere and its radius R0, in MPa^½. Natural resins and dried oil are in the table
// without figures: none could be found, and none are made up.
struct HansenSphere {
    std::string material;
    std::optional<HansenParameters> centre;
    std::optional<double> radius;
    std::string source;
    std::string status;
};

[[nodiscard]] const std::vector<HansenSphere>& hansen_spheres();
[[nodiscard]] const HansenSphere* find_sphere(std::string_view material);  // exact name; none: nullptr

// Ra² = 4 (ΔdD)² + (ΔdP)² + (ΔdH)² (C. M. Hansen, Hansen Solubility Parameters, 2nd ed. 2007, ch. 1).
[[nodiscard]] double hansen_distance(const HansenParameters& one, const HansenParameters& other);

// RED = Ra / R0: below 1 likely to dissolve, above 1 not. None where the sphere has no figures.
[[nodiscard]] std::optional<double> relative_energy_difference(const HansenParameters& solvent,
                                                               const HansenSphere& sphere);

}  // namespace tedge::cleaning
