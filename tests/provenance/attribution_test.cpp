#include "tedge/provenance/attribution.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace tedge::provenance;

TEST_CASE("Terms of attribution stand from the master's own hand outward") {
    // The order of salerooms' glossaries: attributed to, studio, circle, (school), follower, manner, after.
    const auto order = [](const char* name) {
        const AttributionTerm* term = find_attribution_term(name);
        INFO(name);
        REQUIRE(term != nullptr);
        return term->order;
    };
    CHECK(order("attributed to") < order("studio of"));
    CHECK(order("Studio of") == order("workshop of"));
    CHECK(order("studio of") < order("circle of"));
    CHECK(order("circle of") < order("follower of"));
    CHECK(order("follower of") < order("manner of"));
    CHECK(order("manner of") < order("after"));
    CHECK(std::ranges::is_sorted(attribution_terms(), {}, &AttributionTerm::order));
    CHECK(find_attribution_term("in the taste of") == nullptr);
    CHECK(find_attribution_term("") == nullptr);
}

TEST_CASE("What is not confirmed about a term says so") {
    const AttributionTerm* attributed = find_attribution_term("attributed to");
    REQUIRE(attributed != nullptr);
    CHECK(attributed->aat_id.empty());
    CHECK(attributed->aat_source.find("UNCONFIRMED") != std::string::npos);
    CHECK_FALSE(attributed->about_inscription);
    CHECK(attribution_terms().back().about_inscription);
}
