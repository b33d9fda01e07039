#include "tedge/structure/dew_point.hpp"

#include <fmt/format.h>

#include <cmath>

#include "tedge/base/number_text.hpp"

namespace tedge::structure {

namespace {

constexpr double factor = 17.62;
constexpr double offset_c = 243.12;
constexpr double pressure_at_zero_hpa = 6.112;

}  // namespace

double saturation_vapour_pressure_hpa(double temperature_c) {
    return pressure_at_zero_hpa * std::exp(factor * temperature_c / (offset_c + temperature_c));
}

Expected<MoistAir> moist_air(double temperature_c, double relative_humidity_percent) {
    if (!(temperature_c >= -45 && temperature_c <= 60)) {
        return fail("air.bad-temperature",
                    fmt::format("{} °C lies outside -45 to 60 °C.", format_number(temperature_c)),
                    "Give the temperature of the air in °C.", {{"temperature_c", format_number(temperature_c)}});
    }
    if (!(relative_humidity_percent > 0 && relative_humidity_percent <= 100)) {
        return fail("air.bad-humidity",
                    fmt::format("{} % is not a relative humidity.", format_number(relative_humidity_percent)),
                    "Give a percentage above 0 and up to 100.",
                    {{"relative_humidity_percent", format_number(relative_humidity_percent)}});
    }
    MoistAir air;
    air.vapour_pressure_hpa = saturation_vapour_pressure_hpa(temperature_c) * relative_humidity_percent / 100;
    // The vapour pressure formula solved for the temperature at which this air is saturated.
    const double exponent =
        std::log(relative_humidity_percent / 100) + factor * temperature_c / (offset_c + temperature_c);
    air.dew_point_c = offset_c * exponent / (factor - exponent);
    air.absolute_humidity_g_m3 = 216.7 * air.vapour_pressure_hpa / (temperature_c + 273.15);
    return air;
}

}  // namespace tedge::structure
