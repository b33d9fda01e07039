#include "tedge/cleaning/exposure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cleaning {

namespace {

constexpr double litres_per_mol = 24.05526;  // ideal gas, 20 °C, 101.325 kPa

// Our own rule of thumb: radius of the half sphere around the swab, speed of the air.
struct NearFieldAir {
    double radius_m;
    double speed_m_per_s;

    [[nodiscard]] double exchange_m3_per_h() const {
        return 0.5 * 2 * std::numbers::pi * radius_m * radius_m * speed_m_per_s * 3600;
    }
};

constexpr NearFieldAir moving_air{0.5, 0.25};
constexpr NearFieldAir still_air{0.3, 0.05};

constexpr const char* near_field_words =
    "Near the swab more gathers than in the room: steady two-zone model (Nicas 1996, from memory) for a half sphere of "
    "0.5 m in "
    "air moving at 0.25 m/s (low) and of 0.3 m at 0.05 m/s (high). Radii and speeds are our own rule of thumb.";

Expected<double> airflow_m3_per_h(const ExposureQuestion& question) {
    // No bench, hall or fan goes beyond, and within nothing overflows. Written so that "not a number" is refused too.
    constexpr double most = 1e9;
    const auto believable = [](double value) { return value > 0 && value <= most; };
    if (!believable(question.evaporated_ml_per_hour)) {
        return fail("exposure.bad-volume", "The evaporated volume must be above 0 ml an hour and believable.",
                    "Give what is used up in an hour.");
    }
    if (!believable(question.room_m3)) {
        return fail("exposure.bad-room", "The room must have a believable volume above 0 m³.",
                    "Give length × width × height in metres.");
    }
    if (!believable(question.air_changes_per_hour)) {
        return fail("exposure.no-ventilation", "Without a change of air the vapour has no steady level.",
                    "Give the air changes an hour, or do not work there with solvents.");
    }
    return question.room_m3 * question.air_changes_per_hour;
}

// The 8-hour limit, else the one for 15 minutes.
void set_limit(SubstanceExposure& exposure) {
    const ExposureLimit& limit = exposure.solvent->hazards.limit;
    exposure.limit_ppm = limit.ppm_8h ? limit.ppm_8h : limit.ppm_15min;
    if (!exposure.limit_ppm) return;
    exposure.limit_name = limit.ppm_8h ? "8-hour limit" : "15-minute limit";
    exposure.share_of_limit = exposure.ppm / *exposure.limit_ppm;
}

Expected<SubstanceExposure> exposure_to(const Component& component, double ml_per_hour, double airflow) {
    const Hazards& hazards = component.solvent->hazards;
    if (!hazards.density_g_ml || !hazards.molar_mass_g_mol) {
        return fail("exposure.no-density",
                    fmt::format("No density and molar mass are at hand for {}.", short_name(*component.solvent)),
                    "Reckon this one by its safety data sheet.", {{"solvent", component.solvent->name}});
    }
    SubstanceExposure exposure;
    exposure.solvent = component.solvent;
    const double mg_per_hour = ml_per_hour * component.percent / 100 * *hazards.density_g_ml * 1000;
    exposure.mg_m3 = mg_per_hour / airflow;
    exposure.ppm = exposure.mg_m3 * litres_per_mol / *hazards.molar_mass_g_mol;
    set_limit(exposure);
    return exposure;
}

void add_up(ExposureReport& report) {
    bool all_limited = !report.substances.empty();
    double share = 0;
    for (const SubstanceExposure& substance : report.substances) {
        report.mg_m3 += substance.mg_m3;
        report.ppm += substance.ppm;
        all_limited = all_limited && substance.share_of_limit.has_value();
        share += substance.share_of_limit.value_or(0);
    }
    if (all_limited) report.share_of_limit = share;
}

// G/Q + G/β is the room average times 1 + Q/β.
LowHigh near_to_room(double airflow) {
    return {1 + airflow / moving_air.exchange_m3_per_h(), 1 + airflow / still_air.exchange_m3_per_h()};
}

void set_near_field(ExposureReport& report, const LowHigh& times) {
    report.near_field_ppm = {report.ppm * times.low, report.ppm * times.high};
    if (report.share_of_limit) {
        report.near_field_share = {*report.share_of_limit * times.low, *report.share_of_limit * times.high};
    }
    report.near_field_assumption = near_field_words;
}

void warn_about_limits(ExposureReport& report) {
    std::vector<std::string> without;
    std::vector<std::string> short_term_only;
    for (const SubstanceExposure& substance : report.substances) {
        const std::string name = short_name(*substance.solvent);
        if (!substance.limit_ppm) without.push_back(name);
        if (substance.limit_name == "15-minute limit") short_term_only.push_back(name);
    }
    if (!without.empty()) {
        report.warnings.push_back(
            {"exposure.no-limit", fmt::format("No limit is known here for {}; that is not a sign that it is harmless.",
                                              join(without, ", "))});
    }
    if (!short_term_only.empty()) {
        report.warnings.push_back({"exposure.short-term-limit",
                                   fmt::format("{}: only a 15-minute limit is known; the share is reckoned against it.",
                                               join(short_term_only, ", "))});
    }
}

// The shares of those with a known limit: a component without one adds to them, it never takes away. `near_to_room` is
// how many times the room average the air at the swab may hold.
void warn_about_excess(ExposureReport& report, double near_to_room) {
    double share = 0;
    for (const SubstanceExposure& substance : report.substances) share += substance.share_of_limit.value_or(0);
    const char* at_least = report.share_of_limit ? "" : "at least ";
    if (share > 1) {
        report.warnings.push_back({"exposure.above-limit", fmt::format("The room average is {}{} times the limit.",
                                                                       at_least, format_fixed(share, 1))});
    } else if (share * near_to_room > 1) {
        report.warnings.push_back({"exposure.near-field-above-limit",
                                   fmt::format("At the swab the air may reach {}{} times the limit: extract it at the "
                                               "source.",
                                               at_least, format_fixed(share * near_to_room, 1))});
    }
}

void warn_about_the_estimate(ExposureReport& report) {
    for (const SubstanceExposure& substance : report.substances) {
        const Hazards& hazards = substance.solvent->hazards;
        const std::string name = short_name(*substance.solvent);
        if (hazards.saturated_ppm && substance.ppm > *hazards.saturated_ppm) {
            report.warnings.push_back({"exposure.beyond-saturation",
                                       fmt::format("So much {} cannot evaporate: air at 20 °C takes up to {} ppm.",
                                                   name, format_number(*hazards.saturated_ppm))});
        }
        if (hazards.blend) {
            report.warnings.push_back(
                {"exposure.blend", fmt::format("{} is a blend: density and molar mass are those of a typical one, "
                                               "from memory.",
                                               name)});
        }
    }
    if (report.substances.size() > 1) {
        report.warnings.push_back(
            {"exposure.added-up",
             "Shares of the limits are added as for substances that act alike; all are taken to evaporate in "
             "the proportion of the mixture."});
    }
    report.warnings.push_back({"exposure.near-field", near_field_words});
    report.warnings.push_back(
        {"exposure.limits-source",
         "Limits are those of Great Britain, EH40/2005, 4th edition 2020, from a public transcription; your "
         "country's may be lower. A measurement outweighs this estimate."});
}

void pass_on_hazards(ExposureReport& report, const Mixture& agent) {
    for (Warning& warning : warnings_for(agent)) {
        if (warning.code.starts_with("hazard.")) report.warnings.push_back(std::move(warning));
    }
}

}  // namespace

Expected<ExposureReport> estimate_exposure(const ExposureQuestion& question) {
    const auto airflow = airflow_m3_per_h(question);
    if (!airflow) return pass_on(airflow);
    ExposureReport report;
    for (const Component& component : question.agent) {
        if (component.solvent->group == SolventGroup::water) continue;
        auto exposure = exposure_to(component, question.evaporated_ml_per_hour, *airflow);
        if (!exposure) return pass_on(exposure);
        report.substances.push_back(std::move(*exposure));
    }
    add_up(report);
    const LowHigh near_field = near_to_room(*airflow);
    set_near_field(report, near_field);
    warn_about_limits(report);
    warn_about_excess(report, near_field.high);
    warn_about_the_estimate(report);
    pass_on_hazards(report, question.agent);
    return report;
}

}  // namespace tedge::cleaning
