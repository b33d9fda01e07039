#include "tedge/structure/dew_point.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "in_locale.hpp"

using namespace tedge::structure;

TEST_CASE("Saturation vapour pressure agrees with the steam tables") {
    // Vapour pressure of water, CRC Handbook of Chemistry and Physics / IAPWS, in hPa; from memory.
    struct Check {
        double temperature_c, pressure_hpa;
    };
    for (const Check& check : {Check{0, 6.1117}, Check{10, 12.281}, Check{20, 23.388}, Check{25, 31.690},
                               Check{30, 42.455}, Check{40, 73.814}, Check{60, 199.32}}) {
        INFO(check.temperature_c);
        CHECK(saturation_vapour_pressure_hpa(check.temperature_c) == Approx(check.pressure_hpa).epsilon(0.004));
    }
}

TEST_CASE("Dew points of usual rooms") {
    // Worked with the WMO formula by hand.
    CHECK(moist_air(20, 50)->dew_point_c == Approx(9.26).margin(0.005));
    CHECK(moist_air(20, 60)->dew_point_c == Approx(12.00).margin(0.005));
    CHECK(moist_air(18, 55)->dew_point_c == Approx(8.82).margin(0.005));
    CHECK(moist_air(25, 40)->dew_point_c == Approx(10.46).margin(0.005));
}

TEST_CASE("The dew point is where the same vapour saturates") {
    for (double temperature_c = -40; temperature_c <= 60; temperature_c += 7) {
        for (double humidity = 1; humidity <= 100; humidity += 11) {
            const auto air = moist_air(temperature_c, humidity);
            REQUIRE(air.has_value());
            CHECK(saturation_vapour_pressure_hpa(air->dew_point_c) == Approx(air->vapour_pressure_hpa));
            CHECK(air->dew_point_c <= temperature_c + 1e-9);
        }
    }
    CHECK(moist_air(20, 100)->dew_point_c == Approx(20));
}

TEST_CASE("Saturated air holds what the psychrometric tables say") {
    // Density of saturated steam, g/m³ (steam tables, from memory); the formula for moist air lies within 0.6 %.
    CHECK(moist_air(0, 100)->absolute_humidity_g_m3 == Approx(4.85).epsilon(0.006));
    CHECK(moist_air(10, 100)->absolute_humidity_g_m3 == Approx(9.40).epsilon(0.006));
    CHECK(moist_air(20, 100)->absolute_humidity_g_m3 == Approx(17.30).epsilon(0.006));
    CHECK(moist_air(25, 100)->absolute_humidity_g_m3 == Approx(23.05).epsilon(0.006));
    CHECK(moist_air(30, 100)->absolute_humidity_g_m3 == Approx(30.40).epsilon(0.006));
}

TEST_CASE("Air that cannot be is refused") {
    CHECK(moist_air(20, 0).error().code == "air.bad-humidity");
    CHECK(moist_air(20, 100.5).error().code == "air.bad-humidity");
    CHECK(moist_air(20, std::nan("")).error().code == "air.bad-humidity");
    CHECK(moist_air(61, 50).error().code == "air.bad-temperature");
    CHECK(moist_air(std::nan(""), 50).error().code == "air.bad-temperature");
}

TEST_CASE("What it says of numbers does not depend on the locale") {
    const char* name = GENERATE("de_DE.UTF-8", "tr_TR.UTF-8");
    const tedge::InLocale in_locale(name);
    CHECK(moist_air(20, 100.5).error().message == "100.5 % is not a relative humidity.");
}
