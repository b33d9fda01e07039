// The solvents known here, with their published parameters and hazards, each figure with its source and how sure it is.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::cleaning {

// Fractional solubility parameters after Teas, in percent: dispersion, polar, hydrogen bonding. They sum to about 100.
// J. P. Teas, J. Paint Technol. 40 (1968) 19-25; J. Burke, Book & Paper Group Annual 3 (1984) 13-58.
struct TeasParameters {
    double fd = 0;
    double fp = 0;
    double fh = 0;
};

// Hansen solubility parameters in MPa^½: dispersion, polar, hydrogen bonding.
struct HansenParameters {
    double dD = 0;
    double dP = 0;
    double dH = 0;
};

template <class Value>
struct Published {
    Value value;
    std::string source;
    std::string status;  // "from memory, …", "computed …", "read in open data"

    [[nodiscard]] bool from_memory() const { return status.contains("memory") || status.contains("recalled"); }
    [[nodiscard]] bool computed() const { return status.starts_with("computed"); }
};

// fd = 100 dD / (dD + dP + dH), and so on. Not the same as published Teas values, which were adjusted by hand (benzene
// by 12): a set is never put in the place of the other without being named.
[[nodiscard]] TeasParameters teas_from_hansen(const HansenParameters& hansen);

// What matters for phases: which group it belongs to and how it stands with water. From memory, marked so in the table.
enum class SolventGroup { alcohol, hydrocarbon, aromatic, water, polar, other };

// Workplace exposure limits of Great Britain (EH40/2005, 4th edition 2020). Other countries differ.
struct ExposureLimit {
    std::optional<double> ppm_8h;
    std::optional<double> mg_m3_8h;
    std::optional<double> ppm_15min;
    std::optional<double> mg_m3_15min;
    std::string status;
};

struct Hazards {
    std::optional<double> molar_mass_g_mol;  // the middle where a blend has a range
    std::optional<double> density_g_ml;      // at 20 °C
    std::optional<double> saturated_ppm;     // vapour over the liquid at 20 °C
    std::optional<double> flash_point_c;     // the lowest where a range is given
    std::string flash_point_text;            // as published: "12", "<-10", "38-42 (low-flash grades 21-30)"
    bool flash_point_from_memory = false;
    ExposureLimit limit;
    bool skin_notation = false;  // taken up through the skin; from memory
    std::string health_notes;    // classification, with how sure it is
    bool blend = false;          // a petroleum cut or an oil: figures are for a typical one
};

struct Solvent {
    std::string name;  // as in the table of Teas parameters
    std::string cas;
    std::vector<std::string> other_names;
    SolventGroup group = SolventGroup::other;
    bool mixes_with_water = false;
    Published<TeasParameters> teas;
    std::optional<Published<HansenParameters>> hansen;
    Hazards hazards;
};

// In the order of the table. The pointers handed out below point into this list and stay good.
[[nodiscard]] const std::vector<Solvent>& solvents();

// By any of its names, letters of either case, outer blanks ignored. Errors: solvent.unknown; the sentence offers near
// names, values hold "name" and "near" (separated by "; ").
[[nodiscard]] Expected<const Solvent*> find_solvent(std::string_view name);

// "isooctane" for "isooctane (2,2,4-trimethylpentane)": how sentences name it.
[[nodiscard]] std::string short_name(const Solvent& solvent);

}  // namespace tedge::cleaning
