#include "tedge/cleaning/exposure.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace tedge;
using namespace tedge::cleaning;

namespace {

ExposureReport exposure(const char* agent, double ml_per_hour = 20, double room_m3 = 60, double air_changes = 3) {
    const auto report = estimate_exposure({parse_mixture(agent).value(), ml_per_hour, room_m3, air_changes});
    INFO(agent);
    REQUIRE(report.has_value());
    return *report;
}

bool warns(const ExposureReport& report, const char* code) {
    return std::ranges::any_of(report.warnings, [&](const Warning& w) { return w.code == code; });
}

}  // namespace

TEST_CASE("Room averages of the worked example: 20 ml an hour, 60 m³, 3 air changes") {
    // Worked by hand, no published example: C = G/Q; limits EH40/2005, 4th edition (acetone 500 ppm, toluene 50,
    // dichloromethane 100, chloroform 2, ethanol 1000).
    struct Check {
        const char* agent;
        double ppm, share, share_margin;
    };
    for (const Check& check : {Check{"acetone 100", 36, 0.07, 0.005}, Check{"toluene 100", 25, 0.50, 0.006},
                               Check{"dichloromethane 100", 42, 0.42, 0.005}, Check{"chloroform 100", 33, 16.7, 0.05},
                               Check{"ethanol 100", 46, 0.05, 0.005}}) {
        INFO(check.agent);
        const ExposureReport report = exposure(check.agent);
        CHECK(report.ppm == Approx(check.ppm).margin(0.51));
        CHECK(report.share_of_limit.value() == Approx(check.share).margin(check.share_margin));
    }
    CHECK(exposure("acetone 100").mg_m3 == Approx(88).margin(0.5));
}

TEST_CASE("The steady level falls with the air and not with the time or shape of the room") {
    const double one = exposure("acetone 100", 20, 60, 3).ppm;
    CHECK(exposure("acetone 100", 20, 30, 6).ppm == Approx(one));
    CHECK(exposure("acetone 100", 20, 60, 6).ppm == Approx(one / 2));
    CHECK(exposure("acetone 100", 40, 60, 3).ppm == Approx(one * 2));
}

TEST_CASE("Near the swab there is more than in the room") {
    const ExposureReport report = exposure("acetone 100");
    CHECK(report.near_field_ppm.low > report.ppm);
    CHECK(report.near_field_ppm.high > report.near_field_ppm.low);
    // By hand: β = ½ · 2π · 0.5² · 0.25 · 3600 = 706.86 m³/h; G/β = 15,834 / 706.86 = 22.4 mg/m³ = 9.3 ppm above the
    // room.
    CHECK(report.near_field_ppm.low - report.ppm == Approx(9.28).margin(0.02));
    // β = ½ · 2π · 0.3² · 0.05 · 3600 = 50.89 m³/h.
    CHECK(report.near_field_ppm.high - report.ppm == Approx(128.9).margin(0.2));
    CHECK(report.near_field_assumption.find("our own rule of thumb") != std::string::npos);
    CHECK(warns(report, "exposure.near-field"));
    // Better ventilation of the room hardly helps at the swab.
    const ExposureReport airy = exposure("acetone 100", 20, 60, 300);
    CHECK(airy.near_field_ppm.high - airy.ppm == Approx(128.9).margin(0.2));
}

TEST_CASE("Substances of a mixture add up by their shares of the limits") {
    const ExposureReport mixed = exposure("acetone 50, toluene 50");
    const double acetone = exposure("acetone 100").share_of_limit.value();
    const double toluene = exposure("toluene 100").share_of_limit.value();
    CHECK(mixed.share_of_limit.value() == Approx((acetone + toluene) / 2));
    CHECK(mixed.substances.size() == 2);
    CHECK(warns(mixed, "exposure.added-up"));
    const ExposureReport watered = exposure("acetone 50, water 50");
    CHECK(watered.substances.size() == 1);
    CHECK(watered.share_of_limit.value() == Approx(acetone / 2));
}

TEST_CASE("Where no limit is known there is no share, and it is said") {
    const ExposureReport report = exposure("isooctane 100");
    CHECK_FALSE(report.share_of_limit.has_value());
    CHECK_FALSE(report.near_field_share.has_value());
    CHECK(warns(report, "exposure.no-limit"));
    CHECK_FALSE(exposure("isooctane 50, acetone 50").share_of_limit.has_value());
    CHECK(warns(exposure("white spirit 100"), "exposure.blend"));
    const ExposureReport butanol = exposure("n-butanol 100");
    CHECK(butanol.substances[0].limit_ppm == 50);
    CHECK(warns(butanol, "exposure.short-term-limit"));
}

TEST_CASE("Too much is said, and what cannot be") {
    CHECK(warns(exposure("chloroform 100"), "exposure.above-limit"));
    CHECK(warns(exposure("toluene 100"), "exposure.near-field-above-limit"));
    CHECK_FALSE(warns(exposure("ethanol 100"), "exposure.above-limit"));
    CHECK(warns(exposure("benzyl alcohol 100", 500, 30, 0.5), "exposure.beyond-saturation"));
    CHECK(warns(exposure("acetone 100"), "hazard.flammable"));
    CHECK(warns(exposure("acetone 100"), "hazard.local-codes"));
}

TEST_CASE("A component without a known limit does not hide another that is far above its own") {
    // By hand: 10 ml of chloroform an hour (1.4923 g/ml, 119.37 g/mol) in 180 m³/h are 16.7 ppm; the 8-hour limit of
    // EH40/2005, 4th edition, is 2 ppm. White spirit has none.
    const ExposureReport report = exposure("chloroform 50, white spirit 50");
    CHECK_FALSE(report.share_of_limit.has_value());
    CHECK(warns(report, "exposure.no-limit"));
    REQUIRE(warns(report, "exposure.above-limit"));
    const auto said = std::ranges::find(report.warnings, "exposure.above-limit", &Warning::code);
    CHECK(said->text.find("at least 8.4 times") != std::string::npos);
    // 20 ml of toluene, half of it, are 12.5 ppm of 50 in the room, but 12.5 · 4.54 = 57 ppm at the swab.
    const ExposureReport toluene = exposure("toluene 50, white spirit 50");
    CHECK_FALSE(warns(toluene, "exposure.above-limit"));
    CHECK(warns(toluene, "exposure.near-field-above-limit"));
    CHECK_FALSE(warns(exposure("ethanol 50, white spirit 50"), "exposure.near-field-above-limit"));
}

TEST_CASE("Questions without sense are refused") {
    const auto code = [](const char* agent, double ml, double room, double changes) {
        return estimate_exposure({parse_mixture(agent).value(), ml, room, changes}).error().code;
    };
    CHECK(code("acetone 100", 0, 60, 3) == "exposure.bad-volume");
    CHECK(code("acetone 100", -1, 60, 3) == "exposure.bad-volume");
    CHECK(code("acetone 100", 20, 0, 3) == "exposure.bad-room");
    CHECK(code("acetone 100", 20, 60, 0) == "exposure.no-ventilation");
    CHECK(code("acetone 100", 20, 60, std::nan("")) == "exposure.no-ventilation");
    CHECK(code("styrene 100", 20, 60, 3) == "exposure.no-density");
}
