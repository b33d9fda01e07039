// How much vapour a room and a restorer get from solvent that evaporates: an estimate for planning, no measurement.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/cleaning/mixture.hpp"

namespace tedge::cleaning {

struct ExposureQuestion {
    Mixture agent;
    double evaporated_ml_per_hour = 0;
    double room_m3 = 0;
    double air_changes_per_hour = 0;
};

struct SubstanceExposure {
    const Solvent* solvent = nullptr;
    double mg_m3 = 0;  // room average
    double ppm = 0;
    std::optional<double> limit_ppm;       // what share_of_limit is reckoned against
    std::string limit_name;                // "8-hour limit", "15-minute limit" where there is no other
    std::optional<double> share_of_limit;  // none where no limit is known
};

struct LowHigh {
    double low = 0;
    double high = 0;
};

struct ExposureReport {
    double mg_m3 = 0;  // room average of everything but water, in a steady state
    double ppm = 0;
    std::optional<double> share_of_limit;  // added over the substances; none where one of them has no known limit
    LowHigh near_field_ppm;                // at the swab
    std::optional<LowHigh> near_field_share;
    std::vector<SubstanceExposure> substances;
    std::string near_field_assumption;  // in words, with source
    std::vector<Warning> warnings;
};

// Room: C = G / Q, Q = air changes × volume, in a steady state: it does not depend on how long one works. Ideal mixing;
// ppm = mg/m³ × 24.055 / molar mass at 20 °C and 101.325 kPa.
// Near field: C = G/Q + G/β, the steady state of the two-zone model (M. Nicas, AIHA J. 57 (1996) 542-550, from memory;
// the equation read in an open implementation of the model), β = ½ · 2πr² · s for a half sphere of radius r around the
// swab and air that moves at s. low: r 0.5 m, s 0.25 m/s; high: r 0.3 m, s 0.05 m/s: our own rule of thumb for a face
// near a swab in a room without draught.
// Limits: EH40/2005, 4th edition 2020 (Great Britain). Shares add up as for substances that act alike (EH40, mixed
// exposures). Worked check in tests: 20 ml/h, 60 m³, 3 air changes.
// Errors: exposure.bad-volume, exposure.bad-room, exposure.no-ventilation, exposure.no-density (a solvent without
// published density or molar mass; values: solvent).
[[nodiscard]] Expected<ExposureReport> estimate_exposure(const ExposureQuestion& question);

}  // namespace tedge::cleaning
