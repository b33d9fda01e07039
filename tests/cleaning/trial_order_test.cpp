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
