#include "tedge/cleaning/solvents.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace tedge;
using namespace tedge::cleaning;

namespace {

const Solvent& solvent(const char* name) {
    const auto found = find_solvent(name);
    INFO(name);
    REQUIRE(found.has_value());
    return **found;
}

}  // namespace

TEST_CASE("Hansen parameters turn into fractions as in a published methods note") {
    // Values of open data sets against Teas's own (Burke 1984, from memory): near for these, poor for toluene.
    struct Check {
        const char* name;
        double fd, fp, fh;
    };
    for (const Check& check :
         {Check{"acetone", 47.1, 31.6, 21.3}, Check{"ethanol", 35.9, 20.0, 44.1}, Check{"n-butanol", 42.7, 15.2, 42.1},
          Check{"dimethyl sulfoxide", 40.9, 36.4, 22.7}, Check{"NMP", 48.0, 32.8, 19.2}, Check{"DMF", 41.0, 32.3, 26.7},
          Check{"toluene", 84.1, 6.5, 9.3}}) {
        INFO(check.name);
        const TeasParameters teas = teas_from_hansen(solvent(check.name).hansen.value().value);
        CHECK(std::abs(teas.fd - check.fd) < 0.06);
        CHECK(std::abs(teas.fp - check.fp) < 0.06);
        CHECK(std::abs(teas.fh - check.fh) < 0.06);
    }
}

TEST_CASE("The table of Teas parameters is whole and tells how sure each row is") {
    CHECK(solvents().size() == 87);
    int recalled = 0;
    for (const Solvent& s : solvents()) {
        INFO(s.name);
        const TeasParameters& teas = s.teas.value;
        const double sum = teas.fd + teas.fp + teas.fh;
        CHECK_FALSE(s.teas.source.empty());
        CHECK(s.teas.from_memory() != s.teas.computed());
        // Published triples total exactly 100; computed ones are rounded one by one.
        CHECK(std::abs(sum - 100) <= (s.teas.computed() ? 1 : 0));
        recalled += s.teas.from_memory() ? 1 : 0;
    }
    CHECK(recalled == 73);
}

TEST_CASE("Computed Teas rows agree with the Hansen row they were computed from") {
    for (const Solvent& s : solvents()) {
        if (!s.teas.computed()) continue;
        INFO(s.name);
        REQUIRE(s.hansen.has_value());
        const TeasParameters again = teas_from_hansen(s.hansen->value);
        CHECK(std::abs(again.fd - s.teas.value.fd) <= 0.51);
        CHECK(std::abs(again.fp - s.teas.value.fp) <= 0.51);
        CHECK(std::abs(again.fh - s.teas.value.fh) <= 0.51);
    }
}

TEST_CASE("A solvent goes by each of its names") {
    CHECK(&solvent("IPA") == &solvent("isopropanol (2-propanol)"));
    CHECK(&solvent(" Isopropyl Alcohol ") == &solvent("2-propanol"));
    CHECK(&solvent("isooctane") == &solvent("2,2,4-trimethylpentane"));
    CHECK(&solvent("mineral spirits") == &solvent("White Spirit"));
    CHECK(&solvent("DCM") == &solvent("methylene chloride"));
    CHECK(short_name(solvent("2-propanol")) == "isopropanol");
    CHECK(short_name(solvent("acetone")) == "acetone");
    for (const Solvent& s : solvents()) CHECK(&solvent(short_name(s).c_str()) == &s);
}

TEST_CASE("An unknown solvent is named, with near names") {
    const auto unknown = find_solvent("isoctane");
    REQUIRE_FALSE(unknown.has_value());
    CHECK(unknown.error().code == "solvent.unknown");
    CHECK(unknown.error().values.at("name") == "isoctane");
    CHECK(unknown.error().values.at("near").find("isooctane") != std::string::npos);
    CHECK(find_solvent("propanole").error().values.at("near").find("propanol") != std::string::npos);
    CHECK(find_solvent("xyzzy quux").error().values.at("near").empty());
    CHECK_FALSE(find_solvent("").has_value());
}

TEST_CASE("Limits in ppm and mg/m³ agree by molar mass") {
    // mg/m³ = ppm · M / 24.055 at 20 °C; EH40 rounds, and takes some figures over from directives (2-methoxyethanol 6
    // %).
    int pairs = 0;
    double deviation = 0;
    for (const Solvent& s : solvents()) {
        const Hazards& hazards = s.hazards;
        if (!hazards.limit.ppm_8h || !hazards.limit.mg_m3_8h) continue;
        INFO(s.name);
        const double expected = *hazards.limit.ppm_8h * hazards.molar_mass_g_mol.value() / 24.05526;
        CHECK(std::abs(*hazards.limit.mg_m3_8h / expected - 1) < 0.07);
        deviation += std::abs(*hazards.limit.mg_m3_8h / expected - 1);
        ++pairs;
    }
    CHECK(pairs >= 45);
    CHECK(deviation / pairs < 0.01);
}

TEST_CASE("Ranges in the table are read by their middle, flash points by their lowest") {
    CHECK(solvent("white spirit").hazards.flash_point_c == 38);
    CHECK(solvent("ligroin").hazards.flash_point_c == 10 - 20);  // "<-10"
    CHECK(solvent("ligroin").hazards.density_g_ml.value() == Approx(0.705));
    CHECK(solvent("odourless mineral spirits").hazards.molar_mass_g_mol == 150);
    CHECK(solvent("white spirit").hazards.blend);
    CHECK_FALSE(solvent("white spirit").hazards.limit.ppm_8h.has_value());
    CHECK_FALSE(solvent("acetone").hazards.blend);
    CHECK(solvent("acetone").hazards.flash_point_c == -20);
    CHECK_FALSE(solvent("dichloromethane").hazards.flash_point_c.has_value());
}
