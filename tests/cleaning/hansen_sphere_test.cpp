#include "tedge/cleaning/hansen_sphere.hpp"

#include <catch2/catch.hpp>

using namespace tedge::cleaning;

TEST_CASE("RED of solvents against poly(methyl methacrylate)") {
    // Sphere 18.6/10.5/7.5, R0 8.6 (Hansen & Beerbower 1971, from memory); distances worked by hand.
    const HansenSphere* pmma = find_sphere("PMMA");
    REQUIRE(pmma != nullptr);
    struct Check {
        const char* name;
        double distance, red;
    };
    for (const Check& check : {Check{"acetone", 6.2, 0.72}, Check{"toluene", 10.7, 1.24}, Check{"ethanol", 13.3, 1.54},
                               Check{"n-hexane", 14.9, 1.73}, Check{"water", 35.8, 4.16}}) {
        INFO(check.name);
        const HansenParameters& solvent = find_solvent(check.name).value()->hansen.value().value;
        CHECK(hansen_distance(solvent, *pmma->centre) == Approx(check.distance).margin(0.051));
        CHECK(relative_energy_difference(solvent, *pmma).value() == Approx(check.red).margin(0.0051));
    }
}

TEST_CASE("Materials without published figures have none") {
    const HansenSphere* dammar = find_sphere("dammar");
    REQUIRE(dammar != nullptr);
    CHECK_FALSE(dammar->radius.has_value());
    CHECK(dammar->status.find("NOT FOUND") != std::string::npos);
    CHECK_FALSE(relative_energy_difference({15.5, 10.4, 7.0}, *dammar).has_value());
    CHECK(find_sphere("varnish") == nullptr);
}
