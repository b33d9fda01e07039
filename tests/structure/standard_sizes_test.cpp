#include "tedge/structure/standard_sizes.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace tedge::structure;

TEST_CASE("A picture of a standard format is known upright and lying") {
    // 92 × 73 cm is the French 30 figure (a printed table of sizes after Haaf 1987).
    const auto upright = nearest_standard_sizes(730, 920).value();
    const auto lying = nearest_standard_sizes(920, 730).value();
    REQUIRE(upright.size() == 5);
    CHECK(upright[0].size->name == "30 figure");
    CHECK(lying[0].size == upright[0].size);
    CHECK(upright[0].worst_deviation == 0);
    CHECK_FALSE(upright[0].maybe_cut_down);
    CHECK_FALSE(upright[0].size->from_memory());
    CHECK(std::ranges::is_sorted(upright, {}, &SizeMatch::worst_deviation));
}

TEST_CASE("The deviation is told with its sign") {
    // Half-length, 50 × 40 in = 1270 × 1016 mm.
    const auto match = nearest_standard_sizes(1010, 1275, 1).value().at(0);
    CHECK(match.size->name == "half-length");
    CHECK(match.size->status == "confirmed");
    CHECK(match.long_deviation_mm == Approx(5));
    CHECK(match.short_deviation_mm == Approx(-6));
    CHECK(match.worst_deviation == Approx(6.0 / 1016));
}

TEST_CASE("Every row in the table that is fit for it is found by its own size") {
    CHECK(standard_sizes().size() >= 68);
    for (const StandardSize& size : standard_sizes()) {
        INFO(size.system << " " << size.name);
        const auto match = nearest_standard_sizes(size.short_mm, size.long_mm, 1).value().at(0);
        CHECK(match.worst_deviation == 0);
        CHECK(match.size->long_mm == size.long_mm);
        CHECK(size.long_mm >= size.short_mm);
        CHECK_FALSE(size.status.empty());
    }
}

TEST_CASE("Rows that the table marks as unfit, and looms, are not matched") {
    const auto has = [](const char* name) {
        return std::ranges::any_of(standard_sizes(), [&](const StandardSize& s) { return s.name == name; });
    };
    CHECK_FALSE(has("small whole-length"));
    CHECK_FALSE(has("2 ell strip"));
    CHECK(has("kit-cat"));
    const auto head = std::ranges::find(standard_sizes(), "head", &StandardSize::name);
    REQUIRE(head != standard_sizes().end());
    CHECK(head->from_memory());
}

TEST_CASE("A picture short on one side may have been cut down") {
    // A half-length that lost 150 mm of its height: 1120 × 1016 mm.
    const auto before = possible_sizes_before_cutting(1016, 1120).value();
    const auto half_length =
        std::ranges::find_if(before, [](const SizeMatch& m) { return m.size->name == "half-length"; });
    REQUIRE(half_length != before.end());
    CHECK(half_length->long_deviation_mm == Approx(-150));
    // One that lost so much of its height that it lies now.
    const auto lying = possible_sizes_before_cutting(1016, 1000).value();
    CHECK(std::ranges::any_of(lying, [](const SizeMatch& m) { return m.size->name == "half-length"; }));
    // A whole one is not among those cut from its own format.
    const auto whole = possible_sizes_before_cutting(1016, 1270).value();
    CHECK(std::ranges::none_of(whole, [](const SizeMatch& m) { return m.size->name == "half-length"; }));
}

TEST_CASE("Sizes without extent are refused") {
    CHECK(nearest_standard_sizes(0, 100).error().code == "size.bad-size");
    CHECK(possible_sizes_before_cutting(100, -1).error().code == "size.bad-size");
}
