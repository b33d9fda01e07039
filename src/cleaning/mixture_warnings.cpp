// What a mixture's figures do not say.
#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/cleaning/mixture.hpp"

namespace tedge::cleaning {

namespace {

// Regulation (EC) 1272/2008 (CLP), Annex I 2.6: liquids with a flash point up to 60 °C are classed as flammable.
constexpr double flammable_up_to_c = 60;

template <class Condition>
std::vector<std::string> names_where(const Mixture& mixture, Condition holds) {
    std::vector<std::string> names;
    for (const Component& component : mixture) {
        if (holds(*component.solvent)) names.push_back(short_name(*component.solvent));
    }
    return names;
}

std::vector<std::string> names_in(const Mixture& mixture, SolventGroup group) {
    return names_where(mixture, [&](const Solvent& s) { return s.group == group; });
}

// Alcohol, hydrocarbon and a little water: J. Hook, JAIC 27:2 (1988) 100-104.
void warn_of_hydrocarbon_phases(const Mixture& mixture, std::vector<Warning>& warnings) {
    const auto alcohols = names_in(mixture, SolventGroup::alcohol);
    const auto hydrocarbons = names_in(mixture, SolventGroup::hydrocarbon);
    const bool water = !names_in(mixture, SolventGroup::water).empty();
    if (alcohols.empty() || hydrocarbons.empty()) return;
    if (water) {
        warnings.push_back(
            {"mixture.separates",
             fmt::format("{} and {} part into two layers when water is there: ethanol 20, white spirit 78, "
                         "water 2 (nominal fd 78) worked through droplets of fd 40 (Hook 1988). The figures "
                         "above do not describe such a mixture.",
                         join(alcohols, ", "), join(hydrocarbons, ", "))});
        return;
    }
    warnings.push_back(
        {"mixture.may-separate",
         fmt::format("{} with {} may part into two layers with about 1 % of water in the whole, as an alcohol "
                     "that is not anhydrous brings in; the droplets then act far more strongly than the figures "
                     "say (Hook 1988). Use anhydrous alcohol, look for cloudiness, shake before use.",
                     join(alcohols, ", "), join(hydrocarbons, ", "))});
}

void warn_of_other_phases(const Mixture& mixture, std::vector<Warning>& warnings) {
    const bool water = !names_in(mixture, SolventGroup::water).empty();
    const auto limited = names_where(mixture, [](const Solvent& s) { return !s.mixes_with_water; });
    const bool told_already = !warnings.empty() && warnings.front().code == "mixture.separates";
    if (water && !limited.empty() && !told_already) {
        warnings.push_back(
            {"mixture.water-limited",
             fmt::format("Water mixes with {} only within limits (from memory): the mixture may part into layers.",
                         join(limited, ", "))});
    }
    auto polar = names_in(mixture, SolventGroup::polar);
    for (const std::string& name : names_where(mixture, [](const Solvent& s) { return s.name == "methanol"; })) {
        polar.push_back(name);
    }
    const auto hydrocarbons = names_in(mixture, SolventGroup::hydrocarbon);
    if (!polar.empty() && !hydrocarbons.empty()) {
        warnings.push_back(
            {"mixture.polar-limited", fmt::format("{} and {} mix only in part (from memory): look for layers.",
                                                  join(polar, ", "), join(hydrocarbons, ", "))});
    }
}

void say_how_sure(const Mixture& mixture, std::vector<Warning>& warnings) {
    const auto recalled = names_where(mixture, [](const Solvent& s) { return s.teas.from_memory(); });
    if (!recalled.empty()) {
        warnings.push_back(
            {"mixture.from-memory",
             fmt::format("Teas parameters of {} are given from memory of the printed table; check them there.",
                         join(recalled, ", "))});
    }
    const auto computed = names_where(mixture, [](const Solvent& s) { return s.teas.computed(); });
    if (!computed.empty()) {
        warnings.push_back(
            {"mixture.computed-teas",
             fmt::format("No Teas parameters were found in print for {}; theirs are computed from Hansen "
                         "parameters.",
                         join(computed, ", "))});
    }
    const auto disputed =
        names_where(mixture, [](const Solvent& s) { return s.hansen && s.hansen->status.contains("differ"); });
    if (!disputed.empty()) {
        warnings.push_back(
            {"mixture.hansen-differs",
             fmt::format("Open data sets do not agree on the Hansen parameters of {}; those used are of one of them.",
                         join(disputed, ", "))});
    }
    const auto missing = names_where(mixture, [](const Solvent& s) { return !s.hansen; });
    if (!missing.empty()) {
        warnings.push_back(
            {"mixture.no-hansen", fmt::format("No Hansen parameters were found for {}; the Hansen average is left out.",
                                              join(missing, ", "))});
    }
}

bool may_harm_for_long(std::string_view notes) {
    return notes.contains("Carc.") || notes.contains("Muta.") || notes.contains("Repr.");
}

void warn_of_health(const Mixture& mixture, std::vector<Warning>& warnings) {
    for (const Component& component : mixture) {
        const Hazards& hazards = component.solvent->hazards;
        if (hazards.health_notes.empty()) continue;
        const char* code = may_harm_for_long(hazards.health_notes) ? "hazard.cancer-or-reproduction" : "hazard.health";
        warnings.push_back({code, fmt::format("{}: {}.", short_name(*component.solvent), hazards.health_notes)});
    }
    const auto skin = names_where(mixture, [](const Solvent& s) { return s.hazards.skin_notation; });
    if (!skin.empty()) {
        warnings.push_back(
            {"hazard.skin", fmt::format("Taken up through the skin (from memory): {}. Wear gloves that are proof "
                                        "against it.",
                                        join(skin, ", "))});
    }
}

void warn_of_fire(const Mixture& mixture, std::vector<Warning>& warnings) {
    std::vector<std::string> flammable;
    for (const Component& component : mixture) {
        const Hazards& hazards = component.solvent->hazards;
        if (hazards.flash_point_c && *hazards.flash_point_c <= flammable_up_to_c) {
            flammable.push_back(fmt::format("{} (flash point {} °C{})", short_name(*component.solvent),
                                            hazards.flash_point_text,
                                            hazards.flash_point_from_memory ? ", from memory" : ""));
        }
    }
    if (!flammable.empty()) {
        warnings.push_back(
            {"hazard.flammable", fmt::format("Flammable: {}. No flame, sparks or hot lamps; swabs into a closed "
                                             "metal bin.",
                                             join(flammable, ", "))});
    }
}

}  // namespace

std::vector<Warning> warnings_for(const Mixture& mixture) {
    std::vector<Warning> warnings;
    warn_of_hydrocarbon_phases(mixture, warnings);
    warn_of_other_phases(mixture, warnings);
    say_how_sure(mixture, warnings);
    warn_of_health(mixture, warnings);
    warn_of_fire(mixture, warnings);
    warnings.push_back(
        {"hazard.local-codes",
         "Read the safety data sheets; exposure limits, permitted solvents and waste rules are local, and "
         "treatment belongs in trained hands."});
    return warnings;
}

}  // namespace tedge::cleaning
