#include "tedge/base/uuid.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "fixed_sources.hpp"

using namespace tedge;

TEST_CASE("Ids are UUID version 7 with the time in front") {
    // RFC 9562, appendix A.6: 2022-02-22T19:22:22Z is 017F22E2-79B0-7….
    FixedClock clock("2022-02-22T19:22:22Z");
    SystemIdSource ids(clock);
    const std::string text = to_text(ids.next());
    CHECK(text.substr(0, 15) == "017f22e2-79b0-7");
    CHECK((text[19] == '8' || text[19] == '9' || text[19] == 'a' || text[19] == 'b'));
}

TEST_CASE("Ids ascend while the clock stands still, jumps back, and the counter runs over") {
    FixedClock clock;
    SystemIdSource ids(clock);
    Uuid last = ids.next();
    for (int i = 0; i < 10'000; ++i) {
        if (i == 5000) clock.advance(std::chrono::hours(-1));
        const Uuid next = ids.next();
        REQUIRE(last < next);
        last = next;
    }
}

TEST_CASE("Ids read back from their text") {
    const Uuid id = CountingIds(7).next();
    CHECK(parse_uuid(to_text(id)) == id);
    CHECK(parse_uuid("017F22E2-79B0-7CC3-98C4-DC0C0C07398F").has_value());  // RFC 9562, appendix A.6
    for (const char* bad : {"", "017F22E2-79B0-7CC3-98C4-DC0C0C07398", "017F22E279B07CC398C4DC0C0C07398F1234",
                            "017F22E2-79B0-7CC3-98C4-DC0C0C07398G"}) {
        CHECK(parse_uuid(bad).error().code == "uuid.not-an-id");
    }
}
