// Moisture of air: dew point and absolute humidity, for hot tables, moisture chambers and pictures on cold walls.
#pragma once

#include "tedge/base/error.hpp"

namespace tedge::structure {

// Saturation vapour pressure over water, hPa: es = 6.112 exp(17.62 t / (243.12 + t)), t in °C.
// World Meteorological Organization, Guide to Meteorological Instruments and Methods of Observation (WMO-No. 8), annex
// on humidity; good to a few tenths of a percent from -45 to 60 °C.
[[nodiscard]] double saturation_vapour_pressure_hpa(double temperature_c);

struct MoistAir {
    double dew_point_c = 0;
    double absolute_humidity_g_m3 = 0;  // 216.7 e / (t + 273.15), e in hPa: ideal gas of water, M 18.015 g/mol
    double vapour_pressure_hpa = 0;
};

// Relative humidity over water, in percent. Errors: air.bad-humidity (not above 0 up to 100), air.bad-temperature
// (outside -45 to 60 °C).
[[nodiscard]] Expected<MoistAir> moist_air(double temperature_c, double relative_humidity_percent);

}  // namespace tedge::structure
