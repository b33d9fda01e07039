#include "tedge/cleaning/series.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tedge::cleaning;

namespace {

const TestSeries& series(const char* id) {
    const TestSeries* found = find_series(id);
    INFO(id);
    REQUIRE(found != nullptr);
    return *found;
}

double worst_deviation(const TestSeries& of) {
    double worst = 0;
    for (const SeriesStep& step : of.steps) {
        REQUIRE(step.published_fd.has_value());
        worst = std::max(worst, std::abs(*step.published_fd - step.teas.fd));
    }
    return worst;
}

}  // namespace

TEST_CASE("The Feller series meets its published fd") {
    // R. L. Feller 1976, composition and fd from memory: 96 to 60 by fours, then 55, 51, 47.
    const TestSeries& feller = series("feller");
    const std::vector<double> published{96, 92, 88, 84, 80, 76, 72, 68, 64, 60, 55, 51, 47};
    REQUIRE(feller.steps.size() == published.size());
    for (std::size_t i = 0; i < published.size(); ++i) CHECK(feller.steps[i].published_fd == published[i]);
    CHECK(worst_deviation(feller) <= 0.63);  // 0.6 after rounding to a tenth, at step 10
    CHECK(feller.steps.front().teas.fd == Approx(96));
    // The general table has cyclohexane at 94: without the series' own value the first step would be 2 low.
    CHECK(average_teas(feller.steps.front().mixture).fd == Approx(94));
}

TEST_CASE("The ligroin and acetone series meet their published fd") {
    // P. Cremonesi 2004, composition and fd from memory. Deviations as reckoned independently: LA none, LE and AE 0.5.
    CHECK(series("ligroin-acetone").steps.size() == 11);
    CHECK(worst_deviation(series("ligroin-acetone")) < 1e-9);
    CHECK(series("ligroin-ethanol").steps.size() == 11);
    CHECK(worst_deviation(series("ligroin-ethanol")) <= 0.5 + 1e-9);
    CHECK(series("acetone-ethanol").steps.size() == 5);
    CHECK(worst_deviation(series("acetone-ethanol")) <= 0.5 + 1e-9);
}

TEST_CASE("Every series runs from mild to strong and says how sure it is") {
    for (const TestSeries& of : test_series()) {
        INFO(of.id);
        CHECK(of.steps.size() >= 5);
        for (std::size_t i = 0; i < of.steps.size(); ++i) {
            CHECK_FALSE(of.steps[i].status.empty());
            if (i > 0) CHECK(of.steps[i].teas.fd < of.steps[i - 1].teas.fd);
        }
    }
    CHECK(series("isooctane-ethanol").steps[0].status.find("CONSTRUCTED") != std::string::npos);
    CHECK_FALSE(series("isooctane-ethanol").steps[0].published_fd.has_value());
    CHECK(find_series("nobody's") == nullptr);
}

TEST_CASE("The ladder of Lomax and Fisher lies where its compositions say") {
    // JAIC 29:2 (1990) 181-191: cyclohexane 60, toluene 40 began to act (fd 89.6); toluene 60, acetone 40 (66.8).
    const TestSeries& ladder = series("lomax-fisher");
    CHECK(ladder.steps.at(1).teas.fd == Approx(89.6));
    CHECK(ladder.steps.at(3).teas.fd == Approx(66.8));
}
