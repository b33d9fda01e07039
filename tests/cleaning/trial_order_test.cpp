#include "tedge/cleaning/trial_order.hpp"

#include <catch2/catch.hpp>

using namespace tedge::cleaning;

TEST_CASE("Trials go from mild to strong") {
    // The ladder reported by Lomax & Fisher 1990 (cyclohexane, cyclohexane/toluene, toluene, toluene/acetone, acetone).
    const std::vector<Mixture> shuffled{parse_mixture("acetone 100").value(),
                                        parse_mixture("cyclohexane 60, toluene 40").value(),
                                        parse_mixture("toluene 60, acetone 40").value(),
                                        parse_mixture("cyclohexane 100").value(), parse_mixture("toluene 100").value()};
    CHECK(mildest_first(shuffled) == std::vector<std::size_t>{3, 1, 4, 2, 0});
    CHECK(mildest_first({}).empty());
    CHECK(is_stronger(shuffled[0], shuffled[4]));
    CHECK_FALSE(is_stronger(shuffled[4], shuffled[0]));
    CHECK_FALSE(is_stronger(shuffled[0], shuffled[0]));
}

TEST_CASE("After a mixture that was too weak comes the next step of its series, else ten points more of the stronger") {
    const auto after = [](const char* text) {
        const auto next = next_stronger(parse_mixture(text).value());
        return next ? to_text(*next) : std::string();
    };
    // Steps as printed (resources/reference/series.csv: Feller 1976; Cremonesi 2004, both recalled).
    CHECK(after("toluene 25, cyclohexane 75") == to_text(parse_mixture("cyclohexane 50, toluene 50").value()));
    CHECK(after("ligroin 70, acetone 30") == to_text(parse_mixture("ligroin 60, acetone 40").value()));
    // In no printed series: by tenths, common practice.
    CHECK(after("acetone 30, isooctane 70") == "acetone 40, isooctane 60");
    CHECK(after("isooctane 5, acetone 95") == "acetone 100");
    CHECK(after("isooctane 100").empty());
    CHECK(after("water 100").empty());
    CHECK(after("ethanol 10, acetone 10, isooctane 80").empty());
    // The end of one series may be the beginning of another: acetone goes on towards ethanol.
    CHECK(after("acetone 100") == to_text(parse_mixture("acetone 75, ethanol 25").value()));
    CHECK(after("ethanol 100").empty());
}
